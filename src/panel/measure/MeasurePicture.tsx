/** The bend with its interval against the target on one line, and the parts of its uncertainty as bars. */
import { toText } from "../../experiment/language/said";
import type { BendUncertainty } from "../../experiment/measure/bendUncertainty";
import type { MeasureForm } from "../../experiment/measure/measureForm";
import { unitOf } from "../../experiment/shot/shotSettings";
import { expandedUncertainty } from "../../statistics/measure/uncertainty";
import type { Palette, ThemeName } from "../frame/palette";
import { significant } from "../../experiment/language/wording";
import { DrawnPicture } from "../plots/DrawnPicture";
import type { PictureTable } from "../plots/figureTable";
import { Surface } from "../plots/Surface";
import { measuredLine, shareLength } from "./measureScale";

interface Props {
  readonly form: MeasureForm;
  readonly found: BendUncertainty;
  readonly theme: ThemeName;
  /** What it says to those who do not see it. */
  readonly label: string;
}

const LINE = 74;
const BAR = 20;
const NAMES = 150;

export function MeasurePicture({ form, found, theme, label }: Props) {
  return (
    <DrawnPicture
      title="Measured bend"
      theme={theme}
      drawing={MeasureDrawing}
      of={{ form, found, label }}
      table={() => tableOf(form, found)}
    />
  );
}

interface DrawingProps extends Omit<Props, "theme"> {
  readonly width: number;
  readonly palette: Palette;
}

function MeasureDrawing({ form, found, label, width, palette }: DrawingProps) {
  const parts = found.contributions.filter(({ standard }) => standard > 0);
  const height = LINE + parts.length * BAR + 4;
  return (
    <Surface label={label} drawing="measured" width={width} height={height} palette={palette}>
      <OnOneLine form={form} found={found} width={width} palette={palette} />
      {parts.map(({ name, standard }, i) => (
        <Bar
          key={name}
          name={name}
          share={standard ** 2 / found.standard ** 2}
          top={LINE + i * BAR}
          width={width}
          palette={palette}
        />
      ))}
    </Surface>
  );
}

function tableOf(form: MeasureForm, found: BendUncertainty): PictureTable {
  const { size, name: unit } = unitOf("small", form.units);
  const share = (standard: number) =>
    found.standard > 0 ? `${Math.round((100 * standard ** 2) / found.standard ** 2)} %` : "–";
  return {
    headings: ["Part", `Standard uncertainty (${unit})`, "Share of the variance"],
    rows: found.contributions.map(({ name, standard }) => [
      name,
      toText(significant(standard / size, 3)),
      share(standard),
    ]),
  };
}

type LineProps = Pick<Props, "form" | "found"> & { readonly width: number; readonly palette: Palette };

function OnOneLine({ form, found, width, palette }: LineProps) {
  const { size, name } = unitOf("small", form.units);
  const half = found.standard > 0 && found.scatterKnown ? expandedUncertainty(found, form.confidence) : 0;
  const at = { bend: found.bend / size, half: half / size, target: form.target / size };
  const { x, ticks } = measuredLine([at.bend - at.half, at.bend + at.half, at.target], width);
  const y = 26;
  const base = 40;
  return (
    <g>
      <path d={`M${x(ticks[0] ?? 0)} ${base}H${x(ticks.at(-1) ?? 0)}`} stroke={palette.faint} />
      {ticks.map((tick) => (
        <g key={tick}>
          <path d={`M${x(tick)} ${base}v4`} stroke={palette.faint} />
          <text x={x(tick)} y={base + 17} textAnchor="middle" fill={palette.ink}>
            {`${Number(tick.toPrecision(6))} ${name}`}
          </text>
        </g>
      ))}
      <path d={`M${x(at.target)} 14V${base}`} stroke={palette.accent} strokeWidth={2} strokeDasharray="4 3" />
      <text x={x(at.target)} y={11} textAnchor="middle" fill={palette.accent}>
        target
      </text>
      {at.half > 0 && (
        <path
          d={`M${x(at.bend - at.half)} ${y}H${x(at.bend + at.half)}m0 -5v10M${x(at.bend - at.half)} ${y - 5}v10`}
          stroke={palette.point}
          strokeWidth={2}
          data-part="interval"
        />
      )}
      <circle cx={x(at.bend)} cy={y} r={4.5} fill={palette.point} data-part="bend" />
    </g>
  );
}

interface BarProps {
  readonly name: string;
  readonly share: number;
  readonly top: number;
  readonly width: number;
  readonly palette: Palette;
}

function Bar({ name, share, top, width, palette }: BarProps) {
  const long = shareLength(share, Math.max(40, width - NAMES - 48));
  return (
    <g data-part="share">
      <text x={0} y={top + 14} fill={palette.ink}>
        {name}
      </text>
      <rect x={NAMES} y={top + 4} width={Math.max(1, long)} height={BAR - 8} fill={palette.point} />
      <text x={NAMES + long + 6} y={top + 14} fill={palette.ink}>
        {`${Math.round(100 * share)} %`}
      </text>
    </g>
  );
}
