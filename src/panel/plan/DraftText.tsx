/** A field for one text of the draft, as typed. */
import { Field, Input } from "@fluentui/react-components";
import type { PlanDraft } from "../../experiment/plan/planDraft";

interface Props {
  readonly label: string;
  readonly name: keyof PlanDraft;
  readonly draft: PlanDraft;
  readonly wide?: boolean;
  readonly onChange: (part: Partial<PlanDraft>) => void;
}

export function DraftText({ label, name, draft, wide = false, onChange }: Props) {
  return (
    <Field label={label} style={{ minWidth: 0, ...(wide ? { gridColumn: "1 / -1" } : {}) }}>
      <Input
        value={draft[name] as string}
        style={{ minWidth: 0 }}
        input={{ style: { minWidth: 0, width: "100%" } }}
        onChange={(_, { value }) => onChange({ [name]: value })}
      />
    </Field>
  );
}
