/** The Plan view: what to vary, how often and where; what the plan tells; its sheet; going on after a break. */
import { Button, Dropdown, Field, Input, makeStyles, Option } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { makePlan, PlanProblem, type Plan, type PlanKind } from "../../experiment/plan/plan";
import { earlierSpreads } from "../../experiment/plan/earlierSpreads";
import {
  differenceOf,
  firstDraft,
  spreadTexts,
  wishOf,
  type FactorDraft,
  type PlanDraft,
} from "../../experiment/plan/planDraft";
import { ATTEMPTS_TELL_LESS, chanceWords } from "../../experiment/plan/chanceWords";
import { planPower, replicatesNeeded } from "../../experiment/plan/planPower";
import { changedPlan, planNotes, planProgress, planSentence, planSheet } from "../../experiment/plan/planSheet";
import type { TrialLog } from "../../experiment/log/trialLog";
import { counted, significant } from "../../experiment/language/wording";
import type { StarReach } from "../../statistics/design/compositeDesign";
import { VERSION } from "../../version";
import type { Port } from "../../workbook/port";
import { useSectionStyles } from "../frame/styles";
import { GoToButton } from "../frame/GoToButton";
import { useSheet } from "../frame/useSheet";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";

interface Props {
  readonly port: Port;
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

const KINDS: Readonly<Record<PlanKind, string>> = {
  all: "Every combination",
  fraction: "A fraction of the combinations",
  composite: "Composite: cube, star, centres",
  square: "Latin square",
};
const REACHES: Readonly<Record<StarReach, string>> = {
  turning: "equal error all round",
  blocks: "square to the blocks",
  face: "three levels only",
};
const RECORDS = { shots: "the gap that a shot left", attempts: "an attempt past an obstacle" } as const;

const useStyles = makeStyles({
  pair: {
    display: "grid",
    gridTemplateColumns: "repeat(auto-fit, minmax(120px, 1fr))",
    gap: "8px 12px",
    alignItems: "end",
  },
  factor: { display: "grid", gridTemplateColumns: "minmax(0, 1fr) minmax(0, 1fr) auto", gap: "6px", alignItems: "end" },
});

/** A seed for a plan that nobody asked for yet: the day, so that it is plain where it comes from. */
const todaysSeed = () => Number(new Date().toISOString().slice(0, 10).replaceAll("-", ""));

export function PlanView({ port, log, sessions, kept, units, onKeep, onFailure }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const [first] = useState(() => firstDraft(log, todaysSeed(), sessions));
  const draft = useMemo(() => ({ ...(kept ?? first), units }), [kept, first, units]);
  const change = (part: Partial<PlanDraft>) => onKeep({ ...draft, ...part });
  const result = useMemo(() => planned(draft), [draft]);
  const text = (label: string, name: keyof PlanDraft, width?: "wide") => (
    <Field label={label} style={{ minWidth: 0, ...(width ? { gridColumn: "1 / -1" } : {}) }}>
      <Input
        value={draft[name] as string}
        style={{ minWidth: 0 }}
        input={{ style: { minWidth: 0, width: "100%" } }}
        onChange={(_, { value }) => change({ [name]: value })}
      />
    </Field>
  );
  const setFactor = (i: number, part: Partial<FactorDraft>) =>
    change({ factors: draft.factors.map((factor, j) => (j === i ? { ...factor, ...part } : factor)) });
  return (
    <div data-view="plan" className={section.stack}>
      <p className={section.note}>
        Which shots to take, how often, and in which order, so that luck, warming up and the table do not pass for an
        effect. The order is drawn, and its seed is written down.
      </p>
      <Field label="Plan">
        <Dropdown
          value={KINDS[draft.kind]}
          selectedOptions={[draft.kind]}
          onOptionSelect={(_, { optionValue }) => optionValue && change({ kind: optionValue as PlanKind })}
        >
          {(Object.keys(KINDS) as PlanKind[]).map((kind) => (
            <Option key={kind} value={kind}>
              {KINDS[kind]}
            </Option>
          ))}
        </Dropdown>
      </Field>
      <div role="group" aria-label="Settings to vary" className={section.stack}>
        <h2 className={section.subhead}>Settings to vary</h2>
        {draft.factors.map(({ heading, levels }, i) => (
          <div key={i} className={styles.factor}>
            <Field label={i === 0 ? "Column" : undefined} style={{ minWidth: 0 }}>
              <Input
                aria-label={`Column of setting ${i + 1}`}
                value={heading}
                style={{ minWidth: 0 }}
                input={{ style: { minWidth: 0, width: "100%" } }}
                onChange={(_, { value }) => setFactor(i, { heading: value })}
              />
            </Field>
            <Field label={i === 0 ? "Levels" : undefined} style={{ minWidth: 0 }}>
              <Input
                aria-label={`Levels of setting ${i + 1}`}
                value={levels}
                style={{ minWidth: 0 }}
                input={{ style: { minWidth: 0, width: "100%" } }}
                onChange={(_, { value }) => setFactor(i, { levels: value })}
              />
            </Field>
            <Button
              appearance="subtle"
              style={{ minWidth: "32px" }}
              aria-label={`Remove setting ${i + 1}`}
              onClick={() => change({ factors: draft.factors.filter((_factor, j) => j !== i) })}
            >
              ×
            </Button>
          </div>
        ))}
        <Button onClick={() => change({ factors: [...draft.factors, { heading: "", levels: "" }] })}>
          Add a setting
        </Button>
        <p className={section.note}>Levels with commas between: 5, 8 or worn, new. With decimal commas: 0,5; 0,7.</p>
      </div>
      <div className={styles.pair}>
        {draft.kind === "fraction" && text("Runs of the fraction", "runs")}
        {draft.kind === "composite" && (
          <Field label="Star" style={{ minWidth: 0 }}>
            <Dropdown
              style={{ minWidth: 0 }}
              value={REACHES[draft.reach]}
              selectedOptions={[draft.reach]}
              onOptionSelect={(_, { optionValue }) => optionValue && change({ reach: optionValue as StarReach })}
            >
              {(Object.keys(REACHES) as StarReach[]).map((reach) => (
                <Option key={reach} value={reach}>
                  {REACHES[reach]}
                </Option>
              ))}
            </Dropdown>
          </Field>
        )}
        {draft.kind === "composite" && text("Centres, cube and star", "centres")}
        {text("Tables", "tables", "wide")}
        {text("Sessions on each", "sessions")}
        {text("Replicates", "replicates")}
        {text("Warm-up shots", "warmUps")}
        {text("Seed", "seed")}
        <Field label="Each row records" style={{ minWidth: 0, gridColumn: "1 / -1" }}>
          <Dropdown
            style={{ minWidth: 0 }}
            value={RECORDS[draft.records]}
            selectedOptions={[draft.records]}
            onOptionSelect={(_, { optionValue }) =>
              optionValue && change({ records: optionValue as PlanDraft["records"] })
            }
          >
            {(["shots", "attempts"] as const).map((records) => (
              <Option key={records} value={records}>
                {RECORDS[records]}
              </Option>
            ))}
          </Dropdown>
        </Field>
      </div>
      {typeof result === "string" ? <Warning text={result} /> : <Told plan={result} />}
      <h2 className={section.subhead}>Enough shots?</h2>
      <div className={styles.pair}>
        {text(`Difference to see (${draft.units === "us" ? "in" : "mm"})`, "difference")}
        {text(`Spread of single shots (${draft.units === "us" ? "in" : "mm"})`, "spread")}
        {text(`Spread of sessions (${draft.units === "us" ? "in" : "mm"})`, "sessionSpread")}
        {text("Chance wanted, as a share", "power")}
      </div>
      {log && <Earlier log={log} sessions={sessions} draft={draft} onTake={change} />}
      {typeof result !== "string" && (
        <Enough plan={result} draft={draft} onReplicates={(replicates) => change({ replicates: String(replicates) })} />
      )}
      <Sheets
        port={port}
        plan={typeof result === "string" ? undefined : result}
        draft={draft}
        onSheet={(sheet) => change({ sheet })}
        onFailure={onFailure}
      />
    </div>
  );
}

/** How the rows that there are scattered, and a press that takes it over. */
function Earlier({
  log,
  sessions,
  draft,
  onTake,
}: {
  log: TrialLog;
  sessions: Props["sessions"];
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
      <p className={section.note}>{found.sentence}</p>
      {!taken && <Button onClick={() => onTake(texts)}>Take these spreads</Button>}
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

function Told({ plan }: { plan: Plan }) {
  const section = useSectionStyles();
  const shots = plan.shots.filter(({ settings }) => settings).length;
  const warmUps = plan.shots.length - shots;
  return (
    <div data-part="plan-tells" aria-live="polite">
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

function Enough({
  plan,
  draft,
  onReplicates,
}: {
  plan: Plan;
  draft: PlanDraft;
  onReplicates: (replicates: number) => void;
}) {
  const section = useSectionStyles();
  const asked = useMemo(() => {
    try {
      const { power, ...difference } = differenceOf(draft);
      return { power, difference, powers: planPower(plan, difference) };
    } catch (problem) {
      if (problem instanceof PlanProblem) return problem.message;
      throw problem;
    }
  }, [plan, draft]);
  const [needed, setNeeded] = useState<{ of: Plan; text: string; replicates?: number }>();
  if (typeof asked === "string") return <Warning text={asked} />;
  const { power, difference, powers } = asked;
  const unit = draft.units === "us" ? "in" : "mm";
  const search = () => {
    const found = replicatesNeeded(plan.wish, difference, power);
    setNeeded(
      found
        ? {
            of: plan,
            text: `${counted(found.replicates, "replicate")}, ${counted(found.shots, "shot")} with the warm-ups, give every setting that chance or more.`,
            replicates: found.replicates,
          }
        : {
            of: plan,
            text: "No plan of this kind with up to 500 replicates and 5000 shots gives every setting that chance: look for a larger difference, or bring the spread down.",
          },
    );
  };
  return (
    <div className={section.stack} data-part="enough">
      <p
        className={section.sentence}
      >{`If the true difference between the ends of a setting is ${significant(difference.difference, 3)} ${unit} and single shots spread by ${significant(difference.spread, 3)} ${unit}${difference.sessionSpread === undefined ? "" : `, sessions by ${significant(difference.sessionSpread, 3)} ${unit}`}, this plan sees it (two sides, 5 % level) with these chances:`}</p>
      <ul className={section.list}>
        {powers.map(({ heading, power: chance, by }) => (
          <li key={heading}>{`${heading}: ${chanceWords(plan.wish, chance, by, difference.sessionSpread)}`}</li>
        ))}
      </ul>
      {draft.records === "attempts" && <p className={section.sentence}>{ATTEMPTS_TELL_LESS}</p>}
      <p className={section.note}>
        The spread is a guess until it is measured: BANK.SPREAD gives it with its interval. Looking after every few
        shots and stopping at the first difference finds differences that are not there: decide the number first.
      </p>
      <Button onClick={search}>Find the fewest shots</Button>
      {needed && needed.of === plan && <div role="status">{needed.text}</div>}
      {needed &&
        needed.of === plan &&
        needed.replicates !== undefined &&
        needed.replicates !== plan.wish.replicates && (
          <Button
            onClick={() => onReplicates(needed.replicates ?? plan.wish.replicates)}
          >{`Take ${counted(needed.replicates, "replicate")}`}</Button>
        )}
    </div>
  );
}

function Sheets({
  port,
  plan,
  draft,
  onSheet,
  onFailure,
}: {
  port: Port;
  plan: Plan | undefined;
  draft: PlanDraft;
  onSheet: (sheet: string) => void;
  onFailure: (text: string | undefined) => void;
}) {
  const section = useSectionStyles();
  const { busy, done, write } = useWriting(onFailure);
  const data = useSheet(port, draft.sheet);
  const progress = useMemo(() => {
    if (!data) return undefined;
    try {
      return planProgress(data);
    } catch (problem) {
      if (problem instanceof PlanProblem) return problem.message;
      throw problem;
    }
  }, [data]);
  const going = typeof progress === "object" ? progress : undefined;
  const writePlan = (wanted: Plan) =>
    write("The plan was not written", async () => {
      const sheet = await port.addSheet(planSheet(wanted, draft.units));
      await port.addSheet(planNotes(wanted, sheet, new Date(), VERSION));
      onSheet(sheet);
      return planSentence(wanted, sheet);
    });
  const writeChanged = (wanted: Plan, before: string) =>
    write("The changed plan was not written", async () => {
      const { sheet: content, kept, covered, remaining } = changedPlan(await port.read(before), wanted, draft.units);
      const sheet = await port.addSheet(content);
      await port.addSheet(planNotes(wanted, sheet, new Date(), VERSION));
      onSheet(sheet);
      return `${counted(kept, "row")} already shot ${kept === 1 ? "stands" : "stand"} first on the new sheet "${sheet}"; ${covered} of them ${covered === 1 ? "counts" : "count"} for the new plan, ${counted(remaining, "shot")} ${remaining === 1 ? "is" : "are"} left. The sheet "${before}" was not touched.`;
    });
  return (
    <div className={section.stack}>
      <h2 className={section.subhead}>On the sheet</h2>
      <Button appearance="primary" disabled={busy || !plan} onClick={() => plan && writePlan(plan)}>
        Write the plan
      </Button>
      {draft.sheet !== undefined && data === null && (
        <p
          className={section.note}
        >{`The sheet "${draft.sheet}" of the last plan is not in this workbook any more.`}</p>
      )}
      {typeof progress === "string" && <Warning text={progress} />}
      {going && draft.sheet !== undefined && (
        <div className={section.stack} data-part="plan-progress">
          <p
            className={section.sentence}
          >{`On the sheet "${draft.sheet}", ${going.shot} of ${counted(going.planned, "shot")} ${going.shot === 1 ? "is" : "are"} measured. ${going.next ? `Next: ${going.next.words}.` : "The plan is done."}`}</p>
          {going.next && (
            <GoToButton
              port={port}
              sheet={draft.sheet}
              cell={going.next}
              label="Go to the next shot"
              onFailure={onFailure}
            />
          )}
          <Button
            disabled={busy || !plan}
            onClick={() => plan && draft.sheet !== undefined && writeChanged(plan, draft.sheet)}
          >
            Change the plan, keep what was shot
          </Button>
        </div>
      )}
      <div role="status">{done}</div>
    </div>
  );
}
