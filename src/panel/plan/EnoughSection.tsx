/** Enough shots? The difference to see, the spreads, the chances of each setting, and the fewest shots. */
import { say, toText } from "../../experiment/language/said";
import { Button } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { earlierSpreads } from "../../experiment/plan/earlierSpreads";
import { differenceOf, spreadTexts, type PlanDraft } from "../../experiment/plan/planDraft";
import { ATTEMPTS_TELL_LESS, chanceWords } from "../../experiment/plan/chanceWords";
import { PlanProblem, type Plan } from "../../experiment/plan/plan";
import { planPower, replicatesNeeded, type SessionDifference } from "../../experiment/plan/planPower";
import type { TrialLog } from "../../experiment/log/trialLog";
import { counted, significant } from "../../experiment/language/wording";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { DraftText } from "./DraftText";

interface Props {
  readonly plan: Plan | undefined;
  readonly draft: PlanDraft;
  readonly log: TrialLog | undefined;
  readonly sessions: readonly string[] | undefined;
  readonly onChange: (part: Partial<PlanDraft>) => void;
}

const unitOf = ({ units }: PlanDraft) => (units === "us" ? "in" : "mm");

export function EnoughSection({ plan, draft, log, sessions, onChange }: Props) {
  const section = useSectionStyles();
  const asked = useMemo(() => askedOf(draft), [draft]);
  const unit = unitOf(draft);
  const text = (label: string, name: keyof PlanDraft) => (
    <DraftText label={label} name={name} draft={draft} onChange={onChange} />
  );
  return (
    <>
      <h2 className={section.subhead}>Enough shots?</h2>
      <div className={section.fields}>
        {text(`Difference to see (${unit})`, "difference")}
        {text(`Spread of single shots (${unit})`, "spread")}
        {text(`Spread of sessions (${unit})`, "sessionSpread")}
        {text("Chance wanted, as a share", "power")}
      </div>
      {log && <Earlier log={log} sessions={sessions} draft={draft} onTake={onChange} />}
      {typeof asked === "string" && <Warning text={asked} />}
      {plan && typeof asked !== "string" && (
        <div className={section.stack} data-part="enough">
          <Chances plan={plan} draft={draft} difference={asked.difference} />
          <Fewest plan={plan} {...asked} onReplicates={(replicates) => onChange({ replicates: String(replicates) })} />
        </div>
      )}
    </>
  );
}

/** The difference and the chance wanted, or what has to be mended. */
function askedOf(draft: PlanDraft): { readonly difference: SessionDifference; readonly power: number } | string {
  try {
    const { power, ...difference } = differenceOf(draft);
    return { power, difference };
  } catch (problem) {
    if (problem instanceof PlanProblem) return problem.message;
    throw problem;
  }
}

/** How the rows that there are scattered, and a press that takes it over. */
function Earlier({
  log,
  sessions,
  draft,
  onTake,
}: {
  log: TrialLog;
  sessions: readonly string[] | undefined;
  draft: PlanDraft;
  onTake: (spreads: Pick<PlanDraft, "spread" | "sessionSpread">) => void;
}) {
  const section = useSectionStyles();
  const found = useMemo(
    () => earlierSpreads(log, draft.units === "us" ? "in" : "mm", sessions),
    [log, draft.units, sessions],
  );
  if (!found) return null;
  const texts = spreadTexts(found);
  const taken = texts.spread === draft.spread && texts.sessionSpread === draft.sessionSpread;
  return (
    <div className={section.stack} data-part="earlier-spreads">
      <p className={section.note}>{toText(found.sentence)}</p>
      {!taken && <Button onClick={() => onTake(texts)}>Take these spreads</Button>}
    </div>
  );
}

interface ChancesProps extends Pick<Props, "draft"> {
  readonly plan: Plan;
  readonly difference: SessionDifference;
}

function Chances({ plan, draft, difference }: ChancesProps) {
  const section = useSectionStyles();
  const powers = useMemo(() => planPower(plan, difference), [plan, difference]);
  const unit = unitOf(draft);
  const { spread, sessionSpread } = difference;
  const spreads = say`${significant(spread, 3)} ${unit}${sessionSpread === undefined ? "" : say`, sessions by ${significant(sessionSpread, 3)} ${unit}`}`;
  return (
    <>
      <p className={section.sentence}>
        {toText(
          say`If the true difference between the ends of a setting is ${significant(difference.difference, 3)} ${unit} and single shots spread by ${spreads}, this plan sees it (two sides, 5 % level) with these chances:`,
        )}
      </p>
      <ul className={section.list}>
        {powers.map(({ heading, power: chance, by }) => (
          <li key={heading}>{toText(say`${heading}: ${chanceWords(plan.wish, chance, by, sessionSpread)}`)}</li>
        ))}
      </ul>
      {draft.records === "attempts" && <p className={section.sentence}>{toText(ATTEMPTS_TELL_LESS)}</p>}
      <p className={section.note}>
        The spread is a guess until it is measured: BANK.SPREAD gives it with its interval. Looking after every few
        shots and stopping at the first difference finds differences that are not there: decide the number first.
      </p>
    </>
  );
}

interface FewestProps {
  readonly plan: Plan;
  readonly difference: SessionDifference;
  readonly power: number;
  readonly onReplicates: (replicates: number) => void;
}

interface Needed {
  readonly of: Plan;
  readonly text: string;
  readonly replicates?: number;
}

/** The fewest replicates that do, and a press that takes them. */
function Fewest({ plan, difference, power, onReplicates }: FewestProps) {
  const [needed, setNeeded] = useState<Needed>();
  const search = () => setNeeded(neededFor(plan, difference, power));
  const current = needed?.of === plan ? needed : undefined;
  const { replicates } = current ?? {};
  return (
    <>
      <Button onClick={search}>Find the fewest shots</Button>
      {current && <div role="status">{current.text}</div>}
      {replicates !== undefined && replicates !== plan.wish.replicates && (
        <Button onClick={() => onReplicates(replicates)}>{`Take ${counted(replicates, "replicate")}`}</Button>
      )}
    </>
  );
}

function neededFor(plan: Plan, difference: SessionDifference, power: number): Needed {
  const found = replicatesNeeded(plan.wish, difference, power);
  if (!found)
    return {
      of: plan,
      text: "No plan of this kind with up to 500 replicates and 5000 shots gives every setting that chance: look for a larger difference, or bring the spread down.",
    };
  return {
    of: plan,
    text: `${counted(found.replicates, "replicate")}, ${counted(found.shots, "shot")} with the warm-ups, give every setting that chance or more.`,
    replicates: found.replicates,
  };
}
