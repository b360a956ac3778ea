/** Between what the search for the best setting looks. */
import { say } from "../../experiment/language/said";
import { makeStyles } from "@fluentui/react-components";
import { Fragment } from "react";
import type { Range } from "../../experiment/setup/setup";
import { offered } from "../../experiment/shot/shootable";
import {
  boundsOf,
  searched,
  SETTING_KINDS,
  unitOf,
  type Searched,
  type ShotSettings,
} from "../../experiment/shot/shotSettings";
import { shownSetting } from "../../experiment/shot/shotWords";
import { named, NumberField } from "../fields/NumberField";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly shot: ShotSettings;
  readonly onChange: (part: Partial<ShotSettings>) => void;
}

const ENDS = [
  ["low", "from"],
  ["high", "to"],
] as const;

const useStyles = makeStyles({
  grid: {
    display: "grid",
    gridTemplateColumns: "minmax(0, 1.2fr) minmax(0, 1fr) minmax(0, 1fr)",
    gap: "6px 8px",
    alignItems: "start",
  },
});

export function SearchLimits({ shot, onChange }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const { units, limits } = shot;
  const limit = (name: Searched, end: keyof Range) => (value: number) => {
    const next = { ...limits[name], [end]: value };
    if (next.low > next.high)
      return say`The limits of ${SETTING_KINDS[name].label.toLowerCase()} are reversed: ${shownSetting(next.low, name, units)} is above ${shownSetting(next.high, name, units)}.`;
    onChange({ limits: { ...limits, [name]: next } });
    return undefined;
  };
  return (
    <div className={styles.grid} role="group" aria-label="Limits of the search">
      <span />
      <span className={section.note}>From</span>
      <span className={section.note}>To</span>
      {searched(shot).map((name) => {
        const unit = unitOf(SETTING_KINDS[name].quantity, units);
        const text = named(SETTING_KINDS[name].label, unit);
        return (
          <Fragment key={name}>
            <span>{text}</span>
            {ENDS.map(([end, said]) => (
              <NumberField
                key={end}
                unlabelled
                name={`${text} ${said}`}
                value={limits[name][end]}
                unit={unit}
                {...offered(name, shot, boundsOf(name, shot))}
                onChange={limit(name, end)}
              />
            ))}
          </Fragment>
        );
      })}
    </div>
  );
}
