/** Draws intervals lying, each under its name, about an upright rule with the margin that counts as none. */
import { shortened } from "./Axes";
import { ticksOf } from "./axis";
import type { FigureInterval } from "./figure";
import { INTERVAL_EDGE, intervalsFrame } from "./figureScales";
import { figureLabel, Surface, type FigureDrawingProps } from "./Surface";

interface Props extends FigureDrawingProps {
  readonly intervals: readonly FigureInterval[];
}

export function IntervalsDrawing({ figure, intervals, width, height, palette, active }: Props) {
  const { side, top } = INTERVAL_EDGE;
  const { rule = 0, margin } = figure;
  const { scale, x, y, bottom } = intervalsFrame(figure, intervals, width);
  const longest = Math.floor((width - 2 * side) / 6.5);
  return (
    <Surface label={figureLabel(figure)} width={width} height={height} palette={palette}>
      {margin !== undefined && (
        <rect
          x={x(rule - margin)}
          y={top}
          width={x(rule + margin) - x(rule - margin)}
          height={bottom - top}
          fill={palette.band}
          stroke={palette.accent}
          strokeWidth={0.75}
          strokeDasharray="3 3"
          data-mark="margin"
        />
      )}
      <path d={`M${x(rule)} ${top}V${bottom}`} stroke={palette.accent} data-mark="rule" />
      <path d={`M${side} ${bottom}H${width - side}`} fill="none" stroke={palette.faint} />
      {ticksOf(scale, width < 400 ? 4 : 6).map(({ at, text }) => (
        <g key={at}>
          <path d={`M${x(at)} ${bottom}v4`} stroke={palette.faint} />
          <text x={x(at)} y={bottom + 17} textAnchor="middle" fill={palette.ink}>
            {text}
          </text>
        </g>
      ))}
      <text x={width / 2} y={height - 6} textAnchor="middle" fill={palette.ink}>
        {figure.xLabel}
      </text>
      {intervals.map(({ name, value, low, high }, index) => (
        <g key={name} stroke={palette.point} strokeWidth={index === active ? 3.5 : 2} data-mark="interval">
          <text x={side} y={y(index) - 12} fill={palette.ink} stroke="none" fontWeight={index === active ? 700 : 400}>
            {shortened(name, longest)}
          </text>
          {low !== null && high !== null && (
            <path
              d={`M${x(low)} ${y(index)}H${x(high)}M${x(low)} ${y(index) - 5}v10M${x(high)} ${y(index) - 5}v10`}
              fill="none"
            />
          )}
          <rect x={x(value) - 4} y={y(index) - 4} width={8} height={8} fill={palette.paper} />
        </g>
      ))}
    </Surface>
  );
}
