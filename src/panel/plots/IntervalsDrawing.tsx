/**
 * Draws intervals lying, each under its name, about an upright rule with the margin that counts as none.
 */
import { scaleOver, ticksOf } from "./axis";
import { INTERVAL_ROOM, type Figure, type FigureInterval } from "./figure";
import { FONT, FONT_SIZE, type Palette } from "../frame/palette";

interface Props {
  readonly figure: Figure;
  readonly intervals: readonly FigureInterval[];
  readonly width: number;
  readonly height: number;
  readonly palette: Palette;
  /** Index of the interval that is looked at. */
  readonly active?: number;
}

const SIDE = 14;
const TOP = 6;

export function IntervalsDrawing({ figure, intervals, width, height, palette, active }: Props) {
  const { rule = 0, margin } = figure;
  const ends = [
    rule,
    ...(margin === undefined ? [] : [rule - margin, rule + margin]),
    ...intervals.flatMap(({ value, low, high }) => [value, low ?? value, high ?? value]),
  ];
  const x = scaleOver(ends, [SIDE, width - SIDE]);
  const round = (value: number) => Math.round(value * 100) / 100;
  const bottom = TOP + INTERVAL_ROOM.each * intervals.length + 6;
  const longest = Math.floor((width - 2 * SIDE) / 6.5);
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
      {margin !== undefined && (
        <rect
          x={round(x(rule - margin))}
          y={TOP}
          width={round(x(rule + margin) - x(rule - margin))}
          height={bottom - TOP}
          fill={palette.band}
          stroke={palette.accent}
          strokeWidth={0.75}
          strokeDasharray="3 3"
          data-mark="margin"
        />
      )}
      <path d={`M${round(x(rule))} ${TOP}V${bottom}`} stroke={palette.accent} data-mark="rule" />
      <path d={`M${SIDE} ${bottom}H${width - SIDE}`} fill="none" stroke={palette.faint} />
      {ticksOf(x, width < 400 ? 4 : 6).map(({ at, text }) => (
        <g key={at}>
          <path d={`M${round(x(at))} ${bottom}v4`} stroke={palette.faint} />
          <text x={round(x(at))} y={bottom + 17} textAnchor="middle" fill={palette.ink}>
            {text}
          </text>
        </g>
      ))}
      <text x={width / 2} y={height - 6} textAnchor="middle" fill={palette.ink}>
        {figure.xLabel}
      </text>
      {intervals.map(({ name, value, low, high }, index) => {
        const y = TOP + INTERVAL_ROOM.each * index + 27;
        return (
          <g key={name} stroke={palette.point} strokeWidth={index === active ? 3.5 : 2} data-mark="interval">
            <text x={SIDE} y={y - 12} fill={palette.ink} stroke="none" fontWeight={index === active ? 700 : 400}>
              {name.length > longest ? `${name.slice(0, longest - 1)}…` : name}
            </text>
            {low !== null && high !== null && (
              <path
                d={`M${round(x(low))} ${y}H${round(x(high))}M${round(x(low))} ${y - 5}v10M${round(x(high))} ${y - 5}v10`}
                fill="none"
              />
            )}
            <rect x={round(x(value)) - 4} y={y - 4} width={8} height={8} fill={palette.paper} />
          </g>
        );
      })}
    </svg>
  );
}
