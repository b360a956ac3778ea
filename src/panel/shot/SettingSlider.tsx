/** One setting of the shot: a slider and the number itself. */
import { toText } from "../../experiment/language/said";
import { Label, makeStyles, Slider, useId } from "@fluentui/react-components";
import type { CSSProperties } from "react";
import {
  boundsOf,
  SETTING_KINDS,
  unitOf,
  type SettingName,
  type ShotSettings,
} from "../../experiment/shot/shotSettings";
import { offered } from "../../experiment/shot/shootable";
import { shownSetting } from "../../experiment/shot/shotWords";
import { named, NumberField } from "../fields/NumberField";

/** Fluent draws a tick for every step, and with hundreds of them the rail disappears. */
const NO_TICKS = { "--fui-Slider--steps-percent": "100%" } as CSSProperties;

const useStyles = makeStyles({
  row: { display: "grid", gridTemplateColumns: "minmax(0, 1fr) 76px", columnGap: "8px", alignItems: "start" },
  label: { gridColumn: "1 / -1" },
  slider: { minWidth: 0 },
});

interface Props {
  readonly setting: SettingName;
  readonly shot: ShotSettings;
  readonly onChange: (setting: SettingName, value: number) => void;
}

export function SettingSlider({ setting, shot, onChange }: Props) {
  const styles = useStyles();
  const id = useId("setting");
  const { label, quantity, step: steps } = SETTING_KINDS[setting];
  const unit = unitOf(quantity, shot.units);
  const step = steps[shot.units];
  const { low, high } = boundsOf(setting, shot);
  const slides = offered(setting, shot, { low, high });
  const least = Math.ceil(slides.low / unit.size / step - 1e-9) * step;
  const most = Math.floor(slides.high / unit.size / step + 1e-9) * step;
  const name = named(label, unit);
  return (
    <div className={styles.row}>
      <Label className={styles.label} htmlFor={id} size="small">
        {name}
      </Label>
      <Slider
        id={id}
        className={styles.slider}
        style={NO_TICKS}
        size="small"
        min={least}
        max={most}
        step={step}
        value={shot[setting] / unit.size}
        aria-label={name}
        aria-valuetext={toText(shownSetting(shot[setting], setting, shot.units, 4))}
        onChange={(_, { value }) =>
          onChange(setting, Math.min(high, Math.max(low, Number(value.toPrecision(10)) * unit.size)))
        }
      />
      <NumberField
        unlabelled
        name={name}
        value={shot[setting]}
        unit={unit}
        low={low}
        high={high}
        onChange={(value) => onChange(setting, value)}
      />
    </div>
  );
}
