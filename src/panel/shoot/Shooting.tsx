/** A log at the table, in the order of a thumb: gap, outcome, last ten, caution, answer, what may change. */
import { say, toText, joinTexts } from "../../experiment/language/said";
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useDeferredValue, useMemo, type ReactNode } from "react";
import { eveningOf, dayOf } from "../../experiment/shoot/evening";
import { LATEST, type ShootForm } from "../../experiment/shoot/shootForm";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import {
  proposedGap,
  type ProposedGap,
  readLength,
  sessionReach,
  sessionRows,
  stepOf,
} from "../../experiment/shoot/shootNow";
import { CARE, gapText, lastAttempts } from "../../experiment/shoot/shootWords";
import type { Outcome } from "../../experiment/log/outcome";
import { logName, type TrialLog } from "../../experiment/log/trialLog";
import { counted } from "../../experiment/language/wording";
import type { Port, SheetData } from "../../workbook/port";
import type { ThemeName } from "../frame/palette";
import { Care } from "../frame/Care";
import { usePreferences } from "../frame/preferences";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { AnswerSoFar } from "./AnswerSoFar";
import { ChangedFields } from "./ChangedFields";
import { Fold } from "../frame/Fold";
import { LastAttempts } from "./LastAttempts";
import { NewEvening } from "./NewEvening";
import { OutcomeButtons } from "./OutcomeButtons";
import { Readings } from "./Readings";
import { RulerAndTarget } from "./RulerAndTarget";
import { usePresses, type Presses } from "./usePresses";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly shoot: ShootLog;
  readonly form: ShootForm;
  readonly readLog: (data: SheetData) => TrialLog | undefined;
  readonly onForm: (change: (before: ShootForm) => Partial<ShootForm>) => void;
  /** Where else attempts can go. */
  readonly children: ReactNode;
}

const useStyles = makeStyles({
  gap: {
    fontSize: "40px",
    lineHeight: "46px",
    fontWeight: tokens.fontWeightSemibold,
    fontVariantNumeric: "tabular-nums",
    margin: 0,
  },
  back: { minHeight: "48px", flexShrink: 0 },
  row: { display: "flex", gap: "12px", alignItems: "center" },
  standing: {
    color: tokens.colorNeutralForeground2,
    fontSize: tokens.fontSizeBase200,
    lineHeight: tokens.lineHeightBase200,
    minWidth: 0,
  },
});

export function Shooting({ port, theme, shoot, form, readLog, onForm, children }: Props) {
  const section = useSectionStyles();
  const today = dayOf(new Date());
  const { unit, log } = shoot;
  const evening = eveningOf(shoot, form, today);
  const rows = useMemo(() => sessionRows(shoot, evening.session, today), [shoot, evening.session, today]);
  const { proposed, late } = useProposal(shoot, rows, form.ruler);
  const own = form.gap === "" ? undefined : readLength(form.gap, unit);
  const gap = typeof own === "number" ? own : proposed.gap;
  const sheetRows = useMemo(() => shoot.shot.map((index) => log.rows[index] ?? NaN), [shoot, log]);
  const presses = usePresses({ port, sheet: log.sheet, form, readLog, onForm }, sheetRows);
  const press = (outcome: Outcome) =>
    presses.press({ outcome, gap, session: evening.session, today, changed: form.changed });
  const onSession = (session: string) => onForm(() => ({ evening: { day: today, session } }));
  return (
    <div data-view="shoot" className={section.stack}>
      {evening.asks && <NewEvening asks={evening.asks} onSession={onSession} />}
      <GapToSet gap={gap} own={own !== undefined} proposed={proposed} late={late} unit={unit} onForm={onForm} />
      <OutcomeButtons disabled={evening.asks !== undefined} onPress={press} />
      <LastAttempts attempts={lastAttempts(shoot, rows, LATEST)} waiting={presses.waiting} unit={unit} most={LATEST} />
      <PressNotes
        presses={presses}
        shoot={shoot}
        form={form}
        standing={standing(shoot, evening.session, rows.length)}
      />
      <Care>{CARE}</Care>
      <Answer shoot={shoot} rows={rows} session={evening.session} target={form.target} theme={theme} />
      <Fold title="Read a gap or a film" standing={readingStanding(shoot, own !== undefined)} part="readings">
        <Readings shoot={shoot} onGap={(text) => onForm(() => ({ gap: text }))} onBend={presses.measure} />
      </Fold>
      <Fold title="What changed since the last" standing={changedStanding(shoot, form)} part="changed">
        <ChangedFields
          shoot={shoot}
          form={form}
          session={evening.session}
          onChange={(heading, text) => onForm(({ changed }) => ({ changed: { ...changed, [heading]: text } }))}
          onSession={onSession}
        />
      </Fold>
      <Fold title="Ruler and target" standing={rulerStanding(shoot, form)} part="ruler">
        <RulerAndTarget shoot={shoot} form={form} onChange={(part) => onForm(() => part)} />
      </Fold>
      <Fold title="Another log" standing={`attempts go into ${logName(log)}`} part="other">
        {children}
      </Fold>
    </div>
  );
}

