/** The bends so far as dots on one scale, with their average and its interval as soon as there is one. */
import { useRef } from "react";
import type { Average } from "../../experiment/start/firstLog";
import { counted, significant, withUnit } from "../../experiment/language/wording";
import { FONT, FONT_SIZE, PALETTES, type ThemeName } from "../frame/palette";
import { useWidth } from "../frame/useWidth";
import { scaleOver, ticksOf } from "../plots/axis";

interface Props {
  readonly values: readonly number[];
  readonly average: Average | undefined;
  readonly unit: string;
  readonly theme: ThemeName;
}

const HEIGHT = 104;
const AXIS = 66;
const MARGIN = 12;
const RADIUS = 4.5;
/** Dots that would lie over each other stand in so many rows. */
const ROWS = 4;

export function BendsPicture({ values, average, unit, theme }: Props) {
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const colours = PALETTES[theme];
  const ends = average ? [average.low, average.high] : [];
  const scale = scaleOver([...values, ...ends], [MARGIN, width - MARGIN]);
  const said = (value: number) => withUnit(significant(value, 3), unit);
  const middle = average && Math.min(width - 40, Math.max(40, scale(average.estimate)));
  const label = `${counted(values.length, "bend")} on one scale${average ? `; average ${said(average.estimate)}, interval ${said(average.low)} to ${said(average.high)}` : ""}.`;
  return (
    <div ref={frame}>
      <svg
        role="img"
        aria-label={label}
        width={width}
        height={HEIGHT}
        fontFamily={FONT}
        fontSize={FONT_SIZE}
        data-drawing="bends"
      >
        {average && (
          <rect
            x={scale(average.low)}
            y={16}
            width={Math.max(1, scale(average.high) - scale(average.low))}
            height={AXIS - 16}
            fill={colours.band}
            stroke={colours.accent}
            strokeDasharray="3 3"
          />
        )}
        {values.map((value, i) => (
          <circle
            key={i}
            cx={scale(value)}
            cy={AXIS - 10 - (i % ROWS) * 10}
            r={RADIUS}
            fill={colours.point}
            fillOpacity={values.length > 40 ? 0.4 : 0.85}
          />
        ))}
        {average && middle !== undefined && (
          <>
            <line
              x1={scale(average.estimate)}
              x2={scale(average.estimate)}
              y1={16}
              y2={AXIS}
              stroke={colours.accent}
              strokeWidth={2}
            />
            <text x={middle} y={12} textAnchor="middle" fill={colours.ink} fontWeight={600}>
              {said(average.estimate)}
            </text>
          </>
        )}
        <line x1={MARGIN} x2={width - MARGIN} y1={AXIS} y2={AXIS} stroke={colours.faint} />
        {ticksOf(scale, 5).map(({ at, text }) => (
          <g key={at}>
            <line x1={scale(at)} x2={scale(at)} y1={AXIS} y2={AXIS + 4} stroke={colours.faint} />
            <text x={scale(at)} y={AXIS + 17} textAnchor="middle" fill={colours.ink}>
              {text}
            </text>
          </g>
        ))}
        <text x={width - MARGIN} y={HEIGHT - 4} textAnchor="end" fill={colours.ink}>
          {`bend${unit === "" ? "" : ` (${unit})`}${average ? "; line and band: average and its interval" : ""}`}
        </text>
      </svg>
    </div>
  );
}
