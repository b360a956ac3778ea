/** A part of a table to scale on a drawing: one number of pixels for a metre in both directions. */
import { hundredths } from "./hundredths";

export interface DrawnArea {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

interface Place {
  readonly x: number;
  readonly y: number;
}

export interface ToScale {
  readonly width: number;
  readonly height: number;
  /** Pixels of a length. */
  length(metres: number): number;
  /** Pixels of a place from the drawing's left top. */
  at(place: Place): readonly [number, number];
  /** A line through places, for a path. */
  line(places: readonly Place[]): string;
}

/**
 * As large as it can be within the width and the height.
 * @example toScale({ x: 1, y: 0, width: 2, height: 1 }, 200, 500).at({ x: 2, y: 0.5 }) // [100, 50]
 */
export function toScale(region: DrawnArea, widest: number, tallest: number): ToScale {
  const scale = Math.min(widest / region.width, tallest / region.height);
  const at = ({ x, y }: Place) => [hundredths((x - region.x) * scale), hundredths((y - region.y) * scale)] as const;
  return {
    width: hundredths(region.width * scale),
    height: hundredths(region.height * scale),
    length: (metres) => hundredths(metres * scale),
    at,
    line: (places) => places.map((place, i) => `${i === 0 ? "M" : "L"}${at(place).join(" ")}`).join(""),
  };
}
