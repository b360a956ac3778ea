/** Trust the answer: checks with what they mean and what to do, then checks by drawing anew. */
import { say, toText } from "../../experiment/language/said";
import { Button, ProgressBar } from "@fluentui/react-components";
import { useCallback, useMemo } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import { groupings } from "../../experiment/question/groupings";
import type { MadeAnalysis } from "../../experiment/question/madeAnalysis";
import { madeTrust } from "../../experiment/trust/madeTrust";
import { pullText } from "../../experiment/trust/pullText";
import { trustAnswer, trustLine, type TrustRemark } from "../../experiment/trust/trustWords";
import { useSlices } from "../worker/useSlices";
import { DrawnChecks } from "./DrawnChecks";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";

/** What was found by each check, what to do and what it means. */
function Remarks({ remarks }: { remarks: readonly TrustRemark[] }) {
  const styles = useSectionStyles();
  return remarks.map(({ title, standing, found, means, mend }) => (
    <section key={title} aria-label={title}>
      <h3 className={styles.subhead}>{`${title}${STANDING[standing]}`}</h3>
      {found.map((text) => (
        <p key={toText(text)} className={styles.sentence}>
          {toText(text)}
        </p>
      ))}
      {mend && <p className={styles.sentence}>{`What to do: ${mend}`}</p>}
      <p className={styles.note}>{toText(means)}</p>
    </section>
  ));
}

/** The same for what makes a shot. */
export function MadeTrustSection({ made, order }: { made: MadeAnalysis } & Pick<Props, "order">) {
  const styles = useSectionStyles();
  const checks = useSlices(useCallback(() => madeTrust(made, order), [made, order]));
  return (
    <div className={styles.stack}>
      <p
        className={styles.note}
      >{`What the ${made.check.used.length} rows used (of ${made.log.rows.length}) say for and against the fit. A check that finds nothing proves nothing. Drawing anew is there for numbers only.`}</p>
      {checks.kind === "running" && <ProgressBar value={checks.share} aria-label="Checking" />}
      {checks.kind === "failed" && <p className={styles.note}>{`The checks could not be made: ${checks.message}.`}</p>}
      {checks.kind === "done" && (
        <div data-part="checks" className={styles.stack}>
          <p className={styles.line} data-part="trust-line">
            {trustLine(checks.result)}
          </p>
          <Remarks remarks={checks.result} />
        </div>
      )}
    </div>
  );
}

interface Props {
  readonly analysis: Analysis;
  /** Heading of what says the order of the shots; null where it is not asked. */
  readonly order: string | null;
  /** Selects the row, by its index among the rows used. */
  readonly onPick: (row: number) => void;
  readonly theme: ThemeName;
}

const STANDING: Readonly<Record<TrustRemark["standing"], string>> = {
  good: " (no objection)",
  look: " (look at this)",
  told: "",
  untold: " (cannot be told)",
};

export function TrustSection({ analysis, order, onPick, theme }: Props) {
  const styles = useSectionStyles();
  const groups = useMemo(() => groupings(analysis), [analysis]);
  const checks = useSlices(useCallback(() => trustAnswer(analysis, groups[0]?.by, order), [analysis, groups, order]));
  const { check, log } = analysis;
  return (
    <div className={styles.stack}>
      <p
        className={styles.note}
      >{`What the ${check.used.length} rows used (of ${log.rows.length}) say for and against the fit. A check that finds nothing proves nothing: few rows hide much.`}</p>
      {checks.kind === "running" && <ProgressBar value={checks.share} aria-label="Checking" />}
      {checks.kind === "failed" && <p className={styles.note}>{`The checks could not be made: ${checks.message}.`}</p>}
      {checks.kind === "done" && (
        <div data-part="checks" className={styles.stack}>
          <p className={styles.line} data-part="trust-line">
            {trustLine(checks.result.remarks)}
          </p>
          <Remarks remarks={checks.result.remarks} />
          <section aria-label="Rows that pull hardest">
            <h3 className={styles.subhead}>Rows that pull hardest</h3>
            <ol className={styles.list}>
              {checks.result.hardest.map((pull) => (
                <li key={pull.row}>
                  <Button appearance="subtle" size="small" className={styles.entry} onClick={() => onPick(pull.row)}>
                    {toText(say`row ${(analysis.sheetRows[pull.row] ?? NaN) + 1}: ${pullText(pull)}`)}
                  </Button>
                </li>
              ))}
            </ol>
          </section>
        </div>
      )}
      <DrawnChecks analysis={analysis} groups={groups} theme={theme} />
    </div>
  );
}
