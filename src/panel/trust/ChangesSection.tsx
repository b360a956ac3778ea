/** What each choice changed: the effects as asked and with every choice made otherwise, as intervals side by side. */
import { toText } from "../../experiment/language/said";
import { Dropdown, Field, Option, ProgressBar } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { changedSentences, type ChangedChoices, type EffectInterval } from "../../experiment/trust/changedChoices";
import { decimalsFor, fixed } from "../../experiment/language/wording";
import { Fold } from "../frame/Fold";
import type { ThemeName } from "../frame/palette";
import { FigureView } from "../plots/FigureView";
import { changedFigure } from "../plots/trustFigures";
import { useSlices } from "../worker/useSlices";
import { useSectionStyles } from "../frame/styles";
import { TableBox } from "../frame/TableBox";
import { TableHead } from "../frame/TableHead";

interface Props {
  /** Begins the work; the same function as long as the question is the same. */
  readonly make: () => Generator<number, ChangedChoices>;
  readonly confidence: number;
  readonly theme: ThemeName;
}

export function ChangesSection({ make, confidence, theme }: Props) {
  const styles = useSectionStyles();
  const work = useSlices(make);
  if (work.kind === "running")
    return <ProgressBar value={work.share} aria-label="Changing one choice after the other" />;
  if (work.kind === "failed")
    return <p className={styles.note}>{`The choices could not be changed: ${work.message}.`}</p>;
  if (work.result.effects.length === 0)
    return <p className={styles.note}>Without a driver there is no effect to follow.</p>;
  return <Followed changed={work.result} confidence={confidence} theme={theme} />;
}

type FollowedProps = Omit<Props, "make"> & { readonly changed: ChangedChoices };

/** One effect through all choices. */
function Followed({ changed, confidence, theme }: FollowedProps) {
  const styles = useSectionStyles();
  const [wanted, setWanted] = useState<string>();
  const { effects } = changed;
  const index = Math.max(
    0,
    effects.findIndex(({ name }) => toText(name) === wanted),
  );
  const figure = useMemo(() => changedFigure(changed, index, confidence), [changed, index, confidence]);
  return (
    <div className={styles.stack}>
      <div data-part="changed">
        {changedSentences(changed, index).map((text) => (
          <p key={toText(text)} className={styles.sentence}>
            {toText(text)}
          </p>
        ))}
      </div>
      <FigureView figure={figure} theme={theme} />
      <Field label="Effect to follow">
        <Dropdown
          value={toText(effects[index]?.name ?? "")}
          selectedOptions={[toText(effects[index]?.name ?? "")]}
          onOptionSelect={(_, { optionValue }) => setWanted(optionValue)}
        >
          {effects
            .map(({ name }) => toText(name))
            .map((name) => (
              <Option key={name} value={name}>
                {name}
              </Option>
            ))}
        </Dropdown>
      </Field>
      <Fold
        title="How this was worked out"
        standing="each choice with its rows, or why it has no answer"
        part="worked-out"
      >
        <ChangesTable changed={changed} index={index} />
      </Fold>
    </div>
  );
}

function ChangesTable({ changed: { rows }, index }: { readonly changed: ChangedChoices; readonly index: number }) {
  const styles = useSectionStyles();
  return (
    <TableBox label="Choices made otherwise">
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
                      {value === null ? "–" : toText(fixed(value, decimalsOf(effect)))}
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
    </TableBox>
  );
}

/** Decimals that fit an interval: a quarter of its width is about a standard error. */
function decimalsOf({ value, low, high }: EffectInterval): number {
  return low === null || high === null ? decimalsFor(Math.abs(value) / 100) : decimalsFor((high - low) / 4);
}
