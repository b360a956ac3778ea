/**
 * The table with a shot on it, to scale, as SVG with colours as attributes so that it can be saved as it is. Takes data
 * only.
 */
import type { Marked, ShotLayout } from "../../experiment/shot/shotLayout";
import type { TablePoint } from "../../bank/tableShape";
import type { Palette } from "../frame/palette";
import { toScale, type DrawnArea, type ToScale } from "../plots/toScale";
import { Surface } from "../plots/Surface";

export interface TableDrawingProps {
  readonly layout: ShotLayout;
  /** Outline of where the path may run; empty for none. */
  readonly band: readonly TablePoint[];
  readonly palette: Palette;
  readonly width: number;
  readonly tallest?: number;
  /** Shows the path and its marks only, larger, still to scale. */
  readonly close?: boolean;
  /** What the drawing says to those who do not see it. */
  readonly label: string;
}

interface Part {
  readonly layout: ShotLayout;
  readonly palette: Palette;
  readonly scale: ToScale;
}

/** How the drawing stands on a width. */
export function tableScale(layout: ShotLayout, close: boolean, width: number, tallest = Infinity): ToScale {
  const { frame, width: long, depth } = layout.table;
  const whole = { x: -frame, y: -frame, width: long + 2 * frame, height: depth + 2 * frame };
  return toScale(close ? closeUp(layout) : whole, width, tallest);
}

export function TableDrawing(props: TableDrawingProps) {
  const { layout, band, palette, width, tallest, close = false, label } = props;
  const scale = tableScale(layout, close, width, tallest);
  const part = { layout, palette, scale };
  return (
    <Surface label={label} drawing="table" width={scale.width} height={scale.height} palette={palette}>
      <Table {...part} />
      {band.length > 0 && (
        <path
          d={`${scale.line(band)}Z`}
          fill={palette.band}
          stroke={palette.accent}
          strokeWidth={0.5}
          strokeDasharray="3 3"
          data-part="band"
        />
      )}
      <Ways {...part} />
      {layout.marked && <Marks {...part} marked={layout.marked} />}
    </Surface>
  );
}

/** Rails, pockets and diamonds. */
function Table({ layout: { table }, palette, scale }: Part) {
  const { frame } = table;
  const [left, top] = scale.at({ x: -frame, y: -frame });
  const [x, y] = scale.at({ x: 0, y: 0 });
  const outer = { width: scale.length(table.width + 2 * frame), height: scale.length(table.depth + 2 * frame) };
  return (
    <>
      <rect
        x={left + 1}
        y={top + 1}
        width={outer.width - 2}
        height={outer.height - 2}
        rx={scale.length(frame * 0.4)}
        fill="none"
        stroke={palette.faint}
      />
      <rect
        x={x}
        y={y}
        width={scale.length(table.width)}
        height={scale.length(table.depth)}
        fill="none"
        stroke={palette.ink}
        strokeWidth={1.5}
      />
      {table.pockets.map(({ name, radius, ...pocket }) => (
        <Disc
          key={name}
          scale={scale}
          place={pocket}
          radius={radius}
          fill={palette.paper}
          stroke={palette.ink}
          data-part="pocket"
        />
      ))}
      {table.diamonds.map((diamond) => {
        const at = scale.at(diamond).join(" ");
        return <path key={at} d={`M${at}m0 -4l3 4l-3 4l-3 -4z`} fill={palette.faint} data-part="diamond" />;
      })}
    </>
  );
}

/** The chord, the ways of both balls, and the balls at their ends. */
function Ways({ layout, palette, scale }: Part) {
  const { ballRadius, touch, approach, spot, cueBall, cueBallHits, path, marked } = layout;
  const ball = { scale, radius: ballRadius, fill: "none", stroke: palette.ink };
  return (
    <>
      {marked && (
        <path d={scale.line(marked.chord)} fill="none" stroke={palette.ink} strokeDasharray="6 4" data-part="chord" />
      )}
      <path d={scale.line(approach)} fill="none" stroke={palette.point} strokeWidth={1.5} data-part="approach" />
      {spot && <Disc {...ball} place={spot} stroke={palette.accent} data-part="spot" />}
      {cueBall && cueBallHits && (
        <>
          <path
            d={scale.line([cueBall, cueBallHits])}
            fill="none"
            stroke={palette.point}
            strokeWidth={1.5}
            strokeDasharray="2 3"
            data-part="cue-path"
          />
          <Disc {...ball} place={cueBallHits} strokeDasharray="2 3" />
          <Disc {...ball} place={cueBall} fill={palette.ink} fillOpacity={0.15} data-part="cue-ball" />
        </>
      )}
      <path d={scale.line(path)} fill="none" stroke={palette.accent} strokeWidth={2} data-part="path" />
      <Disc {...ball} place={touch} stroke={palette.accent} />
      {marked && <Disc {...ball} place={marked.chord[1]} stroke={palette.accent} />}
    </>
  );
}

function Marks({ layout, palette, scale, marked }: Part & { readonly marked: Marked }) {
  const { nearMark, farMark, gates, obstacle, clearance } = marked;
  const cross = (place: TablePoint) => {
    const at = scale.at(place).join(" ");
    return `M${at}m-5 0h10M${at}m0 -5v10`;
  };
  return (
    <>
      {gates.map((gate, i) => (
        <Disc
          key={i}
          scale={scale}
          place={gate}
          radius={layout.ballRadius}
          fill={palette.point}
          fillOpacity={0.35}
          stroke={palette.point}
          data-part="gate"
        />
      ))}
      <path
        d={`${cross(nearMark)}${cross(farMark)}`}
        fill="none"
        stroke={palette.ink}
        strokeWidth={1.5}
        data-part="marks"
      />
      <Disc
        scale={scale}
        place={obstacle}
        radius={obstacle.radius}
        fill={clearance < 0 ? palette.accent : palette.ink}
        fillOpacity={0.75}
        stroke={palette.ink}
        data-part="obstacle"
      />
    </>
  );
}

interface DiscProps extends Omit<React.SVGProps<SVGCircleElement>, "scale"> {
  readonly scale: ToScale;
  readonly place: TablePoint;
  /** In m. */
  readonly radius: number;
  readonly "data-part"?: string;
}

function Disc({ scale, place, radius, ...look }: DiscProps) {
  const [x, y] = scale.at(place);
  return <circle cx={x} cy={y} r={scale.length(radius)} {...look} />;
}

/**
 * A box about the path, the gates and the obstacle, with a ball's diameter to spare, and not so narrow that it stands
 * far higher than wide.
 */
function closeUp({ path, touch, marked, spot, ballRadius }: ShotLayout): DrawnArea {
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
