/** The fitted constants, how they go together, how well they predict, and taking them over. */
import { say, toText } from "../../experiment/language/said";
import { Button } from "@fluentui/react-components";
import { adopted } from "../../experiment/calibrate/adopted";
import type { Calibration, CalibrationResult, SessionErrors } from "../../experiment/calibrate/calibration";
import { calibrationSentences, intervalWords, trustSentence } from "../../experiment/calibrate/calibrationWords";
import { decimalsFor, fixed, significant } from "../../experiment/language/wording";
import { CONSTANT_KINDS, UNCERTAIN, type ShotSettings } from "../../experiment/shot/shotSettings";
import { shownSmall } from "../../experiment/shot/shotWords";
import { useSectionStyles } from "../frame/styles";
import { TableHead } from "../frame/TableHead";

/** What a fit was made from. */
export interface Asked {
  readonly rows: number;
  readonly weighted: boolean;
}

interface Props extends CalibrationResult, Asked {
  readonly shot: ShotSettings;
  readonly onChange: (constants: ShotSettings["constants"]) => void;
}

export function Fitted({ fit, errors, rows, weighted, shot, onChange }: Props) {
  const styles = useSectionStyles();
  return (
    <>
      {calibrationSentences(fit, rows, weighted, shot.units).map((text) => (
        <p key={toText(text)} className={styles.sentence}>
          {toText(text)}
        </p>
      ))}
      <Constants fit={fit} />
      <Correlations fit={fit} />
      {errors && <Trust errors={errors} units={shot.units} />}
      <Button onClick={() => onChange(adopted(fit, shot.constants))}>Use these constants</Button>
    </>
  );
}

function Constants({ fit }: { readonly fit: Calibration }) {
  const styles = useSectionStyles();
  return (
    <table className={styles.table}>
      <TableHead first="Constant" numbers={["Fitted", "Standard error", toText(intervalWords(fit))]} />
      <tbody>
        {fit.constants.map(({ name, estimate, standardError, atBound }) => {
          const decimals = decimalsFor(standardError ?? 0.01);
          const half = standardError === null || fit.t === null || atBound ? undefined : fit.t * standardError;
          return (
            <tr key={name}>
              <th scope="row">{CONSTANT_KINDS[name].label}</th>
              <td className="number">{toText(fixed(estimate, decimals))}</td>
              <td className="number">
                {atBound ? "at its limit" : standardError === null ? "not told" : toText(significant(standardError, 2))}
              </td>
              <td className="number">
                {half === undefined
                  ? "–"
                  : toText(say`${fixed(estimate - half, decimals)} to ${fixed(estimate + half, decimals)}`)}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function Correlations({ fit }: { readonly fit: Calibration }) {
  const styles = useSectionStyles();
  return (
    <table className={styles.table} aria-label="Correlations">
      <thead>
        <tr>
          <th scope="col">Correlation</th>
          {UNCERTAIN.slice(1).map((name) => (
            <th key={name} scope="col" className="number">
              {CONSTANT_KINDS[name].label}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {UNCERTAIN.slice(0, -1).map((name, i) => (
          <tr key={name}>
            <th scope="row">{CONSTANT_KINDS[name].label}</th>
            {UNCERTAIN.slice(1).map((other, j) => {
              const r = fit.correlations[name][other];
              return (
                <td key={other} className="number">
                  {j < i ? "" : r === null ? "–" : toText(significant(r, 2))}
                </td>
              );
            })}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Trust({ errors, units }: { readonly errors: SessionErrors; readonly units: ShotSettings["units"] }) {
  const styles = useSectionStyles();
  const ways = [
    ["Mean of the other sessions", errors.mean],
    ["Model", errors.model],
    ["Regression on the settings", errors.regression],
    ["Model and regression together", errors.both],
  ] as const;
  return (
    <>
      <p className={styles.sentence}>{toText(trustSentence(errors, units))}</p>
      <table className={styles.table} data-part="trust">
        <TableHead first="Predicting a session left out" numbers={["Error"]} />
        <tbody>
          {ways.map(([way, error]) => (
            <tr key={way}>
              <th scope="row">{way}</th>
              <td className="number">{error === null ? "–" : toText(shownSmall(error, units))}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}
