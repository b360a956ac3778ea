/**
 * Draws intervals lying, each with its name and what is said beside it, about an upright rule with the margin that
 * counts as none. One that crosses the rule is hollow and grey: it tells no direction.
 */
import { toText } from "../../experiment/language/said";
import { useContext } from "react";
import { shortened } from "./Axes";
import { leavesOpen, type FigureInterval } from "./figure";
import { INTERVAL_EDGE, intervalsFrame } from "./figureScales";
import { figureLabel, Surface, type FigureDrawingProps } from "./Surface";
import { NumberLanguage, Words } from "./Words";

interface Props extends FigureDrawingProps {
  readonly intervals: readonly FigureInterval[];
}

type Frame = ReturnType<typeof intervalsFrame>;

/** Width of a letter of the drawing's size, about, in pixels. */
const LETTER = 6.3;

export function IntervalsDrawing({ figure, intervals, width, height, palette, active }: Props) {
  const frame = intervalsFrame(figure, intervals, width);
  return (
    <Surface label={figureLabel(figure)} width={width} height={height} palette={palette}>
      <Ground figure={figure} frame={frame} palette={palette} width={width} height={height} />
      {intervals.map((interval, index) => (
        <Lying
          key={`${index} ${toText(interval.name)}`}
          interval={interval}
          index={index}
          frame={frame}
          palette={palette}
          width={width}
          open={leavesOpen(interval, figure.rule)}
          active={index === active}
        />
      ))}
    </Surface>
  );
}

type GroundProps = Omit<FigureDrawingProps, "active"> & { readonly frame: Frame };

/** The rule with its margin and name, and the axis. */
function Ground({ figure: { rule, margin, ruleName, xLabel }, frame, palette, width, height }: GroundProps) {
  const { x, left, right, top, bottom } = frame;
  return (
    <g>
      {rule !== undefined && margin !== undefined && (
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
      {rule !== undefined && <path d={`M${x(rule)} ${top}V${bottom}`} stroke={palette.accent} data-mark="rule" />}
      {rule !== undefined && ruleName !== undefined && (
        <text x={x(rule)} y={top - 4} textAnchor={anchorAt(x(rule), left, right)} fill={palette.accent}>
          <Words of={ruleName} />
        </text>
      )}
      <path d={`M${left} ${bottom}H${right}`} fill="none" stroke={palette.faint} />
      {frame.ticks.map(({ at, text }) => (
        <g key={at}>
          <path d={`M${x(at)} ${bottom}v4`} stroke={palette.faint} />
          <text x={x(at)} y={bottom + 16} textAnchor="middle" fill={palette.ink}>
            <Words of={text} />
          </text>
        </g>
      ))}
      <text x={width - INTERVAL_EDGE.side} y={height - 5} textAnchor="end" fill={palette.ink}>
        <Words of={xLabel} />
      </text>
    </g>
  );
}

/** Near an end a word runs inward. */
function anchorAt(x: number, left: number, right: number): "start" | "middle" | "end" {
  return x - left < 40 ? "start" : right - x < 40 ? "end" : "middle";
}

interface LyingProps extends Pick<FigureDrawingProps, "palette" | "width"> {
  readonly interval: FigureInterval;
  readonly index: number;
  readonly frame: Frame;
  readonly open: boolean;
  readonly active: boolean;
}

function Lying({ interval, index, frame, palette, width, open, active }: LyingProps) {
  const { name, value, low, high, beside } = interval;
  const { x, wide, left } = frame;
  const language = useContext(NumberLanguage);
  const y = frame.y(index);
  const stroke = open ? palette.faint : palette.point;
  const room = wide
    ? left - 2 * INTERVAL_EDGE.side
    : width - 2 * INTERVAL_EDGE.side - LETTER * toText(beside ?? "", language).length;
  const weight = active ? 700 : 400;
  return (
    <g stroke={stroke} strokeWidth={active ? 3.5 : 2} data-mark="interval" data-open={open || undefined}>
      <text
        x={INTERVAL_EDGE.side}
        y={frame.nameY(index)}
        fill={palette.ink}
        stroke={palette.paper}
        strokeWidth={3}
        paintOrder="stroke"
        fontWeight={weight}
      >
        {shortened(toText(name, language), Math.floor(room / LETTER))}
      </text>
      {beside !== undefined && (
        <text
          x={width - INTERVAL_EDGE.side}
          y={frame.nameY(index)}
          textAnchor="end"
          fill={palette.ink}
          stroke="none"
          fontWeight={open ? 400 : 600}
        >
          <Words of={beside} />
        </text>
      )}
      {low !== null && high !== null && (
        <path d={`M${x(low)} ${y}H${x(high)}M${x(low)} ${y - 4}v8M${x(high)} ${y - 4}v8`} fill="none" />
      )}
      <circle cx={x(value)} cy={y} r={4.5} fill={open ? palette.paper : palette.point} />
    </g>
  );
}
