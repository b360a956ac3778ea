/** A plan as points, and its chance against the number of shots. */
import { expect, it } from "vitest";
import { chanceCurve, chanceOf } from "../../../src/experiment/plan/chanceCurve";
import { makePlan, type PlanWish } from "../../../src/experiment/plan/plan";
import { pointsOfPlan } from "../../../src/experiment/plan/planPoints";

const wish: PlanWish = {
  kind: "all",
  factors: [
    { heading: "Speed (mph)", levels: [8, 5] },
    { heading: "Cloth", levels: ["worn", "new"] },
  ],
  replicates: 2,
  tables: ["North", "Window"],
  sessions: 1,
  warmUps: 3,
  seed: 7,
};

it("has every shot once, by session and settings, warm-ups aside, numbers from the least on", () => {
  const { settings, blocks } = pointsOfPlan(makePlan(wish));
  expect(settings[0]?.levels).toEqual(["5", "8"]);
  expect(blocks.map(({ name, points }) => [name, points.length])).toEqual([
    ["North 1", 4],
    ["Window 1", 4],
  ]);
  const all = blocks.flatMap(({ points }) => points);
  expect(new Set(all.map(({ at }) => at.join(" "))).size).toBe(4);
  expect(all.some(({ done, next }) => done || next)).toBe(false);
});

it("rises with the shots, and goes through the plan as it is", () => {
  const difference = { difference: 0.125, spread: 0.1 };
  const steps = chanceCurve(wish, difference);
  let step = steps.next();
  while (!step.done) step = steps.next();
  const places = step.value;
  const chances = places.map(({ chance }) => chance ?? NaN);
  expect(chances).toEqual([...chances].sort((a, b) => a - b));
  expect(places).toContainEqual(chanceOf(makePlan(wish), difference));
});
