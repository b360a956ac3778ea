/** Intervals from rows drawn again and again, beside those of the answer. */
import { say, toText } from "../../experiment/language/said";
import { Button } from "@fluentui/react-components";
import { useState } from "react";
import { confidenceText, decimalsFor, fixed } from "../../experiment/language/wording";
import type { Analysis } from "../../experiment/question/analysis";
import { bootstrapSentences, type BootstrapOrder } from "../../experiment/trust/drawnChecks";
import { Fold } from "../frame/Fold";
import type { ThemeName } from "../frame/palette";
import { FigureView } from "../plots/FigureView";
import { drawnFigure } from "../plots/trustFigures";
import { Sentences } from "../frame/Sentences";
import { useSectionStyles } from "../frame/styles";
import { TableBox } from "../frame/TableBox";
import { TableHead } from "../frame/TableHead";
import { JobBar } from "../worker/JobBar";
import type { Job } from "../worker/useJob";
import type { Draws } from "./DrawsFields";

interface Props {
  readonly analysis: Analysis;
  readonly job: Job<"bootstrap">;
  readonly draws: Draws;
  readonly theme: ThemeName;
  /** Rows that are drawn together. */
  readonly group: BootstrapOrder["by"];
}

export function DrawnIntervals({ analysis, job, draws: { count, seed }, theme, group }: Props) {
  const { regression } = analysis;
  const { question } = regression;
  const [drawn, setDrawn] = useState<BootstrapOrder>();
  const start = () => {
    if (seed === undefined) return;
    const order = { question, draws: count, seed, ...(group && { by: group }) };
    setDrawn(order);
    job.start(order);
  };
  return (
    <>
      {job.state.kind === "running" ? (
        <JobBar doing="Drawing rows" share={job.state.share} onCancel={job.cancel} />
      ) : (
        <Button
          disabled={seed === undefined}
          onClick={start}
        >{`Check the intervals by ${count.toLocaleString("en")} draws`}</Button>
      )}
      {job.state.kind === "done" && drawn?.question === question && (
        <>
          <Sentences sentences={bootstrapSentences(regression, job.state.answer, drawn)} part="bootstrap" />
          <FigureView figure={drawnFigure(analysis, job.state.answer.terms)} theme={theme} />
          <Fold title="How this was worked out" standing="the coefficients, both ways" part="worked-out">
            <TermsTable analysis={analysis} drawn={job.state.answer.terms} />
          </Fold>
        </>
      )}
    </>
  );
}

interface TableProps {
  readonly analysis: Analysis;
  readonly drawn: readonly { readonly label: string; readonly low: number | null; readonly high: number | null }[];
}

function TermsTable({ analysis: { regression, response }, drawn }: TableProps) {
  const styles = useSectionStyles();
  const percent = say`${confidenceText(regression.confidence)} %`;
  const unit = response.heading.unit || "the response's unit";
  return (
    <>
      <TableBox label="Intervals drawn anew">
        <table className={styles.table} data-part="bootstrap-terms">
          <TableHead first="Term" numbers={["Answer: low", "high", "Draws: low", "high"]} />
          <tbody>
            {drawn.map(({ label, low, high }, index) => {
              const plain = regression.terms[index];
              const decimals = decimalsFor(plain?.standardError ?? 0);
              return (
                <tr key={label}>
                  <th scope="row">{label}</th>
                  {[plain?.low ?? null, plain?.high ?? null, low, high].map((value, place) => (
                    <td key={place} className="number">
                      {value === null ? "–" : toText(fixed(value, decimals))}
                    </td>
                  ))}
                </tr>
              );
            })}
          </tbody>
        </table>
      </TableBox>
      <p className={styles.note}>
        {toText(say`${percent} intervals of the coefficients (${unit} per unit of the driver).`)}
      </p>
    </>
  );
}
