/** What each choice changed: the effects as asked and with every choice made otherwise. */
import { Dropdown, Field, Option, ProgressBar } from "@fluentui/react-components";
import { useState } from "react";
import { changedSentences, type ChangedChoices, type EffectInterval } from "../../experiment/trust/changedChoices";
import { confidenceText, decimalsFor, fixed } from "../../experiment/language/wording";
import { useSlices } from "../worker/useSlices";
import { useSectionStyles } from "../frame/styles";
import { TableHead } from "../frame/TableHead";

interface Props {
  /** Begins the work; the same function as long as the question is the same. */
  readonly make: () => Generator<number, ChangedChoices>;
  readonly confidence: number;
}

export function ChangesSection({ make, confidence }: Props) {
  const styles = useSectionStyles();
  const work = useSlices(make);
  const [wanted, setWanted] = useState<string>();
  if (work.kind === "running")
    return <ProgressBar value={work.share} aria-label="Changing one choice after the other" />;
  if (work.kind === "failed")
    return <p className={styles.note}>{`The choices could not be changed: ${work.message}.`}</p>;
  const { effects, rows, none, unit } = work.result;
  const index = Math.max(
    0,
    effects.findIndex(({ name }) => name === wanted),
  );
  const followed = effects[index];
  if (!followed) return <p className={styles.note}>Without a driver there is no effect to follow.</p>;
  const percent = `${confidenceText(confidence)} %`;
  const measured =
    none === 1
      ? "Ratio of the odds of making the shot; 1 is no effect."
      : `${unit ? `Unit: ${unit}` : "In the response's unit"}; 0 is no effect.`;
  return (
    <div className={styles.stack}>
      <Field label="Effect to follow">
        <Dropdown
          value={followed.name}
          selectedOptions={[followed.name]}
          onOptionSelect={(_, { optionValue }) => setWanted(optionValue)}
        >
          {effects.map(({ name }) => (
            <Option key={name} value={name}>
              {name}
            </Option>
          ))}
        </Dropdown>
      </Field>
      <div data-part="changed">
        {changedSentences(work.result, index).map((text) => (
          <p key={text} className={styles.sentence}>
            {text}
          </p>
        ))}
      </div>
      <p
        className={styles.note}
      >{`One choice at a time, the rest as asked, the other drivers in their middle. ${measured} ${percent} intervals, one at a time.`}</p>
      <div className={styles.scroll}>
        <table className={styles.table} data-part="changes">
          <TableHead first="Choice" numbers={["Effect", "Low", "High", "Rows"]} />
          <tbody>
            {rows.map(({ change, rows: used, effects: found, problem }) => {
              const effect = found[index];
              return (
                <tr key={change}>
                  <th scope="row">{change}</th>
                  {effect ? (
                    [effect.value, effect.low, effect.high].map((value, place) => (
                      <td key={place} className="number">
                        {value === null ? "–" : fixed(value, decimalsOf(effect))}
                      </td>
                    ))
                  ) : (
                    <td colSpan={3}>{problem ?? "not in this question"}</td>
                  )}
                  <td className="number">{used || ""}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </div>
  );
}

/** Decimals that fit an interval: a quarter of its width is about a standard error. */
function decimalsOf({ value, low, high }: EffectInterval): number {
  return low === null || high === null ? decimalsFor(Math.abs(value) / 100) : decimalsFor((high - low) / 4);
}
