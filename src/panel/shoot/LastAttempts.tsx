/** The last ten attempts, those on their way into the log among them. */
import { say, toText } from "../../experiment/language/said";
import { makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import type { Outcome } from "../../experiment/log/outcome";
import { gapText, OUTCOME_NAMES, type ShownAttempt } from "../../experiment/shoot/shootWords";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import type { ShownPress } from "./useWaiting";

interface Props {
  readonly attempts: readonly ShownAttempt[];
  readonly waiting: readonly ShownPress[];
  readonly unit: ShootLog["unit"];
  readonly most: number;
}

const useStyles = makeStyles({
  list: {
    listStyle: "none",
    margin: 0,
    padding: 0,
    display: "grid",
    gridTemplateColumns: "repeat(5, minmax(0, 1fr))",
    gap: "4px",
    minHeight: "42px",
  },
  one: {
    borderRadius: tokens.borderRadiusMedium,
    border: `1px solid ${tokens.colorNeutralStroke1}`,
    padding: "2px 2px 3px",
    textAlign: "center",
    fontWeight: tokens.fontWeightSemibold,
    lineHeight: "18px",
    overflow: "hidden",
    position: "relative",
  },
  gap: { display: "block", fontSize: tokens.fontSizeBase100, fontWeight: tokens.fontWeightRegular, lineHeight: "14px" },
  by: { backgroundColor: tokens.colorBrandBackground, color: tokens.colorNeutralForegroundOnBrand },
  hit: { backgroundColor: tokens.colorNeutralForeground3, color: tokens.colorNeutralBackground1 },
  unwritten: { outline: `2px dashed ${tokens.colorNeutralForeground1}`, outlineOffset: "-2px", opacity: 0.75 },
});

/** What stands for an outcome where there is no room for its name. */
const SIGNS: Readonly<Record<Outcome, string>> = { made: "✓ in", cleared: "✓", "hit obstacle": "✕", missed: "–" };

export function LastAttempts({ attempts, waiting, unit, most }: Props) {
  const styles = useStyles();
  const inLog = new Set(attempts.map(({ row }) => row));
  const shown = [
    ...attempts.map((one) => ({ key: `row ${one.row}`, written: true, ...one })),
    ...waiting
      .filter(({ row }) => row === undefined || !inLog.has(row))
      .map(({ id, outcome, gap, row }) => ({
        key: row === undefined ? `press ${id}` : `row ${row}`,
        written: row !== undefined,
        outcome,
        word: outcome,
        gap,
      })),
  ].slice(-most);
  if (shown.length === 0) return null;
  const look = (outcome: Outcome | undefined) =>
    outcome === "made" || outcome === "cleared" ? styles.by : outcome === "hit obstacle" ? styles.hit : undefined;
  return (
    <ol className={styles.list} aria-label="The last attempts, the latest last" data-part="last">
      {shown.map(({ key, outcome, word, gap, written }) => {
        const place = Number.isFinite(gap) ? gapText(gap, unit) : "no gap";
        const name = outcome ? OUTCOME_NAMES[outcome] : word || "measured";
        return (
          <li
            key={key}
            className={mergeClasses(styles.one, look(outcome), !written && styles.unwritten)}
            title={toText(say`${name}, gap ${place}${written ? "" : ", not written yet"}`)}
          >
            <span aria-hidden="true">
              {outcome ? SIGNS[outcome] : "?"}
              <span className={styles.gap}>{toText(place).replace(` ${unit}`, "")}</span>
            </span>
            <span style={HIDDEN}>{toText(say`${name}, gap ${place}${written ? "" : ", not written yet"}`)}</span>
          </li>
        );
      })}
    </ol>
  );
}

/** For those who do not see the signs. */
const HIDDEN = {
  position: "absolute",
  width: "1px",
  height: "1px",
  overflow: "hidden",
  clipPath: "inset(50%)",
  whiteSpace: "nowrap",
} as const;
