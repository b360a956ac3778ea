/** Whether some rows count more than others. */
import type { TrialLog } from "../../experiment/log/trialLog";
import type { Choice } from "../../experiment/question/choice";
import { OptionPicker } from "../fields/OptionPicker";

interface Props {
  readonly log: TrialLog;
  readonly choice: Pick<Choice, "response" | "weight">;
  /** Heading that has another part in the question. */
  readonly except?: string;
  readonly onChange: (weight: string | undefined) => void;
}

export function WeightPicker({ log, choice, except, onChange }: Props) {
  const columns = log.columns.filter(
    ({ heading, kind }) => kind === "number" && heading.text !== choice.response && heading.text !== except,
  );
  return (
    <OptionPicker
      label="Weights"
      hint="A row of weight 2 counts like the mean of two shots."
      none="all rows alike"
      values={columns.map(({ heading }) => heading.text)}
      value={choice.weight}
      onChange={onChange}
    />
  );
}
