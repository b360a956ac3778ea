/** The setting that bends most within limits, and how much each setting does there. */
import { Button, Dropdown, Field, MessageBar, MessageBarBody, Option } from "@fluentui/react-components";
import { Fragment, useState } from "react";
import { bestShot, type BestShot } from "../../experiment/shot/bestShot";
import type { Conditions } from "../../bank/conditions";
import type { Range } from "../../experiment/setup/setup";
import {
  boundsOf,
  searched,
  SETTING_KINDS,
  unitOf,
  type Searched,
  type ShotSettings,
  type BendWanted,
} from "../../experiment/shot/shotSettings";
import { offered } from "../../experiment/shot/shootable";
import { changeRows, shownSetting, shownSmall } from "../../experiment/shot/shotWords";
import { useSectionStyles } from "../frame/styles";
import { ChangesTable } from "./ChangesTable";
import { named, NumberField } from "../fields/NumberField";

interface Props {
  readonly shot: ShotSettings;
  readonly conditions: Conditions;
  readonly onChange: (part: Partial<ShotSettings>) => void;
}

const WANTED: Readonly<Record<BendWanted, string>> = {
  either: "most bend, either way",
  short: "most bend short",
  long: "most bend long",
};

export function BestSection({ shot, conditions, onChange }: Props) {
  const styles = useSectionStyles();
  const [found, setFound] = useState<{ best: BestShot | undefined; asked: ShotSettings }>();
  const { units, limits } = shot;
  const names = searched(shot);
  const limit = (name: Searched, end: keyof Range) => (value: number) => {
    const next = { ...limits[name], [end]: value };
    if (next.low > next.high)
      return `The limits of ${SETTING_KINDS[name].label.toLowerCase()} are reversed: ${shownSetting(next.low, name, units)} is above ${shownSetting(next.high, name, units)}.`;
    onChange({ limits: { ...limits, [name]: next } });
    return undefined;
  };
  const stale =
    found &&
    (found.asked.limits !== limits ||
      found.asked.wanted !== shot.wanted ||
      found.asked.constants !== shot.constants ||
      found.asked.across !== shot.across ||
      found.asked.along !== shot.along ||
      found.asked.rail !== shot.rail ||
      found.asked.spotDistance !== shot.spotDistance ||
      found.asked.cueRun !== shot.cueRun);
  // A setting found from another origin says nothing about this one.
  const best = found?.asked.origin === shot.origin ? found.best : undefined;
  return (
    <div className={styles.stack}>
      <p className={styles.note}>
        Looks through all of the limits, not only near the present setting, and puts the shot where along the rail its
        ball runs into the middle of the pocket's mouth that is nearest now. What nobody can shoot, shots with a
        warning, and ways that touch a rail, a jaw or the shot's own gates do not count.
      </p>
      <Field label="Look for">
        <Dropdown
          value={WANTED[shot.wanted]}
          selectedOptions={[shot.wanted]}
          onOptionSelect={(_, { optionValue }) => optionValue && onChange({ wanted: optionValue as BendWanted })}
        >
          {Object.entries(WANTED).map(([value, text]) => (
            <Option key={value} value={value}>
              {text}
            </Option>
          ))}
        </Dropdown>
      </Field>
      <div
        style={{
          display: "grid",
          gridTemplateColumns: "minmax(0, 1.2fr) minmax(0, 1fr) minmax(0, 1fr)",
          gap: "6px 8px",
          alignItems: "start",
        }}
        role="group"
        aria-label="Limits of the search"
      >
        <span />
        <span className={styles.note}>From</span>
        <span className={styles.note}>To</span>
        {names.map((name) => {
          const { label, quantity } = SETTING_KINDS[name];
          const unit = unitOf(quantity, units);
          const text = named(label, unit);
          const { low, high } = offered(name, shot, boundsOf(name, shot));
          return (
            <Fragment key={name}>
              <span>{text}</span>
              <NumberField
                unlabelled
                name={`${text} from`}
                value={limits[name].low}
                unit={unit}
                low={low}
                high={high}
                onChange={limit(name, "low")}
              />
              <NumberField
                unlabelled
                name={`${text} to`}
                value={limits[name].high}
                unit={unit}
                low={low}
                high={high}
                onChange={limit(name, "high")}
              />
            </Fragment>
          );
        })}
      </div>
      <Button appearance="primary" onClick={() => setFound({ best: bestShot(shot, conditions), asked: shot })}>
        Find the best setting
      </Button>
      <div role="status" data-part="best" className={styles.stack}>
        {found?.asked.origin === shot.origin && !best && (
          <MessageBar intent="warning" layout="multiline">
            <MessageBarBody>
              No shot within these limits can be shot into that pocket, clear of its own layout and without a warning,
              and bends that way. Widen the limits, shorten the distances, or move the place on the rail so that another
              pocket is nearest.
            </MessageBarBody>
          </MessageBar>
        )}
        {best && (
          <>
            <p className={styles.sentence}>
              {`Best: ${names.map((name) => `${SETTING_KINDS[name].label.toLowerCase()} ${shownSetting(best.shot[name], name, units)}`).join(", ")}, place on the rail ${shownSetting(best.shot.along, "along", units)}, into the ${best.pocket}. It bends ${shownSmall(Math.abs(best.bend), units)} ${best.bend > 0 ? "short" : "long"}.`}
              {stale && " The limits, the distances or the table have changed since: search again."}
            </p>
            <ChangesTable rows={changeRows(best.sensitivities, best.bend, units)} units={units} />
            <Button
              onClick={() =>
                onChange(Object.fromEntries([...names, "along" as const].map((name) => [name, best.shot[name]])))
              }
            >
              Set the sliders to it
            </Button>
          </>
        )}
      </div>
    </div>
  );
}
