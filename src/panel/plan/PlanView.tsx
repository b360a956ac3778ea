/** The Plan view: the plan in one line and as points, what to vary, its sheet, enough shots, what it can tell apart. */
import { useMemo, useState } from "react";
import { makePlan, PlanProblem, type Plan } from "../../experiment/plan/plan";
import { firstDraft, wishOf, type PlanDraft } from "../../experiment/plan/planDraft";
import type { TrialLog } from "../../experiment/log/trialLog";
import { counted } from "../../experiment/language/wording";
import type { Port } from "../../workbook/port";
import { Fold } from "../frame/Fold";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { EnoughSection } from "./EnoughSection";
import { PlanFields } from "./PlanFields";
import { PlanInFront } from "./PlanInFront";
import { PlanSheets } from "./PlanSheets";
import { useProgress } from "./useProgress";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly log: TrialLog | undefined;
  /** What makes a session, as the reader said in the Analysis view. */
  readonly sessions: readonly string[] | undefined;
  /** As kept with the workbook. */
  readonly kept: PlanDraft | undefined;
  /** Of rulers. */
  readonly units: PlanDraft["units"];
  readonly onKeep: (draft: PlanDraft) => void;
  readonly onFailure: (text: string | undefined) => void;
}

/** A seed for a plan that nobody asked for yet: the day, so that it is plain where it comes from. */
const todaysSeed = () => Number(new Date().toISOString().slice(0, 10).replaceAll("-", ""));

export function PlanView({ port, theme, log, sessions, kept, units, onKeep, onFailure }: Props) {
  const section = useSectionStyles();
  const [first] = useState(() => firstDraft(log, todaysSeed(), sessions));
  const draft = useMemo(() => ({ ...(kept ?? first), units }), [kept, first, units]);
  const change = (part: Partial<PlanDraft>) => onKeep({ ...draft, ...part });
  const result = useMemo(() => planned(draft), [draft]);
  const plan = typeof result === "string" ? undefined : result;
  const progress = useProgress(port, draft.sheet);
  return (
    <div data-view="plan" className={section.stack}>
      {typeof result === "string" ? (
        <Warning text={result} />
      ) : (
        <PlanInFront plan={result} draft={draft} going={progress.going} theme={theme} />
      )}
      <PlanSheets
        port={port}
        plan={plan}
        draft={draft}
        progress={progress}
        onSheet={(sheet) => change({ sheet })}
        onFailure={onFailure}
      />
      {kept === undefined && log && (
        <p
          className={section.note}
        >{`Settings, tables and spreads are those of the rows of ${log.sheet}; what difference is worth seeing is yours to say.`}</p>
      )}
      <PlanFields draft={draft} onChange={change} />
      {plan && <Told plan={plan} />}
      <EnoughSection plan={plan} draft={draft} log={log} sessions={sessions} onChange={change} />
      <Fold title="Why?" standing="why the order is drawn, and shots are repeated" part="why">
        <p className={section.sentence}>
          Which shots to take, how often, and in which order, so that luck, warming up and the table do not pass for an
          effect. The order is drawn, and its seed is written down.
        </p>
      </Fold>
    </div>
  );
}

/** The plan, or what has to be mended. */
function planned(draft: PlanDraft): Plan | string {
  try {
    return makePlan(wishOf(draft));
  } catch (problem) {
    if (problem instanceof PlanProblem) return problem.message;
    throw problem;
  }
}

/** What the plan can and cannot tell apart. */
function Told({ plan }: { plan: Plan }) {
  const section = useSectionStyles();
  const shots = plan.shots.filter(({ settings }) => settings).length;
  const warmUps = plan.shots.length - shots;
  return (
    <div data-part="plan-tells" aria-live="polite">
      <h2 className={section.subhead}>What it can tell apart</h2>
      <p
        className={section.sentence}
      >{`${counted(shots, "shot")}${warmUps > 0 ? ` and ${counted(warmUps, "warm-up shot")}` : ""}.`}</p>
      {plan.tells.map((text) => (
        <p key={text} className={section.sentence}>
          {text}
        </p>
      ))}
    </div>
  );
}
