/** What stands for what in every figure: bands, lines, points, and values with their intervals. */
import type { Said } from "../../experiment/language/said";
import { symbol, symbolDiamond } from "d3-shape";
import type { Palette } from "../frame/palette";
import type { FigureLine, FigurePlace, FigurePoint, FigureValue } from "./figure";
import type { FigureFrame } from "./figureScales";
import { Words } from "./Words";

interface Paper {
  readonly frame: FigureFrame;
  readonly palette: Palette;
}

interface Band {
  readonly xs: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
}

export function BandMark({ xs, low, high, frame, palette }: Paper & Band) {
  return (
    <path
      d={frame.band(xs, low, high)}
      fill={palette.band}
      stroke={palette.accent}
      strokeWidth={0.75}
      strokeDasharray="3 3"
    />
  );
}

/** A band by its two edges alone, about one that is filled. */
export function EdgesMark({ xs, low, high, frame, palette }: Paper & Band) {
  return (
    <path
      d={`${frame.path(xs, high)}${frame.path(xs, low)}`}
      fill="none"
      stroke={palette.accent}
      strokeWidth={1.25}
      strokeDasharray="9 5"
    />
  );
}

/** What a line is called, above its end. */
export function LineName({ line, name, frame, palette }: Paper & { readonly line: FigureLine; readonly name: Said }) {
  const end = line.y.at(-1) ?? NaN;
  if (!Number.isFinite(end)) return null;
  return (
    <text
      x={frame.right - 2}
      y={frame.y(end) - 6}
      textAnchor="end"
      fill={palette.accent}
      stroke={palette.paper}
      strokeWidth={4}
      paintOrder="stroke"
      fontWeight={600}
    >
      <Words of={name} />
    </text>
  );
}

/** A point that is singled out, with what it is called beside it, on the side that has room. */
export function PointName({
  point,
  name,
  frame,
  palette,
}: Paper & { readonly point: FigurePoint; readonly name: Said }) {
  const [x, y] = [frame.x(point.x), frame.y(point.y)];
  const ends = x > (frame.left + frame.right) / 2;
  return (
    <g>
      <circle cx={x} cy={y} r={6} fill={palette.paper} stroke={palette.point} strokeWidth={2.5} />
      <text
        x={ends ? x - 10 : x + 10}
        y={y + 14}
        textAnchor={ends ? "end" : "start"}
        fill={palette.ink}
        fontWeight={600}
      >
        <Words of={name} />
      </text>
    </g>
  );
}

export function NeedleMark({ point, frame, palette }: Paper & { readonly point: FigurePoint }) {
  return <path d={`M${frame.x(point.x)} ${frame.y(0)}V${frame.y(point.y)}`} stroke={palette.point} strokeWidth={1.5} />;
}

export function PointMark({
  point,
  radius,
  frame,
  palette,
}: Paper & { readonly point: FigurePoint; readonly radius: number }) {
  return <circle cx={frame.x(point.x)} cy={frame.y(point.y)} r={radius} fill={palette.point} fillOpacity={0.55} />;
}

const DIAMOND = symbol(symbolDiamond, 110)() ?? "";
/** Room that the name of a place needs, in pixels. */
const NAME_ROOM = 120;

/** A place that is proposed. */
export function PlaceMark({ place: { x, y, name }, frame, palette }: Paper & { readonly place: FigurePlace }) {
  const [left, top] = [frame.x(x), frame.y(y)];
  const ends = left > frame.right - NAME_ROOM;
  return (
    <g data-mark="place">
      <path
        d={DIAMOND}
        transform={`translate(${left} ${top})`}
        fill={palette.ink}
        stroke={palette.paper}
        strokeWidth={1.5}
      />
      <text
        x={ends ? left - 9 : left + 9}
        y={top < frame.top + 12 ? top + 14 : top - 7}
        textAnchor={ends ? "end" : "start"}
        fill={palette.ink}
        stroke={palette.paper}
        strokeWidth={3}
        paintOrder="stroke"
        fontWeight={600}
      >
        <Words of={name} />
      </text>
    </g>
  );
}

/** The point that is looked at. */
export function ChosenMark({ point, frame, palette }: Paper & { readonly point: FigurePoint }) {
  return <circle cx={frame.x(point.x)} cy={frame.y(point.y)} r={7} fill="none" stroke={palette.ink} strokeWidth={2} />;
}

/** A value at a place along the x axis with its interval upright. */
export function MeanMark({ at, of, frame, palette }: Paper & { readonly at: number; readonly of: FigureValue }) {
  const x = frame.x(at);
  const { value, low, high } = of;
  return (
    <g stroke={palette.accent} strokeWidth={2}>
      {low !== null && high !== null && (
        <path
          d={`M${x} ${frame.y(low)}V${frame.y(high)}M${x - 7} ${frame.y(low)}h14M${x - 7} ${frame.y(high)}h14`}
          fill="none"
        />
      )}
      <rect x={x - 4} y={frame.y(value) - 4} width={8} height={8} fill={palette.paper} />
    </g>
  );
}

/** A value at a height with its interval lying. */
export function SpanMark({ at, of, frame, palette }: Paper & { readonly at: number; readonly of: FigureValue }) {
  const y = frame.y(at);
  const { value, low, high } = of;
  return (
    <g stroke={palette.accent} strokeWidth={2}>
      {low !== null && high !== null && (
        <path
          d={`M${frame.x(low)} ${y}H${frame.x(high)}M${frame.x(low)} ${y - 7}v14M${frame.x(high)} ${y - 7}v14`}
          fill="none"
        />
      )}
      <rect x={frame.x(value) - 4} y={y - 4} width={8} height={8} fill={palette.paper} />
    </g>
  );
}
