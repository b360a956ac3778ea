/** What is drawn over a film's picture: lines between marks, the ball's places and path, marks that can be moved. */
import type { KeyboardEvent, PointerEvent } from "react";
import type { Point } from "../../bank/pathClearance";
import type { Palette } from "../frame/palette";
import type { Mark } from "./useMarks";

const WHITE = "#ffffff";
const BLACK = "#000000";
const YELLOW = "#ffd84d";
/** Half the side of what a finger has to meet, in pixels of the screen. */
const TARGET = 14;

/** A pixel of the film is seen with its middle half a pixel on. */
const seenAt = ({ x, y }: Point): Point => ({ x: x + 0.5, y: y + 0.5 });
const line = (places: readonly Point[]) =>
  places
    .map(seenAt)
    .map(({ x, y }) => `${x},${y}`)
    .join(" ");

interface LinesProps {
  readonly lines: readonly (readonly Point[])[];
  readonly palette: Palette;
  /** Pixels of the film in one of the screen. */
  readonly unit: number;
}

/** The table's outline and the check length. */
export function MarkLines({ lines, palette, unit }: LinesProps) {
  return lines.map((places, i) => (
    <polyline
      key={i}
      points={line(places)}
      fill="none"
      stroke={palette.paper}
      strokeWidth={1.5 * unit}
      strokeDasharray={`${5 * unit} ${3 * unit}`}
      pointerEvents="none"
    />
  ));
}

interface BallProps {
  readonly points: readonly Point[];
  readonly leftOut: ReadonlySet<number>;
  readonly path: readonly Point[];
  readonly palette: Palette;
  readonly unit: number;
}

/** The ball's places so far, hollow where they lie off the path, and the fitted path. */
export function BallPlaces({ points, leftOut, path, palette, unit }: BallProps) {
  const strokes = [
    [BLACK, 3],
    [palette.accent, 1.8],
  ] as const;
  return (
    <g pointerEvents="none">
      {points.map(seenAt).map(({ x, y }, i) => (
        <circle
          key={i}
          cx={x}
          cy={y}
          r={2 * unit}
          fill={leftOut.has(i) ? "none" : WHITE}
          stroke={BLACK}
          strokeWidth={0.7 * unit}
        />
      ))}
      {path.length > 0 &&
        strokes.map(([stroke, width]) => (
          <polyline
            key={stroke}
            points={line(path)}
            fill="none"
            stroke={stroke}
            strokeWidth={width * unit}
            {...(stroke !== BLACK && { "data-part": "path" })}
          />
        ))}
    </g>
  );
}

interface RingProps {
  readonly mark: Mark;
  readonly unit: number;
  onKeyDown(event: KeyboardEvent): void;
  onPointerDown(event: PointerEvent<SVGGElement>): void;
}

export function MarkRing({ mark, unit, onKeyDown, onPointerDown }: RingProps) {
  const { x, y } = seenAt(mark);
  const ring = { cx: x, cy: y, r: 6 * unit, fill: "none" };
  return (
    <g
      data-mark={mark.id}
      tabIndex={0}
      role="button"
      aria-label={`${mark.name}, at ${Math.round(mark.x)}, ${Math.round(mark.y)} pixels. Arrow keys move it, with Shift by ten; Delete takes it away.`}
      onKeyDown={onKeyDown}
      onPointerDown={onPointerDown}
    >
      <circle cx={x} cy={y} r={TARGET * unit} fill="transparent" />
      <circle {...ring} stroke={BLACK} strokeWidth={3.4 * unit} />
      <circle data-ring {...ring} stroke={YELLOW} strokeWidth={1.8 * unit} />
      <text
        x={x + 9 * unit}
        y={y - 7 * unit}
        fontSize={13 * unit}
        fontWeight={600}
        fill={YELLOW}
        stroke={BLACK}
        strokeWidth={2.5 * unit}
        paintOrder="stroke"
      >
        {mark.text}
      </text>
    </g>
  );
}
