/** Check rows: what was left out and why, what looks wrong, how readings repeat; a click selects the cell. */
import { say, toText } from "../../experiment/language/said";
import { Button } from "@fluentui/react-components";
import type { CellRemark, RowCheck } from "../../experiment/question/rowCheck";
import type { TrialLog } from "../../experiment/log/trialLog";
import { counted } from "../../experiment/language/wording";
import { RepeatSection } from "./RepeatSection";
import { useSectionStyles } from "../frame/styles";

/** Longer lists are cut on the screen; the results sheet has them whole. */
const SHOWN = 200;

interface Props {
  readonly log: TrialLog;
  readonly check: RowCheck;
  /** Of intervals of how readings repeat. */
  readonly confidence: number;
  readonly onSelect: (row: number, column: number) => void;
}

export function CheckSection({ log, check, confidence, onSelect }: Props) {
  const styles = useSectionStyles();
  return (
    <div className={styles.stack}>
      <p className={styles.sentence}>
        {`${check.used.length} of ${counted(log.rows.length, "row")} used.`}
        {log.hiddenRows > 0 && ` ${counted(log.hiddenRows, "row")} hidden or filtered out, counted like the others.`}
        {log.blankRows > 0 && ` ${counted(log.blankRows, "wholly blank row")} not counted as trials.`}
      </p>
      {log.readAs.map((text) => (
        <p key={text} className={styles.sentence}>
          {text}
        </p>
      ))}
      <Remarks title="Left out" none="No row was left out." remarks={check.leftOut} onSelect={onSelect} />
      <Remarks
        title="Used, but worth a look"
        none="Nothing looks wrong."
        remarks={check.suspicious}
        onSelect={onSelect}
      />
      <RepeatSection log={log} confidence={confidence} />
    </div>
  );
}

function Remarks({
  title,
  none,
  remarks,
  onSelect,
}: {
  title: string;
  none: string;
  remarks: readonly CellRemark[];
  onSelect: Props["onSelect"];
}) {
  const styles = useSectionStyles();
  return (
    <section aria-label={title}>
      <h3 className={styles.subhead}>{`${title} (${remarks.length})`}</h3>
      {remarks.length === 0 && <p className={styles.note}>{none}</p>}
      <ul className={styles.list}>
        {remarks.slice(0, SHOWN).map(({ row, column, address, reason }, index) => (
          <li key={index}>
            <Button appearance="subtle" size="small" className={styles.entry} onClick={() => onSelect(row, column)}>
              {toText(say`${address}: ${reason}`)}
            </Button>
          </li>
        ))}
      </ul>
      {remarks.length > SHOWN && (
        <p className={styles.note}>{`${remarks.length - SHOWN} more; the results sheet lists all.`}</p>
      )}
    </section>
  );
}
