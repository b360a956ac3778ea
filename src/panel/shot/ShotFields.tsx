/** Where the shot is set, from which rail, and its sliders. */
import { Dropdown, Field, makeStyles, Option } from "@fluentui/react-components";
import type { Rail } from "../../bank/tableShape";
import {
  fromOrigin,
  onRail,
  ORIGIN_LABELS,
  ORIGINS,
  type Origin,
  type SettingName,
  type ShotSettings,
} from "../../experiment/shot/shotSettings";
import { useSectionStyles } from "../frame/styles";
import { SettingSlider } from "./SettingSlider";

const ALWAYS: readonly SettingName[] = ["across", "along", "gap", "room"];
const SLIDERS: Readonly<Record<Origin, readonly SettingName[]>> = {
  cushion: ["speed", "angle", "roll", "side", ...ALWAYS],
  spot: ["speed", "angle", "roll", "side", "spotDistance", ...ALWAYS],
  stroke: ["cueSpeed", "tipUp", "tipRight", "cut", "cueRun", "angle", "spotDistance", ...ALWAYS],
};
const MEANINGS: Readonly<Record<Origin, string>> = {
  cushion:
    "Speed, angle, roll and side are those at the cushion. Roll: 1 natural roll, 0 stun. Side: positive turns counter-clockwise seen from above. Angle: from square to the rail. The sliders of roll and side end where no object ball can be shot.",
  spot: "Speed, angle, roll and side are those with which the object ball leaves its spot. Side: positive turns counter-clockwise seen from above. Angle: from square to the rail. Place on the rail: where it touches. A struck object ball has 0.2 of roll and side together at most.",
  stroke:
    "Tip above and right of the ball's centre: in radii of the ball, at most half of one. Cut: from the stroke to the line of centres. Angle: of the line of centres, from square to the rail; throw turns the object ball off it. A level cue of 19 oz; no squirt. Friction of ball on ball 0.06, restitution 0.95 and that of the tip 0.75 are from memory, no source.",
};
export const RAILS: Readonly<Record<Rail, string>> = { long: "long rail", short: "short rail" };

const useStyles = makeStyles({
  settings: { display: "grid", gridTemplateColumns: "repeat(auto-fit, minmax(250px, 1fr))", gap: "8px 24px" },
  row: { display: "flex", flexWrap: "wrap", gap: "8px 16px", alignItems: "end" },
});

interface Props {
  readonly shot: ShotSettings;
  /** @param turn from the shot before to the next */
  readonly onTurn: (turn: (before: ShotSettings) => ShotSettings) => void;
  readonly onSetting: (setting: SettingName, value: number) => void;
}

export function ShotFields({ shot, onTurn, onSetting }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  return (
    <div className={section.stack}>
      <div className={styles.row}>
        <Choice
          label="Set at"
          value={shot.origin}
          names={ORIGIN_LABELS}
          order={ORIGINS}
          onChange={(origin) => onTurn((before) => fromOrigin(before, origin))}
        />
        <Choice
          label="Banked from"
          value={shot.rail}
          names={RAILS}
          order={["long", "short"]}
          onChange={(rail) => onTurn((before) => onRail(before, rail))}
        />
      </div>
      <div className={styles.settings}>
        {SLIDERS[shot.origin].map((setting) => (
          <SettingSlider key={setting} setting={setting} shot={shot} onChange={onSetting} />
        ))}
      </div>
      <p className={section.note}>{MEANINGS[shot.origin]}</p>
    </div>
  );
}

interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly names: Readonly<Record<T, string>>;
  readonly order: readonly T[];
  readonly onChange: (value: T) => void;
}

function Choice<T extends string>({ label, value, names, order, onChange }: ChoiceProps<T>) {
  return (
    <Field label={label}>
      <Dropdown
        style={{ minWidth: "120px" }}
        value={names[value]}
        selectedOptions={[value]}
        onOptionSelect={(_, { optionValue }) => optionValue && onChange(optionValue as T)}
      >
        {order.map((one) => (
          <Option key={one} value={one}>
            {names[one]}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
