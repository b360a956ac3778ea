/** The setting that bends most within limits, and how much each setting does there. */
import { say, toText } from "../../experiment/language/said";
import { Button, Dropdown, Field, Option } from "@fluentui/react-components";
import { useState } from "react";
import type { Conditions } from "../../bank/conditions";
import { bestShot, type BestShot } from "../../experiment/shot/bestShot";
import { searched, SETTING_KINDS, type BendWanted, type ShotSettings } from "../../experiment/shot/shotSettings";
import { changeRows, shownSetting, shownSmall } from "../../experiment/shot/shotWords";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { ChangesTable } from "./ChangesTable";
import { SearchLimits } from "./SearchLimits";

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

/** What an answer of the search follows from, besides the origin; a change of one asks for another search. */
const ASKED = [
  "limits",
  "wanted",
  "constants",
  "others",
  "across",
  "along",
  "rail",
  "table",
  "room",
  "spotDistance",
  "cueRun",
] as const satisfies readonly (keyof ShotSettings)[];

export function BestSection({ shot, conditions, onChange }: Props) {
  const styles = useSectionStyles();
  const [found, setFound] = useState<{ best: BestShot | undefined; asked: ShotSettings }>();
  // A setting found from another origin says nothing about this one.
  const answer = found?.asked.origin === shot.origin ? found : undefined;
  return (
    <div className={styles.stack}>
      <p className={styles.note}>
        Looks through all of the limits, not only near the present setting, and puts the shot where along the rail its
        ball runs into the middle of the pocket&apos;s mouth that is nearest now. What nobody can shoot, shots with a
        warning, and ways that touch a rail, a jaw or the shot&apos;s own gates do not count.
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
      <SearchLimits shot={shot} onChange={onChange} />
      <Button appearance="primary" onClick={() => setFound({ best: bestShot(shot, conditions), asked: shot })}>
        Find the best setting
      </Button>
      <div role="status" data-part="best" className={styles.stack}>
        {answer?.best && (
          <Best best={answer.best} shot={shot} stale={isStale(answer.asked, shot)} onChange={onChange} />
        )}
        {answer && !answer.best && (
          <Warning text="No shot within these limits can be shot into that pocket, clear of its own layout and without a warning, and bends that way. Widen the limits, shorten the distances, or move the place on the rail so that another pocket is nearest." />
        )}
      </div>
    </div>
  );
}

/** Objects of the set-up are made anew with every look at it, so values are compared. */
const isStale = (asked: ShotSettings, shot: ShotSettings) =>
  ASKED.some((name) => JSON.stringify(asked[name]) !== JSON.stringify(shot[name]));

interface BestProps extends Pick<Props, "shot" | "onChange"> {
  readonly best: BestShot;
  /** Whether what was asked has changed since. */
  readonly stale: boolean;
}

function Best({ best, shot, stale, onChange }: BestProps) {
  const styles = useSectionStyles();
  const names = searched(shot);
  const { units } = shot;
  const settings = names.map((name) =>
    toText(say`${SETTING_KINDS[name].label.toLowerCase()} ${shownSetting(best.shot[name], name, units)}`),
  );
  const take = () => onChange(Object.fromEntries([...names, "along" as const].map((name) => [name, best.shot[name]])));
  return (
    <>
      <p className={styles.sentence}>
        {toText(
          say`Best: ${settings.join(", ")}, place on the rail ${shownSetting(best.shot.along, "along", units)}, into the ${best.pocket}. It bends ${shownSmall(Math.abs(best.bend), units)} ${best.bend > 0 ? "short" : "long"}.`,
        )}
        {stale && " The limits, the distances or the table have changed since: search again."}
      </p>
      <ChangesTable rows={changeRows(best.sensitivities, best.bend, units)} units={units} />
      <Button onClick={take}>Set the sliders to it</Button>
    </>
  );
}
