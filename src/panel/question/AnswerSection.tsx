/** Read the answer: sentences first, then the figures behind them. */
import { useMemo } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import type { SessionAware } from "../../experiment/question/sessionAware";
import { answerSentences } from "../../experiment/question/answer";
import { readingErrors, readingErrorSentences, usableTwice } from "../../experiment/question/readingErrors";
import { orderNote } from "../../experiment/trust/order";
import { predictAt } from "../../experiment/question/predictAt";
import { confidenceText, decimalsFor, fixed, significant, withUnit } from "../../experiment/language/wording";
import { termTests } from "../../statistics/fit/wholeTerms";
import { Sentences } from "../frame/Sentences";
import { SettingsFields } from "./SettingsFields";
import { SessionsNote } from "./SessionsNote";
import { useSectionStyles } from "../frame/styles";
import { TableHead } from "../frame/TableHead";

interface Props {
  readonly analysis: Analysis;
  /** What the sessions mean for the plain fit, when they matter. */
  readonly aware: SessionAware | undefined;
  /** Heading of what says the order of the shots; null where it is not asked. */
  readonly order: string | null;
  /** Second readings, by the driver that was read twice. */
  readonly twice: Readonly<Record<string, string>>;
  readonly plainFirst: boolean;
  readonly onPlainFirst: (plain: boolean) => void;
  /** What was typed as settings, by heading. */
  readonly at: Readonly<Record<string, string>>;
  readonly onAt: (at: Readonly<Record<string, string>>) => void;
}

export function AnswerSection({ analysis, aware, order, twice, plainFirst, onPlainFirst, at, onAt }: Props) {
  const styles = useSectionStyles();
  const { regression, response, columns } = analysis;
  const sentences = useMemo(
    () => [
      ...answerSentences(analysis),
      ...(order === null ? [] : orderNote(analysis, order)),
      ...readingErrorSentences(analysis, readingErrors(analysis, usableTwice(analysis, twice))),
    ],
    [analysis, order, twice],
  );
  const predicted = useMemo(() => predictAt(analysis, at), [analysis, at]);
  const tests = useMemo(() => termTests(regression), [regression]);
  const unit = response.heading.unit;
  const percent = `${confidenceText(regression.confidence)} %`;
  return (
    <div className={styles.stack}>
      {aware && <SessionsNote aware={aware} plainFirst={plainFirst} onPlainFirst={onPlainFirst} />}
      <Sentences sentences={sentences} />
      {columns.length > 0 && (
        <>
          <h3 className={styles.subhead}>What to expect at settings of yours</h3>
          <SettingsFields
            drivers={regression.question.drivers}
            columns={columns}
            read={predicted.read}
            at={at}
            onAt={onAt}
          />
          {predicted.sentence && (
            <p className={styles.sentence} role="status" data-part="predicted-at">
              {predicted.sentence}
            </p>
          )}
        </>
      )}
      <h3 className={styles.subhead}>Coefficients</h3>
      <p
        className={styles.note}
      >{`Estimates: ${unit || "the response's unit"} per unit of the driver; intervals at ${percent}.`}</p>
      <div className={styles.scroll}>
        <table className={styles.table} data-part="coefficients">
          <TableHead first="Term" numbers={["Estimate", "Standard error", "Low", "High", "p"]} />
          <tbody>
            {regression.terms.map(({ label, estimate, standardError, low, high, p }) => {
              const decimals = decimalsFor(standardError ?? 0);
              const cell = (value: number | null) => (
                <td className="number">{value === null ? "–" : fixed(value, decimals)}</td>
              );
              return (
                <tr key={label}>
                  <th scope="row">{label}</th>
                  {cell(estimate)}
                  {cell(standardError)}
                  {cell(low)}
                  {cell(high)}
                  <td className="number">{shown(p, 2)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <h3 className={styles.subhead}>Of the whole</h3>
      <table className={styles.table}>
        <tbody>
          <tr>
            <th scope="row">{`Share of variation${analysis.choice.constant ? "" : " about 0"} explained`}</th>
            <td className="number">
              {regression.rSquared === null || regression.residual.sd === null
                ? "–"
                : `${significant(100 * regression.rSquared, 3)} %`}
            </td>
          </tr>
          <tr>
            <th scope="row">Residual standard deviation</th>
            <td className="number">
              {regression.residual.sd === null ? "–" : withUnit(significant(regression.residual.sd, 3), unit)}
            </td>
          </tr>
          <tr>
            <th scope="row">Residual degrees of freedom</th>
            <td className="number">{regression.residual.df}</td>
          </tr>
        </tbody>
      </table>
      {columns.length > 0 && (
        <>
          <h3 className={styles.subhead}>Does each driver matter, given the others?</h3>
          <table className={styles.table} data-part="tests">
            <TableHead first="Driver" numbers={["F", "Degrees of freedom", "p"]} />
            <tbody>
              {tests.map(({ name, test }) => (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  <td className="number">{shown(test.value, 4)}</td>
                  <td className="number">{test.df2 === null ? "–" : `${test.df1}, ${significant(test.df2, 4)}`}</td>
                  <td className="number">{shown(test.p, 2)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <p className={styles.note}>A driver is tested together with every pair that it acts in.</p>
        </>
      )}
    </div>
  );
}

/** Where the rows fit exactly there is no scatter to hold a value against. */
const shown = (value: number | null, digits: number) =>
  value === null || !Number.isFinite(value) ? "–" : significant(value, digits);
