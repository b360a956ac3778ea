/** Read a comparison: sentences, then the means and the pairs. */
import { useMemo } from "react";
import { comparisonSentences, type ComparisonAnswer } from "../../experiment/question/comparison";
import type { SessionAware } from "../../experiment/question/sessionAware";
import { confidenceText, decimalsFor, fixed, significant } from "../../experiment/language/wording";
import { Sentences } from "../frame/Sentences";
import { SessionsNote } from "./SessionsNote";
import type { Pairing } from "../../statistics/compare/comparison";
import { useSectionStyles } from "../frame/styles";
import { TableHead } from "../frame/TableHead";

interface Props {
  readonly answer: ComparisonAnswer;
  readonly aware: SessionAware | undefined;
  readonly plainFirst: boolean;
  readonly onPlainFirst: (plain: boolean) => void;
}

export function CompareSection({ answer, aware, plainFirst, onPlainFirst }: Props) {
  const styles = useSectionStyles();
  const { analysis, comparison, margin, reference, slope } = answer;
  const sentences = useMemo(() => comparisonSentences(answer), [answer]);
  const { response, regression, columns } = analysis;
  const unit = response.heading.unit || "the response's unit";
  const percent = `${confidenceText(regression.confidence)} %`;
  const count = comparison.pairs.length;
  const together =
    reference === undefined
      ? count === 1
        ? "the one pair"
        : `all ${count} pairs`
      : count === 1
        ? `the one comparison with "${reference}"`
        : `all ${count} comparisons with "${reference}"`;
  return (
    <div className={styles.stack}>
      {aware && <SessionsNote aware={aware} plainFirst={plainFirst} onPlainFirst={onPlainFirst} />}
      <Sentences sentences={sentences} />
      <h3 className={styles.subhead}>{`Adjusted means by ${columns[0]?.heading.name}`}</h3>
      <p
        className={styles.note}
      >{`In ${unit}, numbers at their mean and other categories with equal weight; ${percent} intervals, one at a time. The interval is of the mean, not of a single shot.`}</p>
      <div className={styles.scroll}>
        <table className={styles.table} data-part="means">
          <TableHead first="Level" numbers={["Rows", "Mean", "Low", "High"]} />
          <tbody>
            {comparison.means.map(({ level, rows, estimate }) => (
              <tr key={level}>
                <th scope="row">{level}</th>
                <td className="number">{rows}</td>
                {cells(estimate?.standardError, estimate?.value, estimate?.low, estimate?.high)}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <h3 className={styles.subhead}>Differences, first less second</h3>
      <p className={styles.note}>{`In ${unit}; ${percent} intervals and p for ${together} at once.`}</p>
      <PairTable part="pairs" pairs={comparison.pairs} margin={margin} />
      {slope && (
        <>
          <h3 className={styles.subhead}>{`Effect of ${slope.column.heading.name} at each level`}</h3>
          <p
            className={styles.note}
          >{`In ${unit} per ${slope.column.heading.unit || `unit of ${slope.column.heading.name}`}; ${percent} intervals, one at a time.`}</p>
          <div className={styles.scroll}>
            <table className={styles.table} data-part="slopes">
              <TableHead first="Level" numbers={["Rows", "Effect", "Low", "High"]} />
              <tbody>
                {slope.found.slopes.map(({ level, rows, estimate }) => (
                  <tr key={level}>
                    <th scope="row">{level}</th>
                    <td className="number">{rows}</td>
                    {cells(estimate?.standardError, estimate?.value, estimate?.low, estimate?.high)}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <p
            className={styles.note}
          >{`Differences of these effects; ${percent} intervals and p for ${together} at once.`}</p>
          <PairTable part="slope-pairs" pairs={slope.found.pairs} margin={undefined} />
        </>
      )}
    </div>
  );
}

function cells(error: number | null | undefined, ...values: (number | null | undefined)[]) {
  return values.map((value, index) => (
    <td key={index} className="number">
      {value === null || value === undefined ? "–" : fixed(value, decimalsFor(error ?? 0))}
    </td>
  ));
}

function PairTable({ part, pairs, margin }: { part: string; pairs: readonly Pairing[]; margin: number | undefined }) {
  const styles = useSectionStyles();
  return (
    <div className={styles.scroll}>
      <table className={styles.table} data-part={part}>
        <thead>
          <tr>
            <th scope="col">Pair</th>
            <th scope="col" className="number">
              Difference
            </th>
            <th scope="col" className="number">
              Low
            </th>
            <th scope="col" className="number">
              High
            </th>
            <th scope="col" className="number">
              p
            </th>
            {margin !== undefined && <th scope="col">{`Same to ${significant(margin, 4)}`}</th>}
          </tr>
        </thead>
        <tbody>
          {pairs.map(({ a, b, difference, standardError, low, high, p, equivalent }) => (
            <tr key={`${a}\n${b}`}>
              <th scope="row">{`${a} less ${b}`}</th>
              {cells(standardError, difference, low, high)}
              <td className="number">{p === null ? "–" : significant(p, 2)}</td>
              {margin !== undefined && <td>{equivalent === null ? "–" : equivalent ? "yes" : "not shown"}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
