/** A log of attempts at the table, in the order of a thumb: gap, outcome, last ten, caution, answer, what may change. */
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useDeferredValue, useMemo, useState } from "react";
import { eveningOf, dayOf } from "../../experiment/shoot/evening";
import { LATEST, type ShootForm } from "../../experiment/shoot/shootForm";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import {
  proposedGap,
  readLength,
  rowsBefore,
  sessionReach,
  sessionRows,
  stepOf,
} from "../../experiment/shoot/shootNow";
import { CARE, gapText, lastAttempts } from "../../experiment/shoot/shootWords";
import type { Outcome } from "../../experiment/log/outcome";
import type { TrialLog } from "../../experiment/log/trialLog";
import { counted } from "../../experiment/language/wording";
import type { Port, SheetData } from "../../workbook/port";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { AnswerSoFar } from "./AnswerSoFar";
import { ChangedFields } from "./ChangedFields";
import { Fold } from "./Fold";
import { LastAttempts } from "./LastAttempts";
import { NewEvening } from "./NewEvening";
import { OutcomeButtons } from "./OutcomeButtons";
import { Readings } from "./Readings";
import { RulerAndTarget } from "./RulerAndTarget";
import { useShooting } from "./useShooting";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly shoot: ShootLog;
  readonly form: ShootForm;
  readonly readLog: (data: SheetData) => TrialLog | undefined;
  readonly onForm: (change: (before: ShootForm) => Partial<ShootForm>) => void;
}

const useStyles = makeStyles({
  gap: {
    fontSize: "40px",
    lineHeight: "46px",
    fontWeight: tokens.fontWeightSemibold,
    fontVariantNumeric: "tabular-nums",
    margin: 0,
  },
  back: { minHeight: "48px" },
  care: {
    border: `1px solid ${tokens.colorPaletteYellowBorder1}`,
    backgroundColor: tokens.colorPaletteYellowBackground1,
    color: tokens.colorNeutralForeground1,
    borderRadius: tokens.borderRadiusMedium,
    padding: "6px 10px",
    margin: 0,
    fontSize: tokens.fontSizeBase200,
    lineHeight: tokens.lineHeightBase200,
  },
  row: { display: "flex", gap: "8px", alignItems: "center", flexWrap: "wrap" },
});

