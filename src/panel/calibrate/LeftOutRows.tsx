/** Rows that a calibration cannot use, and why. */
import type { CalibrationRows } from "../../experiment/calibrate/calibrationRows";
import { useSectionStyles } from "../frame/styles";

const SHOWN = 20;

export function LeftOutRows({ list }: { readonly list: CalibrationRows["leftOut"] }) {
  const styles = useSectionStyles();
  if (list.length === 0) return null;
  return (
    <ul className={styles.list} aria-label="Left out of the calibration">
      {list.slice(0, SHOWN).map(({ address, reason }) => (
        <li key={address} className={styles.note}>{`${address}: ${reason}`}</li>
      ))}
      {list.length > SHOWN && <li className={styles.note}>{`${list.length - SHOWN} more.`}</li>}
    </ul>
  );
}
