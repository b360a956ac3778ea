/**
 * Draws a figure as SVG, with colours as attributes so that the drawing can be saved as it is.
 */
import { ticksOf, type Tick } from "./axis";
import { pathThrough, unbroken, type Figure } from "./figure";
import { drawnPoints, figureScales } from "./figureScales";
import { IntervalsDrawing } from "./IntervalsDrawing";
import { FONT, FONT_SIZE, type Palette } from "../frame/palette";

export interface FigureDrawingProps {
  readonly figure: Figure;
  readonly width: number;
  readonly height: number;
  readonly palette: Palette;
  /** Index into figure.points of the point that is looked at. */
  readonly active?: number;
}

export function FigureDrawing(props: FigureDrawingProps) {
  return props.figure.intervals ? (
    <IntervalsDrawing {...props} intervals={props.figure.intervals} />
  ) : (
    <PointsDrawing {...props} />
  );
}

function PointsDrawing({ figure, width, height, palette, active }: FigureDrawingProps) {
  const { x, y, margin } = figureScales(figure, width, height);
  const { line, means, levels, rule, needles, envelope, spans } = figure;
  const points = drawnPoints(figure.points);
  const pieces = line ? unbroken(line) : [];
  const chosen = active === undefined ? undefined : figure.points[active];
  const round = (value: number) => Math.round(value * 100) / 100;
  const path = (xs: readonly number[], ys: readonly number[]) =>
    pathThrough(xs, ys, (across, up) => `${round(x(across))} ${round(y(up))}`);
  const yTicks = ticksOf(y, 5);
  const xTicks = levels ? levelTicks(levels, width) : ticksOf(x, width < 400 ? 4 : 6);
  const radius = points.length > 400 ? 2 : 3;
  const bottom = height - margin.bottom;
  const tilted = levels !== undefined && levels.length > 4;
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      fontFamily={FONT}
      fontSize={FONT_SIZE}
      role="img"
      aria-label={`${figure.title}. ${figure.caption}`}
    >
      <rect width={width} height={height} fill={palette.paper} />
      {envelope && (
        <path
          d={`${path(envelope.x, envelope.high)}${path([...envelope.x].reverse(), [...envelope.low].reverse()).replace("M", "L")}Z`}
          fill={palette.band}
          stroke={palette.accent}
          strokeWidth={0.75}
          strokeDasharray="3 3"
        />
      )}
      {pieces.map(
        ({ x: xs, low, high }) =>
          low &&
          high && (
            <path
              key={xs[0]}
              d={`${path(xs, high)}${path([...xs].reverse(), [...low].reverse()).replace("M", "L")}Z`}
              fill={palette.band}
              stroke={palette.accent}
              strokeWidth={0.75}
              strokeDasharray="3 3"
            />
          ),
      )}
      {pieces.map(
        ({ x: xs, widerLow, widerHigh }) =>
          widerLow &&
          widerHigh && (
            <path
              key={xs[0]}
              d={`${path(xs, widerHigh)}${path(xs, widerLow)}`}
              fill="none"
              stroke={palette.accent}
              strokeWidth={1.25}
              strokeDasharray="9 5"
            />
          ),
      )}
      <path d={`M${margin.left} ${margin.top}V${bottom}H${width - margin.right}`} fill="none" stroke={palette.faint} />
      {yTicks.map(({ at, text }) => (
        <g key={at}>
          <path d={`M${margin.left - 4} ${round(y(at))}h4`} stroke={palette.faint} />
          <text x={margin.left - 7} y={round(y(at))} dy="0.35em" textAnchor="end" fill={palette.ink}>
            {text}
          </text>
        </g>
      ))}
      {xTicks.map(({ at, text }) => (
        <g key={at}>
          <path d={`M${round(x(at))} ${bottom}v4`} stroke={palette.faint} />
          <text
            x={round(x(at))}
            y={bottom + 17}
            fill={palette.ink}
            textAnchor={tilted ? "end" : "middle"}
            transform={tilted ? `rotate(-30 ${round(x(at))} ${bottom + 12})` : undefined}
          >
            {text}
          </text>
        </g>
      ))}
      <text x={(margin.left + width - margin.right) / 2} y={height - 6} textAnchor="middle" fill={palette.ink}>
        {figure.xLabel}
      </text>
      <text transform={`translate(13 ${(margin.top + bottom) / 2}) rotate(-90)`} textAnchor="middle" fill={palette.ink}>
        {figure.yLabel}
      </text>
      {rule !== undefined && (
        <path d={`M${margin.left} ${round(y(rule))}H${width - margin.right}`} stroke={palette.accent} />
      )}
      {needles
        ? points.map((point) => (
            <path
              key={point.row}
              d={`M${round(x(point.x))} ${round(y(0))}V${round(y(point.y))}`}
              stroke={palette.point}
              strokeWidth={1.5}
            />
          ))
        : points.map((point) => (
            <circle
              key={point.row}
              cx={round(x(point.x))}
              cy={round(y(point.y))}
              r={radius}
              fill={palette.point}
              fillOpacity={0.55}
            />
          ))}
      {pieces.map(({ x: xs, y: ys }) => (
        <path key={xs[0]} d={path(xs, ys)} fill="none" stroke={palette.accent} strokeWidth={2} />
      ))}
      {means?.map((mean) => (
        <g key={mean.x} stroke={palette.accent} strokeWidth={2}>
          {mean.low !== null && mean.high !== null && (
            <path
              d={`M${round(x(mean.x))} ${round(y(mean.low))}V${round(y(mean.high))}M${round(x(mean.x)) - 7} ${round(y(mean.low))}h14M${round(x(mean.x)) - 7} ${round(y(mean.high))}h14`}
              fill="none"
            />
          )}
          <rect x={round(x(mean.x)) - 4} y={round(y(mean.value)) - 4} width={8} height={8} fill={palette.paper} />
        </g>
      ))}
      {spans?.map((span) => (
        <g key={span.y} stroke={palette.accent} strokeWidth={2}>
          {span.low !== null && span.high !== null && (
            <path
              d={`M${round(x(span.low))} ${round(y(span.y))}H${round(x(span.high))}M${round(x(span.low))} ${round(y(span.y)) - 7}v14M${round(x(span.high))} ${round(y(span.y)) - 7}v14`}
              fill="none"
            />
          )}
          <rect x={round(x(span.value)) - 4} y={round(y(span.y)) - 4} width={8} height={8} fill={palette.paper} />
        </g>
      ))}
      {chosen && (
        <circle
          cx={round(x(chosen.x))}
          cy={round(y(chosen.y))}
          r={7}
          fill="none"
          stroke={palette.ink}
          strokeWidth={2}
        />
      )}
      {points.length < figure.points.length && (
        <text
          x={width - margin.right}
          y={margin.top + 10}
          textAnchor="end"
          fill={palette.ink}
        >{`${points.length} of ${figure.points.length} points drawn`}</text>
      )}
    </svg>
  );
}

/** The levels' names, as long as there is room for beside each other, or tilted. */
function levelTicks(levels: readonly string[], width: number): Tick[] {
  const most = levels.length > 4 ? 12 : Math.max(4, Math.floor((width - 70) / levels.length / 7));
  return levels.map((level, at) => ({ at, text: shortened(level, most) }));
}

function shortened(text: string, most: number): string {
  return text.length > most ? `${text.slice(0, most - 1)}…` : text;
}
