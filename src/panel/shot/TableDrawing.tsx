/**
 * The table with a shot on it, to scale, as SVG with colours as attributes so that it can be saved as it is. Takes data
 * only.
 */
import type { ShotLayout } from "../../experiment/shot/shotLayout";
import type { TablePoint } from "../../bank/tableShape";
import type { Palette } from "../frame/palette";

export interface TableDrawingProps {
  readonly layout: ShotLayout;
  /** Outline of where the path may run; empty for none. */
  readonly band: readonly TablePoint[];
  readonly palette: Palette;
  readonly width: number;
  /** Shows the path and its marks only, larger, still to scale. */
  readonly close?: boolean;
  /** What the drawing says to those who do not see it. */
  readonly label: string;
}

/** SVG units per m. */
const SCALE = 400;
const FONT = "Segoe UI, Helvetica, Arial, sans-serif";

const round = (value: number) => Math.round(value * 100) / 100;
const at = ({ x, y }: TablePoint) => `${round(x * SCALE)} ${round(y * SCALE)}`;
const lineOf = (places: readonly TablePoint[]) =>
  places.map((place, i) => `${i === 0 ? "M" : "L"}${at(place)}`).join("");

export function TableDrawing({ layout, band, palette, width, close = false, label }: TableDrawingProps) {
  const { table, ballRadius, touch, approach, spot, cueBall, cueBallHits, path, marked } = layout;
  const frame = table.frame;
  const whole = { x: -frame, y: -frame, width: table.width + 2 * frame, height: table.depth + 2 * frame };
  const { x, y, width: across, height: down } = close ? closeUp(layout) : whole;
  const view = { x: x * SCALE, y: y * SCALE, width: across * SCALE, height: down * SCALE };
  const height = (width * view.height) / view.width;
  const thin = view.width / width;
  const ball = ballRadius * SCALE;
  const circle = (place: TablePoint, radius: number, rest: Record<string, unknown>) => (
    <circle cx={round(place.x * SCALE)} cy={round(place.y * SCALE)} r={round(radius)} {...rest} />
  );
  const outline = { fill: "none", stroke: palette.ink, strokeWidth: thin };
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      width={width}
      height={round(height)}
      viewBox={Object.values(view).map(round).join(" ")}
      fontFamily={FONT}
      role="img"
      aria-label={label}
      data-drawing="table"
    >
      <rect
        x={round(view.x)}
        y={round(view.y)}
        width={round(view.width)}
        height={round(view.height)}
        fill={palette.paper}
      />
      <rect
        x={round(whole.x * SCALE + thin)}
        y={round(whole.y * SCALE + thin)}
        width={round(whole.width * SCALE - 2 * thin)}
        height={round(whole.height * SCALE - 2 * thin)}
        rx={round(frame * SCALE * 0.4)}
        fill="none"
        stroke={palette.faint}
        strokeWidth={thin}
      />
      <rect
        x={0}
        y={0}
        width={round(table.width * SCALE)}
        height={round(table.depth * SCALE)}
        fill="none"
        stroke={palette.ink}
        strokeWidth={1.5 * thin}
      />
      {table.pockets.map((pocket) => (
        <circle
          key={at(pocket)}
          cx={round(pocket.x * SCALE)}
          cy={round(pocket.y * SCALE)}
          r={round(pocket.radius * SCALE)}
          fill={palette.paper}
          stroke={palette.ink}
          strokeWidth={thin}
          data-part="pocket"
        />
      ))}
      {table.diamonds.map((diamond) => (
        <path
          key={at(diamond)}
          d={`M${at(diamond)}m0 ${-4 * thin}l${3 * thin} ${4 * thin}l${-3 * thin} ${4 * thin}l${-3 * thin} ${-4 * thin}z`}
          fill={palette.faint}
          data-part="diamond"
        />
      ))}
      {band.length > 0 && (
        <path
          d={`${lineOf(band)}Z`}
          fill={palette.band}
          stroke={palette.accent}
          strokeWidth={0.5 * thin}
          strokeDasharray={`${3 * thin} ${3 * thin}`}
          data-part="band"
        />
      )}
      {marked && (
        <path
          d={lineOf(marked.chord)}
          fill="none"
          stroke={palette.ink}
          strokeWidth={thin}
          strokeDasharray={`${6 * thin} ${4 * thin}`}
          data-part="chord"
        />
      )}
      <path d={lineOf(approach)} fill="none" stroke={palette.point} strokeWidth={1.5 * thin} data-part="approach" />
      {spot && circle(spot, ball, { ...outline, stroke: palette.accent, "data-part": "spot" })}
      {cueBall && cueBallHits && (
        <>
          <path
            d={lineOf([cueBall, cueBallHits])}
            fill="none"
            stroke={palette.point}
            strokeWidth={1.5 * thin}
            strokeDasharray={`${2 * thin} ${3 * thin}`}
            data-part="cue-path"
          />
          {circle(cueBallHits, ball, { ...outline, strokeDasharray: `${2 * thin} ${3 * thin}` })}
          {circle(cueBall, ball, { ...outline, fill: palette.ink, fillOpacity: 0.15, "data-part": "cue-ball" })}
        </>
      )}
      <path d={lineOf(path)} fill="none" stroke={palette.accent} strokeWidth={2 * thin} data-part="path" />
      {circle(touch, ball, { ...outline, stroke: palette.accent })}
      {marked && (
        <>
          {circle(marked.chord[1], ball, { ...outline, stroke: palette.accent })}
          {marked.gates.map((gate, i) => (
            <circle
              key={i}
              cx={round(gate.x * SCALE)}
              cy={round(gate.y * SCALE)}
              r={round(ball)}
              fill={palette.point}
              fillOpacity={0.35}
              stroke={palette.point}
              strokeWidth={thin}
              data-part="gate"
            />
          ))}
          <path
            d={`${cross(marked.nearMark, 5 * thin)}${cross(marked.farMark, 5 * thin)}`}
            fill="none"
            stroke={palette.ink}
            strokeWidth={1.5 * thin}
            data-part="marks"
          />
          {circle(marked.obstacle, marked.obstacle.radius * SCALE, {
            fill: marked.clearance < 0 ? palette.accent : palette.ink,
            fillOpacity: 0.75,
            stroke: palette.ink,
            strokeWidth: thin,
            "data-part": "obstacle",
          })}
        </>
      )}
    </svg>
  );
}

function cross(place: TablePoint, arm: number): string {
  return `M${at(place)}m${-arm} 0h${2 * arm}M${at(place)}m0 ${-arm}v${2 * arm}`;
}

/**
 * A box about the path, the gates and the obstacle, with a ball's diameter to spare, and not so narrow that it stands
 * far higher than wide.
 */
function closeUp({ path, touch, marked, spot, ballRadius }: ShotLayout): {
  x: number;
  y: number;
  width: number;
  height: number;
} {
  const places = [
    ...path,
    touch,
    ...(path.length === 0 && spot ? [spot] : []),
    ...(marked ? [...marked.gates, ...marked.chord, marked.obstacle, marked.farMark] : []),
  ];
  const spare = 2 * ballRadius;
  const left = Math.min(...places.map(({ x }) => x)) - spare;
  const right = Math.max(...places.map(({ x }) => x)) + spare;
  const top = Math.min(...places.map(({ y }) => y)) - spare;
  const bottom = Math.max(...places.map(({ y }) => y)) + spare;
  const height = bottom - top;
  const width = Math.max(right - left, height / 1.4);
  return { x: (left + right - width) / 2, y: top, width, height };
}
