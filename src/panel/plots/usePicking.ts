/** Pointer and keys over a figure: which of its points or intervals is looked at, and what is done with it. */
import { useEffect, useState, type KeyboardEvent, type MouseEvent } from "react";
import type { Figure } from "./figure";
import { figureFrame, intervalsFrame } from "./figureScales";

/** Who is told what was picked. */
export interface Picking {
  readonly onPick?: ((row: number) => void) | undefined;
  /** Opens another figure by its id. */
  readonly onOpen?: ((id: string) => void) | undefined;
}

/** Of the drawing, in pixels. */
interface Size {
  readonly width: number;
  readonly height: number;
}

/** How near the pointer must come to a point, in pixels. */
const REACH = 12;
const STEPS: Readonly<Record<string, number>> = {
  ArrowRight: 1,
  ArrowUp: 1,
  ArrowLeft: -1,
  ArrowDown: -1,
  PageDown: -10,
  PageUp: 10,
};
/** Lying intervals are read from the top down. */
const STEPS_DOWN: Readonly<Record<string, number>> = { ...STEPS, ArrowUp: -1, ArrowDown: 1 };

/** @returns the place of what is looked at, and what the drawing's frame listens to */
export function usePicking(figure: Figure, size: Size, { onPick, onOpen }: Picking) {
  const [active, setActive] = useState<number>();
  const { intervals, points } = figure;
  const order = intervals?.length ?? points.length;
  useEffect(() => setActive(undefined), [figure.id]);
  const pointed = (event: MouseEvent): number | undefined => {
    const box = event.currentTarget.getBoundingClientRect();
    return nearest(figure, size, event.clientX - box.left, event.clientY - box.top);
  };
  const pick = (index: number) => {
    const opens = intervals?.[index]?.opens;
    if (opens !== undefined) onOpen?.(opens);
    const point = intervals ? undefined : points[index];
    if (point) onPick?.(point.row);
  };
  const keys = (event: KeyboardEvent) => {
    const step = (intervals ? STEPS_DOWN : STEPS)[event.key];
    if (step !== undefined && order > 0) {
      event.preventDefault();
      setActive((before) => (before === undefined ? 0 : (before + step + order) % order));
    } else if ((event.key === "Enter" || event.key === " ") && active !== undefined) {
      event.preventDefault();
      pick(active);
    }
  };
  return {
    active,
    listeners: {
      onKeyDown: keys,
      onPointerMove: (event: MouseEvent) => setActive(pointed(event)),
      onClick: (event: MouseEvent) => {
        const index = pointed(event);
        if (index !== undefined) pick(index);
      },
    },
  };
}

/** The point or interval under the pointer. @param left from the drawing's edges, in pixels */
function nearest(figure: Figure, { width, height }: Size, left: number, top: number): number | undefined {
  if (figure.intervals) return intervalsFrame(figure, figure.intervals, width).at(top);
  const { x, y } = figureFrame(figure, width, height).scales;
  let best: number | undefined;
  let distance = REACH ** 2;
  figure.points.forEach((point, index) => {
    const away = (x(point.x) - left) ** 2 + (figure.needles ? 0.01 : 1) * (y(point.y) - top) ** 2;
    if (away < distance) {
      best = index;
      distance = away;
    }
  });
  return best;
}
