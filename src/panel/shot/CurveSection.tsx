/** The bend against one setting, with the present value marked and the band of the constants. May import: plots/, experiment/. */
import { Dropdown, Field, Option } from "@fluentui/react-components";
import { memo, useMemo, useRef } from "react";
import { BEND_SETTINGS, constantSets, SETTING_KINDS, unitOf, type BendSetting, type ShotSettings } from "../../experiment/shotSettings";
import { bendCurve, bendOfShot, type BendCurve } from "../../experiment/shotSweep";
import { useSectionStyles } from "../sections/styles";
import type { Figure } from "../plots/figure";
import { FigureDrawing } from "../plots/FigureDrawing";
import { PALETTES, type ThemeName } from "../plots/palette";
import { useWidth } from "../useWidth";

interface Props {
  readonly shot: ShotSettings;
  readonly theme: ThemeName;
  readonly onAgainst: (setting: BendSetting) => void;
}

const POINTS = 25;

export const CurveSection = memo(function CurveSection({ shot, theme, onAgainst }: Props) {
  const styles = useSectionStyles();
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const sets = useMemo(() => constantSets(shot.constants), [shot.constants]);
  const figure = useMemo(() => curveFigure(shot, bendCurve(shot, shot.against, sets, POINTS), bendOfShot(shot, sets[0])), [shot, sets]);
  return (
    <div className={styles.stack}>
      <Field label="Bend against">
        <Dropdown value={SETTING_KINDS[shot.against].label} selectedOptions={[shot.against]} onOptionSelect={(_, { optionValue }) => optionValue && onAgainst(optionValue as BendSetting)}>
          {BEND_SETTINGS.map((setting) => <Option key={setting} value={setting}>{SETTING_KINDS[setting].label}</Option>)}
        </Dropdown>
      </Field>
      <div ref={frame} data-figure="bend-curve">
        <FigureDrawing figure={figure} width={width} height={Math.round(Math.min(320, Math.max(200, width * 0.62)))} palette={PALETTES[theme]} active={0} />
      </div>
      <p className={styles.note}>{figure.caption}</p>
    </div>
  );
});

/** @param bend at the present setting, SI */
export function curveFigure(shot: ShotSettings, curve: BendCurve, bend: number): Figure {
  const kind = SETTING_KINDS[shot.against];
  const unit = unitOf(kind.quantity, shot.units);
  const small = unitOf("small", shot.units);
  const scaled = (values: readonly number[]) => values.map((value) => value / small.size);
  return {
    id: "bend-curve",
    title: `Bend against ${kind.label.toLowerCase()}`,
    caption: `The other settings as they are; the ring marks the present one. + bends short, − long. Band: the table's constants over their ranges. Where the line breaks off the ball never reaches the line across.`,
    xLabel: unit.name === "" ? kind.label : `${kind.label} (${unit.name})`,
    yLabel: `Bend (${small.name})`,
    points: Number.isNaN(bend) ? [] : [{ x: shot[shot.against] / unit.size, y: bend / small.size, row: 0 }],
    line: { x: curve.x.map((value) => value / unit.size), y: scaled(curve.bend), low: scaled(curve.low), high: scaled(curve.high) },
  };
}
