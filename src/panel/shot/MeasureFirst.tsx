/** Which constants of the table the predicted bend waits for, how to measure them, and what no measuring helps. */
import { say, toText, capital } from "../../experiment/language/said";
import { Button } from "@fluentui/react-components";
import { useMemo } from "react";
import type { Setup } from "../../experiment/setup/setup";
import type { ShotSettings } from "../../experiment/shot/shotSettings";
import { shownSmall } from "../../experiment/shot/shotWords";
import { CANNOT, constantEffects, measureFirst } from "../../experiment/shot/whatToMeasure";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly shot: ShotSettings;
  readonly setup: Setup;
  readonly onSetup: () => void;
}

export function MeasureFirst({ shot, setup, onSetup }: Props) {
  const styles = useSectionStyles();
  const effects = useMemo(() => constantEffects(shot, setup), [shot, setup]);
  const { units } = shot;
  const bend = (value: number) => (Number.isNaN(value) ? "never arrives" : shownSmall(value, units));
  return (
    <div className={styles.stack} data-part="measure-first">
      <p className={styles.sentence}>{toText(measureFirst(effects, units))}</p>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Constant</th>
            <th scope="col">Bend over its range, alone</th>
            <th scope="col">How to measure it</th>
          </tr>
        </thead>
        <tbody>
          {effects.map(({ name, label, low, high, measure }) => (
            <tr key={name}>
              <th scope="row">{capital(label)}</th>
              <td>{toText(say`${bend(low)} to ${bend(high)}`)}</td>
              <td>{measure}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Button onClick={onSetup}>Write them into the set-up</Button>
      <p className={styles.note}>No measuring of constants helps against these:</p>
      <ul style={{ margin: 0, paddingLeft: "18px" }}>
        {CANNOT.map((text) => (
          <li key={text} className={styles.note}>
            {text}
          </li>
        ))}
      </ul>
    </div>
  );
}
