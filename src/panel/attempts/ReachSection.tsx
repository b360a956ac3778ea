/** Read how far it bends: sentences, the target, the figures behind them. */
import { Field, Input } from "@fluentui/react-components";
import { useMemo } from "react";
import type { Estimated } from "../../statistics/censored/censoredFit";
import { levelReaches } from "../../experiment/attempts/levelReach";
import { lengthText } from "../../experiment/attempts/lengthWords";
import type { Reach, ReachAnswer } from "../../experiment/attempts/reach";
import type { ReachChoice } from "../../experiment/attempts/reachChoice";
import { reachSentences } from "../../experiment/attempts/reachWords";
import { targetSentence } from "../../experiment/attempts/targetWords";
import { significant } from "../../experiment/language/wording";
import { Sentences } from "../frame/Sentences";
import { useSectionStyles } from "../frame/styles";
import { TableHead } from "../frame/TableHead";

interface Props {
  readonly answer: ReachAnswer;
  readonly choice: ReachChoice;
  readonly onChange: (choice: ReachChoice) => void;
}

export function ReachSection({ answer, choice, onChange }: Props) {
  const styles = useSectionStyles();
  const sentences = useMemo(() => reachSentences(answer), [answer]);
  const levels = useMemo(() => levelReaches(answer), [answer]);
  const asked = useMemo(
    () => targetSentence(answer, choice.target, choice.tries),
    [answer, choice.target, choice.tries],
  );
  const { attempts, fit, reach, newSession } = answer;
  const percent = `${significant(100 * fit.confidence, 4)} %`;
  const unit = attempts.unit;
  return (
    <div className={styles.stack}>
      <Sentences sentences={sentences} />
      <h3 className={styles.subhead}>How likely is a target?</h3>
      <Field label={`Bend to get by (${unit})`}>
        <Input value={choice.target} onChange={(_, { value }) => onChange({ ...choice, target: value })} />
      </Field>
      <Field label="In so many tries of one session" hint="Empty is one.">
        <Input
          value={choice.tries}
          inputMode="numeric"
          onChange={(_, { value }) => onChange({ ...choice, tries: value })}
        />
      </Field>
      {asked && (
        <p className={styles.sentence} role="status" data-part="target">
          {asked}
        </p>
      )}
      <h3 className={styles.subhead}>Bend that an attempt gets at least</h3>
      <p className={styles.note}>{`In ${unit}; ${percent} intervals by profile likelihood.`}</p>
      <ReachTable part="reach" reach={reach} unit={unit} />
      {newSession && (
        <>
          <h3 className={styles.subhead}>The same in a session yet to come</h3>
          <ReachTable part="new-session" reach={newSession} unit={unit} />
        </>
      )}
      {levels.map(({ heading, levels: of, pairs }) => (
        <div key={heading} className={styles.stack}>
          <h3 className={styles.subhead}>{`Bend at one half by ${heading}`}</h3>
          <FiguresTable
            part="levels"
            first={heading}
            unit={unit}
            rows={of.map(({ level, half }) => ({ name: level, figure: half }))}
          />
          <p className={styles.note}>{`Differences, first less second; ${percent} for all pairs at once.`}</p>
          <FiguresTable
            part="pairs"
            first="Pair"
            unit={unit}
            rows={pairs.map(({ first, second, difference }) => ({
              name: `${first} less ${second}`,
              figure: difference,
            }))}
          />
        </div>
      ))}
      <h3 className={styles.subhead}>Coefficients</h3>
      <p className={styles.note}>{`In ${unit} per unit of the driver; ${percent} intervals.`}</p>
      <FiguresTable
        part="coefficients"
        first="Term"
        unit=""
        rows={fit.terms.map((term) => ({ name: term.label, figure: term }))}
      />
    </div>
  );
}

function ReachTable({ part, reach, unit }: { part: string; reach: readonly Reach[]; unit: string }) {
  return (
    <FiguresTable
      part={part}
      first="Chance"
      unit={unit}
      rows={reach.map((one) => ({ name: `${significant(100 * one.probability, 4)} %`, figure: one, gap: one.gap }))}
    />
  );
}

interface Row {
  readonly name: string;
  readonly figure: Estimated;
  readonly gap?: number | null;
}

function FiguresTable({
  part,
  first,
  unit,
  rows,
}: {
  part: string;
  first: string;
  unit: string;
  rows: readonly Row[];
}) {
  const styles = useSectionStyles();
  const gaps = rows.some(({ gap }) => gap !== undefined);
  return (
    <div className={styles.scroll}>
      <table className={styles.table} data-part={part}>
        <TableHead first={first} numbers={["Bend", "Low", "High", ...(gaps ? ["Gap"] : [])]} />
        <tbody>
          {rows.map(({ name, figure, gap }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {[figure.estimate, figure.low, figure.high, ...(gap === undefined ? [] : [gap])].map((value, index) => (
                <td key={index} className="number">
                  {value === null ? "–" : lengthText(figure, unit, value)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
