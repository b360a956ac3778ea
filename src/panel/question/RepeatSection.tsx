/** How repeatable the ruler readings are, where marks were measured more than once. */
import { Dropdown, Field, Option, ProgressBar } from "@fluentui/react-components";
import { useCallback, useMemo, useState } from "react";
import { NoAnswer } from "../../experiment/question/analysis";
import type { Sentence } from "../../experiment/question/answer";
import { repeatedColumns } from "../../experiment/log/repeatedColumns";
import { analyseRepeatability, repeatabilitySentences } from "../../experiment/measure/repeatability";
import { UnknownColumn } from "../../experiment/question/rowCheck";
import type { LogColumn, TrialLog } from "../../experiment/log/trialLog";
import { useSlices } from "../worker/useSlices";
import { Sentences } from "../frame/Sentences";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly log: TrialLog;
  readonly confidence: number;
}

const TOGETHER = "all rows together";

/** Nothing where no marks were measured twice. */
export function RepeatSection({ log, confidence }: Props) {
  const styles = useSectionStyles();
  const groups = useMemo(() => repeatedColumns(log), [log]);
  const levels = log.columns.filter(({ kind }) => kind === "category");
  const [wanted, setWanted] = useState<string>();
  const by = levels.find(({ heading }) => heading.text === wanted)?.heading.text;
  const work = useSlices(useCallback(() => eachGroup(log, groups, by, confidence), [log, groups, by, confidence]));
  if (groups.length === 0) return null;
  return (
    <section aria-label="Readings taken more than once">
      <h3 className={styles.subhead}>Readings taken more than once</h3>
      {levels.length > 0 && (
        <Field label="Set beside each other">
          <Dropdown
            value={by ?? TOGETHER}
            selectedOptions={[by ?? ""]}
            onOptionSelect={(_, { optionValue }) => setWanted(optionValue)}
          >
            <Option value="" text={TOGETHER}>
              {TOGETHER}
            </Option>
            {levels.map(({ heading }) => (
              <Option key={heading.text} value={heading.text}>
                {heading.text}
              </Option>
            ))}
          </Dropdown>
        </Field>
      )}
      {work.kind === "running" && <ProgressBar value={work.share} aria-label="Comparing readings" />}
      {work.kind === "failed" && (
        <p className={styles.note}>{`The readings could not be compared: ${work.message}.`}</p>
      )}
      {work.kind === "done" &&
        work.result.map((sentences, index) => <Sentences key={index} sentences={sentences} part="repeated" />)}
    </section>
  );
}

function* eachGroup(
  log: TrialLog,
  groups: readonly (readonly LogColumn[])[],
  by: string | undefined,
  confidence: number,
): Generator<number, (readonly Sentence[])[]> {
  const found: (readonly Sentence[])[] = [];
  for (const group of groups) {
    yield found.length / groups.length;
    try {
      found.push(
        repeatabilitySentences(
          analyseRepeatability(log, {
            readings: group.map(({ heading }) => heading.text),
            confidence,
            ...(by !== undefined && { by: [by] }),
          }),
        ),
      );
    } catch (problem) {
      if (!(problem instanceof NoAnswer || problem instanceof UnknownColumn)) throw problem;
      found.push([{ kind: "missing", text: problem.message }]);
    }
  }
  return found;
}
