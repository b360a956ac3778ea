/** The bootstrap and the permutation test, made in the worker, beside the plain answer. */
import { MessageBar, MessageBarBody } from "@fluentui/react-components";
import { useEffect, useState } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import type { groupings } from "../../experiment/question/groupings";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { useJob } from "../worker/useJob";
import { DrawnIntervals } from "./DrawnIntervals";
import { DrawsFields, SINGLE, useDraws } from "./DrawsFields";
import { ExchangedRows } from "./ExchangedRows";

interface Props {
  readonly analysis: Analysis;
  readonly groups: ReturnType<typeof groupings>;
  readonly theme: ThemeName;
}

export function DrawnChecks({ analysis, groups, theme }: Props) {
  const styles = useSectionStyles();
  const { errors } = analysis.regression.question;
  const named = errors && errors.kind !== "robust" ? errors.by : undefined;
  const choices = [...(named ? [named] : []), ...groups.map(({ by }) => by)].filter(
    (by, index, all) => all.findIndex(({ name }) => name === by.name) === index,
  );
  const draws = useDraws();
  const [wanted, setWanted] = useState<string>();
  const group = wanted === SINGLE ? undefined : (choices.find(({ name }) => name === wanted) ?? named);
  const bootstrap = useJob("bootstrap");
  const permutation = useJob("permutation");
  const { cancel: endBootstrap } = bootstrap;
  const { cancel: endPermutation } = permutation;
  // Draws for rows or a question that have changed say nothing any more.
  useEffect(() => {
    endBootstrap();
    endPermutation();
  }, [analysis, endBootstrap, endPermutation]);

  const failure = [bootstrap.state, permutation.state].find((state) => state.kind === "failed");
  if (analysis.regression.residual.sd === null)
    return <p className={styles.note}>There are no rows to spare, so drawing anew tells nothing.</p>;
  return (
    <section aria-label="Drawn anew" className={styles.stack}>
      <h3 className={styles.subhead}>Drawn anew</h3>
      <p className={styles.note}>
        Intervals and p-values of the answer lean on an idea of how shots scatter. These lean on the rows alone: rows
        drawn again and again with replacement, and rows exchanged. They take the rows as they are and cannot see what
        no row shows.
      </p>
      <DrawsFields
        draws={draws}
        groups={choices.map(({ name }) => name)}
        group={group?.name ?? SINGLE}
        onGroup={setWanted}
      />
      <DrawnIntervals analysis={analysis} job={bootstrap} draws={draws} theme={theme} group={group} />
      {analysis.columns.length > 0 && (
        <ExchangedRows analysis={analysis} job={permutation} draws={draws} group={group} />
      )}
      {failure?.kind === "failed" && (
        <MessageBar intent="warning" layout="multiline">
          <MessageBarBody>{`That could not be drawn: ${failure.message}.`}</MessageBarBody>
        </MessageBar>
      )}
    </section>
  );
}
