/** Lines of equal height over two settings, labelled, the higher the darker. */
import type { Said } from "../../experiment/language/said";
import { contours } from "d3-contour";
import { scaleLinear } from "d3-scale";
import { useId } from "react";
import type { Palette } from "../frame/palette";
import { ticksOf } from "./axis";
import type { FigureSurface } from "./figure";
import type { FigureFrame } from "./figureScales";
import { hundredths } from "./hundredths";
import { Words } from "./Words";

interface Props {
  readonly surface: FigureSurface;
  readonly frame: FigureFrame;
  readonly palette: Palette;
}

/** So many lines about. */
const LINES = 6;

export function SurfaceMark({ surface: { x, y, z }, frame, palette }: Props) {
  const id = useId();
  const heights = z.filter(Number.isFinite);
  const scale = scaleLinear([Math.min(...heights), Math.max(...heights)], [0, 1]);
  const ticks = ticksOf(scale, LINES);
  const shapes = contours()
    .size([x.length, y.length])
    .thresholds(ticks.map(({ at }) => at))([...z]);
  // The grid's places lie in the middle of its cells.
  const across = scaleLinear([0.5, x.length - 0.5], [frame.x(x[0] ?? 0), frame.x(x.at(-1) ?? 1)]);
  const up = scaleLinear([0.5, y.length - 0.5], [frame.y(y[0] ?? 0), frame.y(y.at(-1) ?? 1)]);
  const at = ([gridX = 0, gridY = 0]: readonly number[]) => [hundredths(across(gridX)), hundredths(up(gridY))] as const;
  const box = {
    x: across(0.5),
    y: up(y.length - 0.5),
    width: across(x.length - 0.5) - across(0.5),
    height: up(0.5) - up(y.length - 0.5),
  };
  return (
    <g data-mark="surface">
      <clipPath id={id}>
        <rect {...box} />
      </clipPath>
      <g clipPath={`url(#${id})`}>
        {shapes.map(({ value, coordinates }) => (
          <path
            key={value}
            d={coordinates
              .flat()
              .map((ring) => `M${ring.map((place) => at(place).join(" ")).join("L")}Z`)
              .join("")}
            fill={palette.accent}
            fillOpacity={0.09}
            stroke={palette.accent}
            strokeWidth={1}
          />
        ))}
      </g>
      {shapes.map(({ value, coordinates }, i) => {
        const place = labelPlace(coordinates.flat().flat(), x.length, y.length, i);
        const text = ticks.find((tick) => tick.at === value)?.text ?? "";
        return place && <Label key={value} at={at(place)} text={text} palette={palette} />;
      })}
    </g>
  );
}

interface LabelProps extends Pick<Props, "palette"> {
  readonly at: readonly [number, number];
  readonly text: Said;
}

function Label({ at: [x, y], text, palette }: LabelProps) {
  return (
    <text
      x={x}
      y={y}
      dy="0.35em"
      textAnchor="middle"
      fill={palette.accent}
      stroke={palette.paper}
      strokeWidth={3}
      paintOrder="stroke"
    >
      <Words of={text} />
    </text>
  );
}

/** A place on the line well inside the grid, for one line here and for the next one there. */
function labelPlace(places: readonly number[][], columns: number, rows: number, index: number) {
  const inside = places.filter(
    ([x = 0, y = 0]) => x > columns * 0.1 && x < columns * 0.9 && y > rows * 0.1 && y < rows * 0.9,
  );
  return inside[Math.floor(inside.length * (index % 2 === 0 ? 0.35 : 0.65))];
}
