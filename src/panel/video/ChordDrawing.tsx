/** How far the ball is from the straight line between contact and last point, along that line; and the table above. */
import type { Point } from "../../bank/pathClearance";
import { useRef } from "react";
import type { Palette } from "../frame/palette";
import { FONT_SIZE } from "../frame/palette";
import { useWidth } from "../frame/useWidth";
import { scaleOver, ticksOf } from "../plots/axis";
import { Words } from "../plots/Words";
import { Surface } from "../plots/Surface";

interface Props {
  /** Seen places after the contact, in; those left out aside. */
  readonly seen: readonly Point[];
  /** The fitted path from the contact to the last point. */
  readonly path: readonly Point[];
  /** Of an inch in the unit that is shown. */
  readonly size: number;
  readonly unit: string;
  readonly palette: Palette;
  readonly label: string;
}

const HEIGHT = 150;
const MARGIN = { left: 46, right: 10, top: 8, bottom: 34 };

export function ChordDrawing({ seen, path, size, unit, palette, label }: Props) {
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const [from, to] = [path[0], path.at(-1)];
  const turned = from && to ? turnedBy(from, to, size) : undefined;
  const fitted = turned ? path.map(turned) : [];
  const points = turned ? seen.map(turned) : [];
  const x = scaleOver([0, ...fitted.map(({ along }) => along)], [MARGIN.left, width - MARGIN.right]);
  const y = scaleOver(
    [0, ...fitted.map(({ off }) => off), ...points.map(({ off }) => off)],
    [HEIGHT - MARGIN.bottom, MARGIN.top],
  );
  return (
    <div ref={frame}>
      <Surface label={label} drawing="chord" width={width} height={HEIGHT} palette={palette}>
        <Axes x={x} y={y} width={width} palette={palette} />
        <line x1={x(0)} x2={width - MARGIN.right} y1={y(0)} y2={y(0)} stroke={palette.ink} strokeDasharray="5 3" />
        {points.map(({ along, off }, i) => (
          <circle key={i} cx={x(along)} cy={y(off)} r={2.2} fill={palette.point} />
        ))}
        <polyline
          points={fitted.map(({ along, off }) => `${x(along)},${y(off)}`).join(" ")}
          fill="none"
          stroke={palette.accent}
          strokeWidth={2}
        />
        <text x={width - MARGIN.right} y={HEIGHT - 3} textAnchor="end" {...textIn(palette)}>
          {`along the chord (${unit}); up: distance from it (${unit}), + short`}
        </text>
      </Surface>
    </div>
  );
}

const textIn = (palette: Palette) => ({ fill: palette.ink, fontSize: FONT_SIZE - 1 });

interface AxesProps {
  readonly x: ReturnType<typeof scaleOver>;
  readonly y: ReturnType<typeof scaleOver>;
  readonly width: number;
  readonly palette: Palette;
}

function Axes({ x, y, width, palette }: AxesProps) {
  const text = textIn(palette);
  const foot = HEIGHT - MARGIN.bottom;
  return (
    <>
      {ticksOf(x, 4).map(({ at, text: said }) => (
        <g key={at}>
          <line x1={x(at)} x2={x(at)} y1={foot} y2={foot + 4} stroke={palette.faint} />
          <text x={x(at)} y={foot + 15} textAnchor="middle" {...text}>
            <Words of={said} />
          </text>
        </g>
      ))}
      {ticksOf(y, 4).map(({ at, text: said }) => (
        <g key={at}>
          <line
            x1={MARGIN.left - 4}
            x2={width - MARGIN.right}
            y1={y(at)}
            y2={y(at)}
            stroke={palette.faint}
            strokeOpacity={0.35}
          />
          <text x={MARGIN.left - 7} y={y(at) + 4} textAnchor="end" {...text}>
            <Words of={said} />
          </text>
        </g>
      ))}
    </>
  );
}

/** Along the chord from the contact, and off it: + to where the ball goes along the rail. */
function turnedBy(from: Point, to: Point, size: number) {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  const [cx, cy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const forward = to.x >= from.x ? 1 : -1;
  return ({ x, y }: Point) => ({
    along: ((x - from.x) * cx + (y - from.y) * cy) * size,
    off: forward * ((x - from.x) * cy - (y - from.y) * cx) * size,
  });
}
