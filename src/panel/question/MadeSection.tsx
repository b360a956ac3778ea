/** Why the success rate is as it is: sentences first, then, folded, how it was worked out. */
import { say, toText } from "../../experiment/language/said";
import { useMemo } from "react";
import { madeSentences, type MadeAnalysis } from "../../experiment/question/madeAnalysis";
import type { MadeSessions } from "../../experiment/question/madeSessions";
import { madeOrderNote } from "../../experiment/trust/madeOrder";
import { rateAt, rateRows } from "../../experiment/question/madeRates";
import { chanceText, confidenceText, decimalsFor, fixed, significant } from "../../experiment/language/wording";
import { Fold } from "../frame/Fold";
import { Sentences } from "../frame/Sentences";
import { SessionsNote } from "./SessionsNote";
import { useSectionStyles } from "../frame/styles";
import { SaidAtSettings } from "./SaidAtSettings";
import { TableBox } from "../frame/TableBox";
import { TableHead } from "../frame/TableHead";

interface Props {
  readonly made: MadeAnalysis;
  /** What the sessions mean for the fit that counts every shot on its own, when they matter. */
  readonly sessions: MadeSessions | undefined;
  /** Heading of what says the order of the shots; null where it is not asked. */
  readonly order: string | null;
  readonly plainFirst: boolean;
  readonly onPlainFirst: (plain: boolean) => void;
}

export function MadeSection({ made, sessions, order, plainFirst, onPlainFirst }: Props) {
  const styles = useSectionStyles();
  const sentences = useMemo(
    () => [...madeSentences(made), ...(order === null ? [] : madeOrderNote(made, order))],
    [made, order],
  );
  return (
    <div className={styles.stack}>
      <Sentences sentences={sentences} />
      {sessions && <SessionsNote aware={sessions} plainFirst={plainFirst} onPlainFirst={onPlainFirst} />}
      <Fold title="How this was worked out" standing="rates along each driver, coefficients" part="worked-out">
        {made.columns.length > 0 && <Rates made={made} />}
        <Coefficients made={made} />
      </Fold>
    </div>
  );
}

interface AtProps {
  readonly made: MadeAnalysis;
  /** What was typed as settings, by heading. */
  readonly at: Readonly<Record<string, string>>;
  readonly onAt: (at: Readonly<Record<string, string>>) => void;
}

/** The success rate at settings that the reader types. */
export function RateAtSettings({ made, at, onAt }: AtProps) {
  const { sentence, read } = useMemo(() => rateAt(made, at), [made, at]);
  const { columns, logistic } = made;
  const shown = { drivers: logistic.question.drivers, columns, read, at, onAt };
  return <SaidAtSettings part="rate-at" sentence={sentence} {...shown} />;
}

type TableProps = Pick<Props, "made">;

function Rates({ made }: TableProps) {
  const styles = useSectionStyles();
  const rows = useMemo(() => rateRows(made), [made]);
  const percent = say`${confidenceText(made.logistic.confidence)} %`;
  return (
    <>
      <h3 className={styles.subhead}>Success rate along each driver</h3>
      <p className={styles.note}>
        {toText(
          say`Fitted, the other drivers in their middle, with ${percent} intervals, one at a time. Counts are of the rows as they are, whatever the other drivers were.`,
        )}
      </p>
      <TableBox label="Rates">
        <table className={styles.table} data-part="rates">
          <TableHead first="At" numbers={["Made of shots", "Rate", "Low", "High"]} />
          <tbody>
            {rows.map(({ setting, counted, chance }) => (
              <tr key={toText(setting)}>
                <th scope="row">{toText(setting)}</th>
                <td className="number">{counted ? `${counted.made} of ${counted.shots}` : ""}</td>
                {[chance?.chance, chance?.low, chance?.high].map((value, index) => (
                  <td key={index} className="number">
                    {value === undefined ? "–" : toText(chanceText(value))}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
    </>
  );
}

function Coefficients({ made: { logistic: fit } }: TableProps) {
  const styles = useSectionStyles();
  const percent = say`${confidenceText(fit.confidence)} %`;
  return (
    <>
      <h3 className={styles.subhead}>Coefficients</h3>
      <p className={styles.note}>
        {toText(
          say`In the logarithm of the odds (made to not made) per unit of the driver; intervals at ${percent}. ${fit.method === "maximum likelihood" ? "Maximum likelihood." : "Penalised likelihood."}`,
        )}
      </p>
      <TableBox label="Coefficients">
        <table className={styles.table} data-part="coefficients">
          <TableHead first="Term" numbers={["Estimate", "Low", "High", "p"]} />
          <tbody>
            {fit.terms.map(({ label, estimate, standardError, low, high, p }) => (
              <tr key={label}>
                <th scope="row">{label}</th>
                {[estimate, low, high].map((value, index) => (
                  <td key={index} className="number">
                    {value === null ? "–" : toText(fixed(value, decimalsFor(standardError ?? 0)))}
                  </td>
                ))}
                <td className="number">{p === null ? "–" : toText(significant(p, 2))}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
    </>
  );
}
