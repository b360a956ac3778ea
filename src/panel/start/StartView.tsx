/** The first hour: a log, its first shots one row each, their bends, a first answer. */
import { say, toText } from "../../experiment/language/said";
import { Button } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { FIRST_SHOTS, firstLog, firstSteps, type FirstSteps } from "../../experiment/start/firstLog";
import type { TrialLog } from "../../experiment/log/trialLog";
import { counted } from "../../experiment/language/wording";
import { entryLog } from "../../experiment/shoot/entry";
import { CARE } from "../../experiment/shoot/shootWords";
import type { Port, SheetData } from "../../workbook/port";
import { Care } from "../frame/Care";
import { HELP } from "../frame/help";
import { GoToButton } from "../frame/GoToButton";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { VIEWS, type ViewName } from "../frame/settings";
import { useWriting } from "../frame/useWriting";
import { FirstPicture } from "./FirstPicture";
import { EntryRow } from "./EntryRow";

interface Props {
  readonly theme: ThemeName;
  readonly port: Port;
  readonly log: TrialLog | undefined;
  /** The sheet that the log stands on. */
  readonly data: SheetData | undefined;
  /** What makes a session, as the reader said in the Analysis view. */
  readonly sessions: readonly string[] | undefined;
  /** Of the average's interval. */
  readonly confidence: number | undefined;
  /** Of a new log. */
  readonly units: "us" | "si";
  /** Diameter in m. */
  readonly ball: number;
  /** Whether the first shot is waited for, so that the keyboard goes to its field. */
  readonly eager: boolean;
  /** The panel looks at this sheet from now on. */
  readonly onLog: (sheet: string) => void;
  readonly onView: (view: ViewName) => void;
  readonly onFailure: (text: string | undefined) => void;
}

/** Longer lists are cut. */
const SHOWN = 20;

export function StartView(props: Props) {
  const { port, log, data, sessions, confidence, ball, theme, onView, onFailure } = props;
  const section = useSectionStyles();
  const [made, setMade] = useState(false);
  const steps = useMemo(() => log && firstSteps(log, sessions, confidence), [log, sessions, confidence]);
  const next = steps?.next;
  const entry = useMemo(() => log && data && next && entryLog(log, data, next, ball), [log, data, next, ball]);
  const shots = steps?.shots ?? 0;
  return (
    <div data-view="start" className={section.stack}>
      <FirstPicture steps={steps} theme={theme} />
      {entry && (
        <EntryRow key={entry.log.sheet} port={port} entry={entry} eager={props.eager || made} onFailure={onFailure} />
      )}
      {log && next && (
        <GoToButton
          port={port}
          sheet={log.sheet}
          cell={next}
          label={`Go to ${next.address}, the next gap`}
          onFailure={onFailure}
        />
      )}
      {log && !next && (
        <p className={section.note}>
          This log has no column of gaps. Make a new log, or type bends yourself under a heading such as Bend (in).
        </p>
      )}
      <Care>{CARE}</Care>
      {steps?.average && (
        <p className={section.sentence} data-part="first-answer">
          {toText(steps.answer ?? "")}
        </p>
      )}
      {shots >= FIRST_SHOTS && (
        <Button appearance="primary" onClick={() => onView("analysis")}>
          Ask what drives it
        </Button>
      )}
      {log && steps && <Doubts {...props} log={log} steps={steps} />}
      {steps && steps.bends.length > 0 && <Bends steps={steps} />}
      <MakeLog {...props} onMade={() => setMade(true)} />
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

/** Gaps that cannot be, or that are worth a look. */
function Doubts({
  port,
  log,
  steps: { doubts },
  onFailure,
}: Props & { readonly log: TrialLog; readonly steps: FirstSteps }) {
  const section = useSectionStyles();
  if (doubts.length === 0) return null;
  return (
    <section aria-label="Gaps to look at" data-part="doubts">
      <h2 className={section.subhead}>{`Gaps to look at (${doubts.length})`}</h2>
      <ul className={section.list}>
        {doubts.slice(0, SHOWN).map(({ row, column, address, text }) => (
          <li key={address}>
            <GoToButton
              port={port}
              sheet={log.sheet}
              cell={{ row, column }}
              label={toText(say`${address}: ${text}`)}
              entry={section.entry}
              onFailure={onFailure}
            />
          </li>
        ))}
      </ul>
      {doubts.length > SHOWN && (
        <p className={section.note}>{`${doubts.length - SHOWN} more; the analysis lists all under Check rows.`}</p>
      )}
    </section>
  );
}

/** Each shot with its gap and its bend, and what a bend is. */
function Bends({ steps: { bends } }: { readonly steps: FirstSteps }) {
  const section = useSectionStyles();
  return (
    <section aria-label="Bends">
      <h2 className={section.subhead}>Bends</h2>
      <p className={section.note}>
        Bend is how far the ball&apos;s centre left the straight line: the ball&apos;s radius less the gap. The sheet
        computes it with BANK.BEND. The gap is read from the obstacle&apos;s edge to the centre of the near mark, square
        to the line.
      </p>
      <ul className={section.plainList} data-part="bends">
        {bends.slice(0, SHOWN).map((text) => (
          <li key={toText(text)}>{toText(text)}</li>
        ))}
        {bends.length > SHOWN && <li>{`${bends.length - SHOWN} more.`}</li>}
      </ul>
    </section>
  );
}

/** The log that is there, and a new one. */
function MakeLog({ port, log, units, onLog, onMade, onFailure }: Props & { readonly onMade: () => void }) {
  const section = useSectionStyles();
  const { busy, done, write } = useWriting(onFailure);
  const make = () =>
    write("The log was not made", async () => {
      const sheet = await port.addSheet(firstLog(units));
      onMade();
      onLog(sheet);
      await port.select(sheet, { row: 1, column: 8, rows: 1, columns: 1 });
      return `The new sheet "${sheet}" is in front; its first shot is asked for above.`;
    });
  return (
    <section aria-label="Log">
      <h2 className={section.subhead}>Log</h2>
      <p className={section.sentence}>
        {log
          ? `There is a log on the sheet "${log.sheet}": ${log.columns.length} columns, ${counted(log.rows.length, "row")} filled. One row is one shot.`
          : `One row is one shot, in ${units === "us" ? "inches and mph" : "millimetres and m/s"} (Preferences say which). Fill in what you measured and leave the rest blank: a blank is never taken for a zero.`}
      </p>
      <Button appearance={log ? "secondary" : "primary"} disabled={busy} onClick={make}>
        {log ? "Make a new log" : "Make a log"}
      </Button>
      <div role="status">{done}</div>
    </section>
  );
}
