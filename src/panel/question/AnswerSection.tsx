/** Why the answer is as it is: sentences first, then, folded, how it was worked out. */
import { say, toText } from "../../experiment/language/said";
import { useMemo } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import type { SessionAware } from "../../experiment/question/sessionAware";
import { answerSentences } from "../../experiment/question/answer";
import { readingErrors, readingErrorSentences, usableTwice } from "../../experiment/question/readingErrors";
import { orderNote } from "../../experiment/trust/order";
import { predictAt } from "../../experiment/question/predictAt";
import { confidenceText, decimalsFor, fixed, significant, withUnit } from "../../experiment/language/wording";
import { termTests } from "../../statistics/fit/wholeTerms";
import { Fold } from "../frame/Fold";
import { Sentences } from "../frame/Sentences";
import { SaidAtSettings } from "./SaidAtSettings";
import { SessionsNote } from "./SessionsNote";
import { useSectionStyles } from "../frame/styles";
import { TableBox } from "../frame/TableBox";
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
}

export function AnswerSection({ analysis, aware, order, twice, plainFirst, onPlainFirst }: Props) {
  const styles = useSectionStyles();
  const sentences = useMemo(
    () => [
      ...answerSentences(analysis),
      ...(order === null ? [] : orderNote(analysis, order)),
      ...readingErrorSentences(analysis, readingErrors(analysis, usableTwice(analysis, twice))),
    ],
    [analysis, order, twice],
  );
  return (
    <div className={styles.stack}>
      <Sentences sentences={sentences} />
      {aware && <SessionsNote aware={aware} plainFirst={plainFirst} onPlainFirst={onPlainFirst} />}
      <Fold title="How this was worked out" standing="coefficients, scatter, a test of each driver" part="worked-out">
        <Coefficients analysis={analysis} />
        <OfTheWhole analysis={analysis} />
        <DriverTests analysis={analysis} />
      </Fold>
    </div>
  );
}

interface AtProps {
  readonly analysis: Analysis;
  /** What was typed as settings, by heading. */
  readonly at: Readonly<Record<string, string>>;
  readonly onAt: (at: Readonly<Record<string, string>>) => void;
}

/** What to expect at settings that the reader types. */
export function AtSettings({ analysis, at, onAt }: AtProps) {
  const { sentence, read } = useMemo(() => predictAt(analysis, at), [analysis, at]);
  const { columns, regression } = analysis;
  const shown = { drivers: regression.question.drivers, columns, read, at, onAt };
  return <SaidAtSettings part="predicted-at" sentence={sentence} {...shown} />;
}

type TableProps = Pick<Props, "analysis">;

function Coefficients({ analysis: { regression, response } }: TableProps) {
  const styles = useSectionStyles();
  const percent = say`${confidenceText(regression.confidence)} %`;
  return (
    <>
      <h3 className={styles.subhead}>Coefficients</h3>
      <p className={styles.note}>
        {toText(
          say`Estimates: ${response.heading.unit || "the response's unit"} per unit of the driver; intervals at ${percent}.`,
        )}
      </p>
      <TableBox label="Coefficients">
        <table className={styles.table} data-part="coefficients">
          <TableHead first="Term" numbers={["Estimate", "Standard error", "Low", "High", "p"]} />
          <tbody>
            {regression.terms.map(({ label, estimate, standardError, low, high, p }) => {
              const decimals = decimalsFor(standardError ?? 0);
              const cell = (value: number | null) => (
                <td className="number">{value === null ? "–" : toText(fixed(value, decimals))}</td>
              );
              return (
                <tr key={label}>
                  <th scope="row">{label}</th>
                  {cell(estimate)}
                  {cell(standardError)}
                  {cell(low)}
                  {cell(high)}
                  <td className="number">{toText(shown(p, 2))}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </TableBox>
    </>
  );
}

function OfTheWhole({ analysis: { regression, response, choice } }: TableProps) {
  const styles = useSectionStyles();
  const { rSquared, residual } = regression;
  return (
    <>
      <h3 className={styles.subhead}>Of the whole</h3>
      <table className={styles.table}>
        <tbody>
          <tr>
            <th scope="row">{`Share of variation${choice.constant ? "" : " about 0"} explained`}</th>
            <td className="number">
              {rSquared === null || residual.sd === null ? "–" : toText(say`${significant(100 * rSquared, 3)} %`)}
            </td>
          </tr>
          <tr>
            <th scope="row">Residual standard deviation</th>
            <td className="number">
              {residual.sd === null ? "–" : toText(withUnit(significant(residual.sd, 3), response.heading.unit))}
            </td>
          </tr>
          <tr>
            <th scope="row">Residual degrees of freedom</th>
            <td className="number">{residual.df}</td>
          </tr>
        </tbody>
      </table>
    </>
  );
}

function DriverTests({ analysis: { regression, columns } }: TableProps) {
  const styles = useSectionStyles();
  const tests = useMemo(() => termTests(regression), [regression]);
  if (columns.length === 0) return null;
  return (
    <>
      <h3 className={styles.subhead}>Does each driver matter, given the others?</h3>
      <table className={styles.table} data-part="tests">
        <TableHead first="Driver" numbers={["F", "Degrees of freedom", "p"]} />
        <tbody>
          {tests.map(({ name, test }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td className="number">{toText(shown(test.value, 4))}</td>
              <td className="number">
                {test.df2 === null ? "–" : toText(say`${test.df1}, ${significant(test.df2, 4)}`)}
              </td>
              <td className="number">{toText(shown(test.p, 2))}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className={styles.note}>A driver is tested together with every pair that it acts in.</p>
    </>
  );
}

/** Where the rows fit exactly there is no scatter to hold a value against. */
const shown = (value: number | null, digits: number) =>
  value === null || !Number.isFinite(value) ? "–" : significant(value, digits);
