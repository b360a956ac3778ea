/** The Start view: the first hour, step by step: a log, five shots, their bends, a first answer. */
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useMemo, useState, type ReactNode } from "react";
import { FIRST_SHOTS, firstLog, firstSteps } from "../../experiment/start/firstLog";
import { usableLanguage } from "../../experiment/language/locale";
import type { TrialLog } from "../../experiment/log/trialLog";
import { counted } from "../../experiment/language/wording";
import type { Port } from "../../workbook/port";
import { HELP } from "../frame/help";
import { GoToButton } from "../frame/GoToButton";
import { useSectionStyles } from "../frame/styles";
import { VIEWS, type ViewName } from "../frame/settings";
import type { ThemeName } from "../frame/palette";
import { UnitsField } from "../fields/UnitsField";
import { useWriting } from "../frame/useWriting";
import { FirstPicture } from "./FirstPicture";

interface Props {
  readonly port: Port;
  readonly log: TrialLog | undefined;
  /** What makes a session, as the reader said in the Analysis view. */
  readonly sessions: readonly string[] | undefined;
  /** The panel looks at this sheet from now on. */
  readonly onLog: (sheet: string) => void;
  readonly onView: (view: ViewName) => void;
  readonly theme: ThemeName;
  readonly onFailure: (text: string | undefined) => void;
}

/** Longer lists are cut. */
const SHOWN = 20;

const UNITS = { us: "inches, mph", si: "millimetres, m/s" } as const;

const useStyles = makeStyles({
  step: {
    borderLeft: `3px solid ${tokens.colorNeutralStroke1}`,
    paddingLeft: "10px",
    display: "flex",
    flexDirection: "column",
    gap: "8px",
  },
  done: { borderLeftColor: tokens.colorBrandStroke1 },
});

export function StartView({ port, log, sessions, onLog, onView, theme, onFailure }: Props) {
  const section = useSectionStyles();
  const { busy, done, write } = useWriting(onFailure);
  const [units, setUnits] = useState<"us" | "si">(/-(US|GB)$/.test(usableLanguage(navigator.language)) ? "us" : "si");
  const steps = useMemo(() => log && firstSteps(log, sessions), [log, sessions]);
  const make = () =>
    write("The log was not made", async () => {
      const sheet = await port.addSheet(firstLog(units));
      onLog(sheet);
      await port.select(sheet, { row: 1, column: 8, rows: 1, columns: 1 }, true);
      return `The new sheet "${sheet}" is in front, its first gap selected.`;
    });
  const enough = (steps?.shots ?? 0) >= FIRST_SHOTS;
  return (
    <div data-view="start" className={section.stack}>
      <FirstPicture steps={steps} theme={theme} />
      <p className={section.note}>
        From an empty sheet to a first answer. Set up two gates, marks and an obstacle (the Layout view says where), and
        shoot.
      </p>
      <Step number={1} title="Make a log" finished={log !== undefined}>
        <p className={section.sentence}>
          {log
            ? `There is a log on the sheet "${log.sheet}": ${log.columns.length} columns, ${counted(log.rows.length, "row")} filled. One row is one shot.`
            : "One row is one shot. Fill in what you measured and leave the rest blank: a blank is never taken for a zero."}
        </p>
        <UnitsField label="Rulers and speeds in" value={units} names={UNITS} onChange={setUnits} />
        <Button appearance={log ? "secondary" : "primary"} disabled={busy} onClick={make}>
          {log ? "Make a new log" : "Make a log"}
        </Button>
        <div role="status">{done}</div>
      </Step>
      <Step number={2} title={`Enter ${FIRST_SHOTS} shots`} finished={enough}>
        <p
          className={section.sentence}
        >{`For each shot read the gap from the obstacle's edge to the centre of the near mark, square to the line, with a ruler. Five sixteenths of an inch is typed 5/16, or 0 5/16 in a cell that shows no fractions. ${counted(steps?.shots ?? 0, "shot")} so far.`}</p>
        {log && steps?.next && (
          <GoToButton
            port={port}
            sheet={log.sheet}
            cell={steps.next}
            label={`Go to ${steps.next.address}, the next gap`}
            disabled={busy}
            onFailure={onFailure}
          />
        )}
        {log && steps && !steps.next && (
          <p className={section.note}>
            This log has no column of gaps. Make a new log, or type bends yourself under a heading such as Bend (in).
          </p>
        )}
      </Step>
      {log && steps && steps.doubts.length > 0 && (
        <section aria-label="Gaps to look at" data-part="doubts">
          <h2 className={section.subhead}>{`Gaps to look at (${steps.doubts.length})`}</h2>
          <ul className={section.list}>
            {steps.doubts.slice(0, SHOWN).map(({ row, column, address, text }) => (
              <li key={address}>
                <GoToButton
                  port={port}
                  sheet={log.sheet}
                  cell={{ row, column }}
                  label={`${address}: ${text}`}
                  entry={section.entry}
                  onFailure={onFailure}
                />
              </li>
            ))}
          </ul>
          {steps.doubts.length > SHOWN && (
            <p
              className={section.note}
            >{`${steps.doubts.length - SHOWN} more; the analysis lists all under Check rows.`}</p>
          )}
        </section>
      )}
      <Step number={3} title="See bend" finished={(steps?.shots ?? 0) > 0}>
        <p className={section.sentence}>
          Bend is how far the ball's centre left the straight line: the ball's radius less the gap. The sheet computes
          it with BANK.BEND.
        </p>
        {steps && steps.bends.length > 0 && (
          <ul className={section.list} data-part="bends">
            {steps.bends.slice(0, 20).map((text) => (
              <li key={text}>{text}</li>
            ))}
            {steps.bends.length > 20 && <li>{`${steps.bends.length - 20} more.`}</li>}
          </ul>
        )}
      </Step>
      <Step number={4} title="See the first answer" finished={enough}>
        <p className={section.sentence} data-part="first-answer">
          {steps?.answer ?? `After ${FIRST_SHOTS} shots the average and its interval stand here.`}
        </p>
        {enough && (
          <Button appearance="primary" onClick={() => onView("analysis")}>
            Ask what drives it
          </Button>
        )}
      </Step>
      <h2 className={section.subhead}>What else there is</h2>
      {VIEWS.filter((view) => view !== "start").map((view) => (
        <div key={view}>
          <Button size="small" onClick={() => onView(view)}>
            {HELP[view].name}
          </Button>
          <p className={section.note}>{HELP[view].lines[0]}</p>
        </div>
      ))}
    </div>
  );
}

function Step({
  number,
  title,
  finished,
  children,
}: {
  number: number;
  title: string;
  finished: boolean;
  children: ReactNode;
}) {
  const styles = useStyles();
  const section = useSectionStyles();
  return (
    <section className={`${styles.step} ${finished ? styles.done : ""}`} aria-label={`Step ${number}: ${title}`}>
      <h2 className={section.subhead}>{`${number}. ${title}${finished ? " (done)" : ""}`}</h2>
      {children}
    </section>
  );
}