export function Shooting({ port, theme, shoot, form, readLog, onForm }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const [today] = useState(() => dayOf(new Date()));
  const { unit, log } = shoot;
  const evening = eveningOf(shoot, form, today);
  const rows = useMemo(() => sessionRows(shoot, evening.session, today), [shoot, evening.session, today]);
  const proposed = useProposal(shoot, rows, form.ruler);
  const own = form.gap === "" ? undefined : readLength(form.gap, unit);
  const gap = typeof own === "number" ? own : proposed.gap;
  const sheetRows = useMemo(() => shoot.shot.map((index) => log.rows[index] ?? NaN), [shoot, log]);
  const shooting = useShooting({ port, sheet: log.sheet, form, readLog, onForm }, sheetRows);
  const press = (outcome: Outcome) =>
    shooting.press({ outcome, gap, session: evening.session, today, changed: form.changed });
  const unwritten = shooting.waiting.filter(({ row }) => row === undefined).length;
  const pressed = form.pressed.at(-1);
  return (
    <div data-view="shoot" className={section.stack}>
      {evening.asks && (
        <NewEvening asks={evening.asks} onSession={(session) => onForm(() => ({ evening: { day: today, session } }))} />
      )}
      <div>
        <p className={section.note}>{own === undefined ? "Set the obstacle to a gap of" : "The gap that you set"}</p>
        <p className={styles.gap} data-part="gap">
          {gapText(gap, unit)}
        </p>
        {own === undefined ? (
          <p className={section.note} data-part="why">
            {proposed.sentences.join(" ")}
          </p>
        ) : (
          <Button
            className={styles.back}
            onClick={() => onForm(() => ({ gap: "" }))}
          >{`Take the gap that teaches most: ${gapText(proposed.gap, unit)}`}</Button>
        )}
      </div>
      <OutcomeButtons disabled={evening.asks !== undefined} onPress={press} />
      <LastAttempts attempts={lastAttempts(shoot, rows, LATEST)} waiting={shooting.waiting} unit={unit} most={LATEST} />
      <div className={styles.row}>
        <Button className={styles.back} disabled={pressed === undefined && unwritten === 0} onClick={shooting.takeBack}>
          Take back the last
        </Button>
        <span className={section.note}>{standing(shoot, evening.session, rows.length)}</span>
      </div>
      <div role="status" data-part="said">
        {shooting.said && <p className={section.sentence}>{shooting.said}</p>}
        {shoot.open.hidden && (
          <p className={section.note}>
            {`Row ${shoot.open.row + 1}, where the next attempt goes, is hidden by a filter: it is written and counts; show all rows to see it.`}
          </p>
        )}
      </div>
      {shooting.stopped !== undefined && (
        <div data-part="stopped" className={section.stack}>
          <Warning text={`${counted(unwritten, "press", "presses")} not written yet: ${shooting.stopped}`} />
          <div className={styles.row}>
            <Button className={styles.back} appearance="primary" onClick={shooting.again}>
              Try again
            </Button>
            <Button className={styles.back} onClick={shooting.drop}>
              Let them go
            </Button>
          </div>
        </div>
      )}
      <p className={styles.care} role="note" data-part="care">
        {CARE}
      </p>
      <Answer shoot={shoot} rows={rows} session={evening.session} target={form.target} theme={theme} />
      <Fold title="Read a gap or a film" standing={readingStanding(shoot, own !== undefined)} part="readings">
        <Readings shoot={shoot} onGap={(text) => onForm(() => ({ gap: text }))} onBend={shooting.measure} />
      </Fold>
      <Fold title="What changed since the last" standing={changedStanding(shoot, form)} part="changed">
        <ChangedFields
          shoot={shoot}
          form={form}
          session={evening.session}
          onChange={(heading, text) => onForm(({ changed }) => ({ changed: { ...changed, [heading]: text } }))}
          onSession={(session) => onForm(() => ({ evening: { day: today, session } }))}
        />
      </Fold>
      <Fold title="Ruler and target" standing={rulerStanding(shoot, form)} part="ruler">
        <RulerAndTarget shoot={shoot} form={form} onChange={(part) => onForm(() => part)} />
      </Fold>
    </div>
  );
}

/** The gap that teaches most after these attempts; before the first of a session, after those of the one before. */
function useProposal(shoot: ShootLog, rows: readonly number[], ruler: string) {
  const asked = useDeferredValue(useMemo(() => ({ shoot, rows, ruler }), [shoot, rows, ruler]));
  return useMemo(() => {
    const from = asked.rows.length > 0 ? asked.rows : rowsBefore(asked.shoot);
    return proposedGap(asked.shoot, from, stepOf(asked.shoot.unit, asked.ruler));
  }, [asked]);
}

function Answer(props: {
  shoot: ShootLog;
  rows: readonly number[];
  session: string;
  target: string;
  theme: ThemeName;
}) {
  const { shoot, rows } = props;
  const asked = useDeferredValue(useMemo(() => ({ shoot, rows }), [shoot, rows]));
  const answer = useMemo(() => sessionReach(asked.shoot, asked.rows), [asked]);
  return <AnswerSoFar {...props} answer={answer} />;
}

function standing({ open, session, log }: ShootLog, label: string, attempts: number): string {
  const where = session && label !== "" ? `, session ${label}` : "";
  return `${counted(attempts, "attempt")}${where}; the next goes into row ${open.row + 1} of ${log.sheet}`;
}

function readingStanding({ places }: ShootLog, own: boolean): string {
  const gap = own ? "your own gap is taken" : "the proposed gap is taken";
  return places.measured ? `${gap}; a bend that was seen goes to the last attempt` : gap;
}

function changedStanding({ settings }: ShootLog, { changed }: ShootForm): string {
  const names = settings
    .filter(({ column, text }) => (changed[column.heading.text] ?? text).trim() !== text)
    .map(({ column }) => `${column.heading.name} ${changed[column.heading.text] || "blank"}`);
  return names.length === 0 ? "nothing" : names.join(", ");
}

function rulerStanding({ unit }: ShootLog, { ruler, target }: ShootForm): string {
  const division = ruler === "" ? (unit === "in" ? "1/32" : String(stepOf(unit, ""))) : ruler;
  return `divisions of ${division} ${unit}; ${target.trim() === "" ? "no target" : `target ${target} ${unit}`}`;
}
