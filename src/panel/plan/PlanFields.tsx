/** What to vary, how often, where, and what a row records. */
import { Button, Dropdown, Field, Input, makeStyles, Option } from "@fluentui/react-components";
import type { PlanKind } from "../../experiment/plan/plan";
import type { FactorDraft, PlanDraft } from "../../experiment/plan/planDraft";
import type { StarReach } from "../../statistics/design/compositeDesign";
import { useSectionStyles } from "../frame/styles";
import { DraftText } from "./DraftText";

interface Props {
  readonly draft: PlanDraft;
  readonly onChange: (part: Partial<PlanDraft>) => void;
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
  factor: { display: "grid", gridTemplateColumns: "minmax(0, 1fr) minmax(0, 1fr) auto", gap: "6px", alignItems: "end" },
});

export function PlanFields({ draft, onChange }: Props) {
  return (
    <>
      <Field label="Plan">
        <Dropdown
          value={KINDS[draft.kind]}
          selectedOptions={[draft.kind]}
          onOptionSelect={(_, { optionValue }) => optionValue && onChange({ kind: optionValue as PlanKind })}
        >
          {(Object.keys(KINDS) as PlanKind[]).map((kind) => (
            <Option key={kind} value={kind}>
              {KINDS[kind]}
            </Option>
          ))}
        </Dropdown>
      </Field>
      <Factors draft={draft} onChange={onChange} />
      <HowOften draft={draft} onChange={onChange} />
    </>
  );
}

/** How often and where, and what a row records. */
function HowOften({ draft, onChange }: Props) {
  const section = useSectionStyles();
  const text = (label: string, name: keyof PlanDraft, wide = false) => (
    <DraftText label={label} name={name} draft={draft} wide={wide} onChange={onChange} />
  );
  return (
    <div className={section.fields}>
      {draft.kind === "fraction" && text("Runs of the fraction", "runs")}
      {draft.kind === "composite" && (
        <Field label="Star" style={{ minWidth: 0 }}>
          <Dropdown
            style={{ minWidth: 0 }}
            value={REACHES[draft.reach]}
            selectedOptions={[draft.reach]}
            onOptionSelect={(_, { optionValue }) => optionValue && onChange({ reach: optionValue as StarReach })}
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
      {text("Tables", "tables", true)}
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
            optionValue && onChange({ records: optionValue as PlanDraft["records"] })
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
  );
}

function Factors({ draft, onChange }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const setFactor = (i: number, part: Partial<FactorDraft>) =>
    onChange({ factors: draft.factors.map((factor, j) => (j === i ? { ...factor, ...part } : factor)) });
  return (
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
            onClick={() => onChange({ factors: draft.factors.filter((_factor, j) => j !== i) })}
          >
            ×
          </Button>
        </div>
      ))}
      <Button onClick={() => onChange({ factors: [...draft.factors, { heading: "", levels: "" }] })}>
        Add a setting
      </Button>
      <p className={section.note}>Levels with commas between: 5, 8 or worn, new. With decimal commas: 0,5; 0,7.</p>
    </div>
  );
}
