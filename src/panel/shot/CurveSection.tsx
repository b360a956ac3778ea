/** The bend against every setting side by side, and one of them large. */
import { toText } from "../../experiment/language/said";
import { makeStyles, tokens } from "@fluentui/react-components";
import { memo, useRef } from "react";
import { SETTING_KINDS, unitOf, type BendSetting, type ShotSettings } from "../../experiment/shot/shotSettings";
import type { BendCurve } from "../../experiment/shot/shotSweep";
import { named } from "../fields/NumberField";
import { arrowKeys } from "../frame/arrowKeys";
import { useSectionStyles } from "../frame/styles";
import type { Figure } from "../plots/figure";
import { FigureDrawing } from "../plots/FigureDrawing";
import { PALETTES, type ThemeName } from "../frame/palette";
import { useWidth } from "../frame/useWidth";
import { CurveThumb, thumbSpan } from "./CurveThumb";
import { useCurves } from "./useCurves";

interface Props {
  readonly shot: ShotSettings;
  /** Setting of the large curve, at once. */
  readonly against: BendSetting;
  readonly theme: ThemeName;
  readonly onAgainst: (setting: BendSetting) => void;
}

const useStyles = makeStyles({
  all: { display: "grid", gridTemplateColumns: "repeat(auto-fill, minmax(124px, 1fr))", gap: "6px" },
  one: {
    display: "block",
    minWidth: 0,
    padding: "4px",
    textAlign: "left",
    font: "inherit",
    fontSize: tokens.fontSizeBase200,
    color: tokens.colorNeutralForeground1,
    cursor: "pointer",
    backgroundColor: tokens.colorNeutralBackground1,
    border: `1px solid ${tokens.colorNeutralStroke1}`,
    borderRadius: tokens.borderRadiusMedium,
    ":hover": { backgroundColor: tokens.colorNeutralBackground1Hover },
    "& svg": { display: "block", width: "100%", height: "auto" },
  },
  chosen: {
    outline: `2px solid ${tokens.colorBrandStroke1}`,
    outlineOffset: "-1px",
    fontWeight: tokens.fontWeightSemibold,
  },
});

export const CurveSection = memo(function CurveSection({ shot, against, theme, onAgainst }: Props) {
  const section = useSectionStyles();
  const styles = useStyles();
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const found = useCurves(shot);
  const large = found?.curves.find(({ setting }) => setting === against);
  const figure = found && large && curveFigure(found.shot, large.setting, large.curve, found.bend);
  const span = found && thumbSpan(found.curves.map(({ curve }) => curve));
  return (
    <div className={section.stack}>
      <div ref={frame} data-figure="bend-curve">
        {figure && (
          <FigureDrawing
            figure={figure}
            width={width}
            height={Math.round(Math.min(320, Math.max(200, width * 0.62)))}
            palette={PALETTES[theme]}
            active={0}
          />
        )}
      </div>
      {figure && <p className={section.note}>{toText(figure.caption)}</p>}
      {found && span && (
        <>
          <p
            className={section.note}
          >{`The same against each setting, all on one scale of bend: ${SETTING_KINDS[against].label.toLowerCase()} is the large one. Choose another by a click, or by the arrow keys and Enter.`}</p>
          <div className={styles.all} role="group" aria-label="Bend against each setting" onKeyDown={arrowKeys(true)}>
            {found.curves.map(({ setting, curve }) => (
              <button
                key={setting}
                type="button"
                className={setting === against ? `${styles.one} ${styles.chosen}` : styles.one}
                aria-pressed={setting === against}
                tabIndex={setting === against ? 0 : -1}
                onClick={() => onAgainst(setting)}
                data-against={setting}
              >
                {SETTING_KINDS[setting].label}
                <CurveThumb
                  curve={curve}
                  span={span}
                  at={found.shot[setting]}
                  bend={found.bend}
                  palette={PALETTES[theme]}
                />
              </button>
            ))}
          </div>
        </>
      )}
    </div>
  );
});

/** @param bend at the present setting, SI */
function curveFigure(shot: ShotSettings, setting: BendSetting, curve: BendCurve, bend: number): Figure {
  const kind = SETTING_KINDS[setting];
  const unit = unitOf(kind.quantity, shot.units);
  const small = unitOf("small", shot.units);
  const scaled = (values: readonly number[]) => values.map((value) => value / small.size);
  return {
    id: "bend-curve",
    title: `Bend against ${kind.label.toLowerCase()}`,
    caption: `The other settings as they are; the ring marks the present one. + bends short, − long. Band: the ranges that are named beside the drawing. Where the line breaks off the ball never reaches the line across.`,
    xLabel: named(kind.label, unit),
    yLabel: named("Bend", small),
    points: Number.isNaN(bend) ? [] : [{ x: shot[setting] / unit.size, y: bend / small.size, row: 0 }],
    line: {
      x: curve.x.map((value) => value / unit.size),
      y: scaled(curve.bend),
      low: scaled(curve.low),
      high: scaled(curve.high),
    },
  };
}