/** The gap to set, large; why there, and when it is enough. */
function GapToSet({
  gap,
  own,
  proposed,
  late,
  unit,
  onForm,
}: Pick<Props, "onForm"> & {
  gap: number;
  own: boolean;
  proposed: ProposedGap;
  late: boolean;
  unit: ShootLog["unit"];
}) {
  const styles = useStyles();
  const section = useSectionStyles();
  return (
    <div>
      <p className={section.note}>{own ? "The gap that you set" : "Set the obstacle to a gap of"}</p>
      <p className={styles.gap} style={{ opacity: late && !own ? 0.4 : 1 }} aria-busy={late && !own} data-part="gap">
        {toText(gapText(gap, unit))}
      </p>
      {own ? (
        <Button className={styles.back} onClick={() => onForm(() => ({ gap: "" }))}>
          {toText(say`Take the gap that teaches most: ${gapText(proposed.gap, unit)}`)}
        </Button>
      ) : (
        <p className={section.note} data-part="why">
          {toText(joinTexts(proposed.sentences, " "))}
        </p>
      )}
    </div>
  );
}

/** What became of the presses: where the next goes, the way back, what could not be written. */
function PressNotes({
  presses,
  shoot: { open },
  form,
  standing: where,
}: {
  presses: Presses;
  shoot: ShootLog;
  form: ShootForm;
  standing: string;
}) {
  const styles = useStyles();
  const section = useSectionStyles();
  const unwritten = presses.waiting.filter(({ row }) => row === undefined).length;
  return (
    <>
      <div className={styles.row}>
        <Button
          className={styles.back}
          disabled={form.pressed.length === 0 && unwritten === 0}
          onClick={presses.takeBack}
        >
          Take back the last
        </Button>
        <span className={styles.standing}>{where}</span>
      </div>
      <div role="status" data-part="said">
        {presses.said && <p className={section.sentence}>{presses.said}</p>}
        {open.hidden && (
          <p className={section.note}>
            {`Row ${open.row + 1}, where the next attempt goes, is hidden by a filter: it is written and counts; show all rows to see it.`}
          </p>
        )}
      </div>
      {presses.stopped !== undefined && (
        <div data-part="stopped" className={section.stack}>
          <Warning text={`${counted(unwritten, "press", "presses")} not written yet: ${presses.stopped}`} />
          <div className={styles.row}>
            <Button className={styles.back} appearance="primary" onClick={presses.again}>
              Try again
            </Button>
            <Button className={styles.back} onClick={presses.drop}>
              Let them go
            </Button>
          </div>
        </div>
      )}
    </>
  );
}

/**
 * The gap that teaches most after these attempts and those of the session before. While it is being worked out the one
 * before stands, and is said to be late.
 */
function useProposal(shoot: ShootLog, rows: readonly number[], ruler: string) {
  const wanted = useMemo(() => ({ shoot, rows, ruler }), [shoot, rows, ruler]);
  const asked = useDeferredValue(wanted);
  const proposed = useMemo(() => {
    return proposedGap(asked.shoot, asked.rows, stepOf(asked.shoot.unit, asked.ruler));
  }, [asked]);
  return { proposed, late: asked !== wanted };
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
  const [{ confidence }] = usePreferences();
  const answer = useMemo(() => sessionReach(asked.shoot, asked.rows, confidence), [asked, confidence]);
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
