/** How far it bends: how far the fit is, settings and target, why, and the figures behind it. */
import { say, toText } from "../../experiment/language/said";
import { useMemo } from "react";
import type { Estimated } from "../../statistics/censored/censoredFit";
import { lengthText } from "../../experiment/attempts/lengthWords";
import { usualSetting, type Reach } from "../../experiment/attempts/reach";
import type { ReachChoice } from "../../experiment/attempts/reachChoice";
import { significant } from "../../experiment/language/wording";
import { buildDriver } from "../../experiment/question/buildDriver";
import { columnNamed } from "../../experiment/question/rowCheck";
import { readSetting } from "../../experiment/question/settingsAt";
import { there } from "../../there";
import { Fold } from "../frame/Fold";
import { Sentences } from "../frame/Sentences";
import { useSectionStyles } from "../frame/styles";
import { TableBox } from "../frame/TableBox";
import { TableHead } from "../frame/TableHead";
import type { ReachAsked } from "../frame/view";
import { SettingsFields } from "../question/SettingsFields";
import type { ShownReach } from "../worker/reachJob";
import { TargetFields } from "./TargetFields";

interface Props {
  readonly asked: ReachAsked;
  readonly choice: ReachChoice;
  readonly onChange: (choice: ReachChoice) => void;
}

/** What can be asked of the same attempts: other settings, a target. */
export function ReachAtSettings(props: Props) {
  const styles = useSectionStyles();
  return (
    <div className={styles.stack}>
      <AtSettings {...props} />
      <TargetFields {...props} />
    </div>
  );
}

/** Where the drivers are asked; what is left out is a number's mean, and the first level. */
function AtSettings({ asked: { question, attempts }, choice, onChange }: Props) {
  const styles = useSectionStyles();
  const { log, rows } = attempts;
  const found = useMemo(() => {
    const used = rows.map(({ index }) => index);
    const columns = question.drivers.map(({ heading }) => columnNamed(log, heading));
    return {
      columns,
      drivers: columns.map((column, i) => buildDriver(there(question.drivers[i], "a driver"), column, used)),
    };
  }, [question.drivers, log, rows]);
  if (found.columns.length === 0) return null;
  const at = choice.at ?? {};
  const read = found.drivers.map((driver, i) => {
    const { heading } = there(found.columns[i], "a column of the driver");
    return readSetting(driver, heading, at[heading.text] ?? "", usualSetting(driver));
  });
  return (
    <>
      <h3 className={styles.subhead}>At which settings</h3>
      <SettingsFields
        {...found}
        read={read}
        at={at}
        onAt={(next) => onChange({ ...choice, at: next })}
        usual={(levels) => `${levels[0] ?? ""} (the first)`}
      />
    </>
  );
}

/** Why the answer is as it is: sentences, then, folded, the figures behind them. */
export function ReachSection({ asked, shown }: { asked: ReachAsked; shown: ShownReach }) {
  const styles = useSectionStyles();
  return (
    <div className={styles.stack}>
      <Sentences sentences={shown.sentences} />
      <Fold title="How this was worked out" standing="bends with their chances, levels, coefficients" part="worked-out">
        <ReachFigures asked={asked} shown={shown} />
      </Fold>
    </div>
  );
}

function ReachFigures({ asked, shown }: { asked: ReachAsked; shown: ShownReach }) {
  const styles = useSectionStyles();
  const { reach, newSession, levels, terms } = shown;
  const { unit } = asked.attempts;
  const percent = say`${significant(100 * asked.question.confidence, 4)} %`;
  return (
    <>
      <h3 className={styles.subhead}>Bend that an attempt gets at least</h3>
      <p className={styles.note}>{toText(say`In ${unit}; ${percent} intervals by profile likelihood.`)}</p>
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
          <p className={styles.note}>
            {toText(say`Differences, first less second; ${percent} for all pairs at once.`)}
          </p>
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
      <p className={styles.note}>{toText(say`In ${unit} per unit of the driver; ${percent} intervals.`)}</p>
      <FiguresTable
        part="coefficients"
        first="Term"
        unit=""
        rows={terms.map((term) => ({ name: term.label, figure: term }))}
      />
    </>
  );
}

function ReachTable({ part, reach, unit }: { part: string; reach: readonly Reach[]; unit: string }) {
  return (
    <FiguresTable
      part={part}
      first="Chance"
      unit={unit}
      rows={reach.map((one) => ({
        name: toText(say`${significant(100 * one.probability, 4)} %`),
        figure: one,
        gap: one.gap,
      }))}
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
    <TableBox label={first}>
      <table className={styles.table} data-part={part}>
        <TableHead first={first} numbers={["Bend", "Low", "High", ...(gaps ? ["Gap"] : [])]} />
        <tbody>
          {rows.map(({ name, figure, gap }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {[figure.estimate, figure.low, figure.high, ...(gap === undefined ? [] : [gap])].map((value, index) => (
                <td key={index} className="number">
                  {value === null ? "–" : toText(lengthText(figure, unit, value))}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}
