/** Why a comparison is as it is: sentences, then, folded, the means and the pairs. */
import { say, toText } from "../../experiment/language/said";
import { useMemo } from "react";
import { comparisonSentences, type ComparisonAnswer } from "../../experiment/question/comparison";
import type { SessionAware } from "../../experiment/question/sessionAware";
import { confidenceText, decimalsFor, fixed, significant } from "../../experiment/language/wording";
import { Fold } from "../frame/Fold";
import { Sentences } from "../frame/Sentences";
import { SessionsNote } from "./SessionsNote";
import type { Pairing } from "../../statistics/compare/comparison";
import { useSectionStyles } from "../frame/styles";
import { TableBox } from "../frame/TableBox";
import { TableHead } from "../frame/TableHead";

interface Props {
  readonly answer: ComparisonAnswer;
  readonly aware: SessionAware | undefined;
  readonly plainFirst: boolean;
  readonly onPlainFirst: (plain: boolean) => void;
}

export function CompareSection({ answer, aware, plainFirst, onPlainFirst }: Props) {
  const styles = useSectionStyles();
  const sentences = useMemo(() => comparisonSentences(answer), [answer]);
  return (
    <div className={styles.stack}>
      <Sentences sentences={sentences} />
      {aware && <SessionsNote aware={aware} plainFirst={plainFirst} onPlainFirst={onPlainFirst} />}
      <Fold title="How this was worked out" standing="adjusted means, differences with p" part="worked-out">
        <Means answer={answer} />
        <Differences answer={answer} />
        <Slopes answer={answer} />
      </Fold>
    </div>
  );
}

type TableProps = Pick<Props, "answer">;

const unitOf = ({ analysis: { response } }: ComparisonAnswer) => response.heading.unit || "the response's unit";
const percentOf = ({ analysis: { regression } }: ComparisonAnswer) => say`${confidenceText(regression.confidence)} %`;

/** What the intervals hold for at once. */
function togetherOf({ comparison, reference }: ComparisonAnswer): string {
  const count = comparison.pairs.length;
  if (reference === undefined) return count === 1 ? "the one pair" : `all ${count} pairs`;
  return count === 1 ? `the one comparison with "${reference}"` : `all ${count} comparisons with "${reference}"`;
}

function Means({ answer }: TableProps) {
  const styles = useSectionStyles();
  return (
    <>
      <h3 className={styles.subhead}>{`Adjusted means by ${answer.analysis.columns[0]?.heading.name}`}</h3>
      <p className={styles.note}>
        {toText(
          say`In ${unitOf(answer)}, numbers at their mean and other categories with equal weight; ${percentOf(answer)} intervals, one at a time. The interval is of the mean, not of a single shot.`,
        )}
      </p>
      <LevelTable part="means" number="Mean" rows={answer.comparison.means} />
    </>
  );
}

function Differences({ answer }: TableProps) {
  const styles = useSectionStyles();
  return (
    <>
      <h3 className={styles.subhead}>Differences, first less second</h3>
      <p className={styles.note}>
        {toText(say`In ${unitOf(answer)}; ${percentOf(answer)} intervals and p for ${togetherOf(answer)} at once.`)}
      </p>
      <PairTable part="pairs" pairs={answer.comparison.pairs} margin={answer.margin} />
    </>
  );
}

function Slopes({ answer }: TableProps) {
  const styles = useSectionStyles();
  const { slope } = answer;
  if (!slope) return null;
  const { heading } = slope.column;
  return (
    <>
      <h3 className={styles.subhead}>{`Effect of ${heading.name} at each level`}</h3>
      <p className={styles.note}>
        {toText(
          say`In ${unitOf(answer)} per ${heading.unit || `unit of ${heading.name}`}; ${percentOf(answer)} intervals, one at a time.`,
        )}
      </p>
      <LevelTable part="slopes" number="Effect" rows={slope.found.slopes} />
      <p className={styles.note}>
        {toText(
          say`Differences of these effects; ${percentOf(answer)} intervals and p for ${togetherOf(answer)} at once.`,
        )}
      </p>
      <PairTable part="slope-pairs" pairs={slope.found.pairs} margin={undefined} />
    </>
  );
}

interface LevelProps {
  readonly part: string;
  /** Heading of what is estimated. */
  readonly number: string;
  readonly rows: ComparisonAnswer["comparison"]["means"];
}

function LevelTable({ part, number, rows }: LevelProps) {
  const styles = useSectionStyles();
  return (
    <TableBox label="Levels">
      <table className={styles.table} data-part={part}>
        <TableHead first="Level" numbers={["Rows", number, "Low", "High"]} />
        <tbody>
          {rows.map(({ level, rows: count, estimate }) => (
            <tr key={level}>
              <th scope="row">{level}</th>
              <td className="number">{count}</td>
              {cells(estimate?.standardError, estimate?.value, estimate?.low, estimate?.high)}
            </tr>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}

function cells(error: number | null | undefined, ...values: (number | null | undefined)[]) {
  return values.map((value, index) => (
    <td key={index} className="number">
      {value === null || value === undefined ? "–" : toText(fixed(value, decimalsFor(error ?? 0)))}
    </td>
  ));
}

function PairTable({ part, pairs, margin }: { part: string; pairs: readonly Pairing[]; margin: number | undefined }) {
  const styles = useSectionStyles();
  return (
    <TableBox label="Pairs">
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
            {margin !== undefined && <th scope="col">{toText(say`Same to ${significant(margin, 4)}`)}</th>}
          </tr>
        </thead>
        <tbody>
          {pairs.map(({ a, b, difference, standardError, low, high, p, equivalent }) => (
            <tr key={`${a}\n${b}`}>
              <th scope="row">{`${a} less ${b}`}</th>
              {cells(standardError, difference, low, high)}
              <td className="number">{p === null ? "–" : toText(significant(p, 2))}</td>
              {margin !== undefined && <td>{equivalent === null ? "–" : equivalent ? "yes" : "not shown"}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}
