/** How much more it bends for a step of each setting. */
import { toText } from "../../experiment/language/said";
import { SETTING_KINDS } from "../../experiment/shot/shotSettings";
import { shownSmall, type ChangeRow } from "../../experiment/shot/shotWords";
import { useSectionStyles } from "../frame/styles";

export function ChangesTable({ rows, units }: { rows: readonly ChangeRow[]; units: "us" | "si" }) {
  const styles = useSectionStyles();
  return (
    <table className={styles.table} data-part="changes">
      <thead>
        <tr>
          <th scope="col">Setting</th>
          <th scope="col">Step</th>
          <th scope="col" className="number">
            More bend
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ setting, step, change }) => (
          <tr key={setting}>
            <th scope="row">{SETTING_KINDS[setting].label}</th>
            <td>{toText(step)}</td>
            <td className="number">{toText(shownSmall(change, units))}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
