/** Where a figure's marks stand on a drawing. */
import { expect, it } from "vitest";
import type { Figure } from "../../src/panel/plots/figure";
import { drawnPoints, figureFrame } from "../../src/panel/plots/figureScales";

const points = (count: number) => Array.from({ length: count }, (_, i) => ({ x: i, y: 2 * i, row: i, label: "" }));
const figure = (parts: Partial<Figure>) =>
  ({ title: "", caption: "", xLabel: "", yLabel: "", points: [], ...parts }) as Figure;

it("holds every mark within the margins, the first at the bottom left", () => {
  const {
    scales: { x, y },
    margin,
  } = figureFrame(figure({ points: points(11), rule: -4 }), 400, 300);
  for (const { x: at, y: up } of points(11)) {
    expect(x(at)).toBeGreaterThanOrEqual(margin.left);
    expect(x(at)).toBeLessThanOrEqual(400 - margin.right);
    expect(y(up)).toBeGreaterThanOrEqual(margin.top);
    expect(y(up)).toBeLessThanOrEqual(300 - margin.bottom);
  }
  expect(y(-4)).toBeLessThanOrEqual(300 - margin.bottom);
  expect(x(10)).toBeGreaterThan(x(0));
  expect(y(20)).toBeLessThan(y(0));
});

it("puts levels side by side in even steps, and leaves room for many names", () => {
  const { scales: few, margin } = figureFrame(figure({ levels: ["a", "b", "c"] }), 400, 300);
  expect(few.x(1) - few.x(0)).toBeCloseTo(few.x(2) - few.x(1), 9);
  expect(few.x(0) - margin.left).toBeCloseTo((few.x(1) - few.x(0)) / 2, 9);
  const many = figureFrame(figure({ levels: ["a", "b", "c", "d", "e"] }), 400, 300);
  expect(many.margin.bottom).toBeGreaterThan(margin.bottom);
});

it("draws all points up to 4,000, and beyond that an even part of them", () => {
  expect(drawnPoints(points(4000))).toHaveLength(4000);
  const part = drawnPoints(points(9000));
  expect(part).toHaveLength(4000);
  const steps = part.slice(1).map(({ x }, i) => x - part[i].x);
  expect([Math.min(...steps), Math.max(...steps)]).toEqual([2, 3]);
});
