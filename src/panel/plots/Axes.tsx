/** The axes of a figure: their lines, ticks, numbers or levels, and what is measured along them. */
import type { Palette } from "../frame/palette";
import { ticksOf, type Tick } from "./axis";
import type { Figure } from "./figure";
import type { FigureFrame } from "./figureScales";
import { Words } from "./Words";

interface Props {
  readonly figure: Pick<Figure, "levels" | "xLabel" | "yLabel">;
  readonly frame: FigureFrame;
  readonly palette: Palette;
}

/** From so many levels on their names are tilted. */
const CROWDED = 5;

export function Axes({ figure: { levels, xLabel, yLabel }, frame, palette }: Props) {
  const { left, right, top, bottom } = frame;
  const width = right + frame.margin.right;
  const tilted = levels !== undefined && levels.length >= CROWDED;
  const across = levels ? levelTicks(levels, width) : ticksOf(frame.scales.x, width < 400 ? 4 : 6);
  return (
    <g>
      <path d={`M${left} ${top}V${bottom}H${right}`} fill="none" stroke={palette.faint} />
      {ticksOf(frame.scales.y, 5).map(({ at, text }) => (
        <g key={at}>
          <path d={`M${left - 4} ${frame.y(at)}h4`} stroke={palette.faint} />
          <text x={left - 7} y={frame.y(at)} dy="0.35em" textAnchor="end" fill={palette.ink}>
            <Words of={text} />
          </text>
        </g>
      ))}
      {across.map(({ at, text }) => (
        <g key={at}>
          <path d={`M${frame.x(at)} ${bottom}v4`} stroke={palette.faint} />
          <text
            x={frame.x(at)}
            y={bottom + 17}
            fill={palette.ink}
            textAnchor={tilted ? "end" : "middle"}
            transform={tilted ? `rotate(-30 ${frame.x(at)} ${bottom + 12})` : undefined}
          >
            <Words of={text} />
          </text>
        </g>
      ))}
      <text x={(left + right) / 2} y={bottom + frame.margin.bottom - 6} textAnchor="middle" fill={palette.ink}>
        <Words of={xLabel} />
      </text>
      <text transform={`translate(13 ${(top + bottom) / 2}) rotate(-90)`} textAnchor="middle" fill={palette.ink}>
        <Words of={yLabel} />
      </text>
    </g>
  );
}

/** The levels' names, as long as there is room for beside each other, or tilted. */
function levelTicks(levels: readonly string[], width: number): Tick[] {
  const most = levels.length >= CROWDED ? 12 : Math.max(4, Math.floor((width - 70) / levels.length / 7));
  return levels.map((level, at) => ({ at, text: shortened(level, most) }));
}

/** The text with no more letters than there is room for. */
export function shortened(text: string, most: number): string {
  return text.length > most ? `${text.slice(0, most - 1)}…` : text;
}
