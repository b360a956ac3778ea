/** A curve small, for a look beside others on one scale. Takes data only. */
import { area, line } from "d3-shape";
import type { BendCurve } from "../../experiment/shot/shotSweep";
import { extent } from "../../statistics/numeric/extent";
import { hundredths } from "../plots/hundredths";
import type { Palette } from "../frame/palette";

interface Props {
  readonly curve: BendCurve;
  /** Least and largest bend on the drawing, SI. */
  readonly span: readonly [number, number];
  /** Present value of the setting, and the bend there, NaN for none. */
  readonly at: number;
  readonly bend: number;
  readonly palette: Palette;
}

const WIDTH = 120;
const HEIGHT = 64;
const EDGE = 4;

/** One scale for all: what the bands span, and 0. */
export function thumbSpan(curves: readonly BendCurve[]): readonly [number, number] {
  const all = curves
    .flatMap(({ bend, low, high }) => [...bend, ...low, ...high])
    .filter((value) => !Number.isNaN(value));
  const low = Math.min(0, ...all);
  const high = Math.max(0, ...all);
  return low < high ? [low, high] : [-1, 1];
}

export function CurveThumb({ curve, span: [low, high], at, bend, palette }: Props) {
  const { low: from, high: to } = extent(curve.x);
  const x = (value: number) => hundredths(EDGE + ((WIDTH - 2 * EDGE) * (value - from)) / (to - from));
  const y = (value: number) => hundredths(HEIGHT - EDGE - ((HEIGHT - 2 * EDGE) * (value - low)) / (high - low));
  const along = (_: number, i: number) => x(curve.x[i] ?? NaN);
  const band = area<number>(along, (_, i) => y(curve.low[i] ?? NaN), y).defined(Number.isFinite);
  const path = line<number>(along, y).defined(Number.isFinite);
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} width={WIDTH} height={HEIGHT} aria-hidden="true">
      <rect width={WIDTH} height={HEIGHT} fill={palette.paper} />
      <path d={`M${EDGE} ${y(0)}H${WIDTH - EDGE}`} stroke={palette.faint} strokeWidth={1} />
      <path
        d={band([...curve.high]) ?? ""}
        fill={palette.band}
        stroke={palette.accent}
        strokeWidth={0.5}
        strokeDasharray="2 2"
      />
      <path d={path([...curve.bend]) ?? ""} fill="none" stroke={palette.accent} strokeWidth={1.5} />
      <path d={`M${x(at)} ${EDGE}V${HEIGHT - EDGE}`} stroke={palette.point} strokeWidth={1} strokeDasharray="2 2" />
      {!Number.isNaN(bend) && (
        <circle cx={x(at)} cy={y(bend)} r={3.5} fill="none" stroke={palette.ink} strokeWidth={1.5} />
      )}
    </svg>
  );
}
