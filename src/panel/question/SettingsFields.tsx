/** A field for each driver of a question, where a reader types the settings that are asked about. */
import { say, toText } from "../../experiment/language/said";
import { Dropdown, Field, Input, Option } from "@fluentui/react-components";
import type { LogColumn } from "../../experiment/log/trialLog";
import type { ReadSetting } from "../../experiment/question/settingsAt";
import { significant } from "../../experiment/language/wording";
import type { Driver } from "../../statistics/fit/designMatrix";
import { extent } from "../../statistics/numeric/extent";

interface Props {
  readonly drivers: readonly Driver[];
  /** One per driver. */
  readonly columns: readonly LogColumn[];
  /** What was made of what was typed, one per driver. */
  readonly read: readonly ReadSetting[];
  /** What was typed, by heading. */
  readonly at: Readonly<Record<string, string>>;
  readonly onAt: (at: Readonly<Record<string, string>>) => void;
  /** What a category is where nothing is chosen; each level alike unless said. */
  readonly usual?: (levels: readonly string[]) => string;
}

const EVEN = () => "each alike";

export function SettingsFields({ drivers, columns, read, at, onAt, usual = EVEN }: Props) {
  return columns.map(({ heading }, index) => {
    const driver = drivers[index];
    const one = read[index];
    if (!driver || !one) return null;
    const text = at[heading.text] ?? "";
    const set = (value: string) => onAt({ ...at, [heading.text]: value });
    const problem = "problem" in one ? one.problem : undefined;
    const state = {
      validationState: problem ? "error" : "none",
      validationMessage: problem && toText(problem),
    } as const;
    if (driver.kind === "category")
      return (
        <Field key={heading.text} label={heading.text} {...state}>
          <Dropdown
            value={text || usual(driver.levels)}
            selectedOptions={[text]}
            onOptionSelect={(_, { optionValue }) => set(optionValue ?? "")}
          >
            <Option value="" text={usual(driver.levels)}>
              {usual(driver.levels)}
            </Option>
            {driver.levels.map((level) => (
              <Option key={level} value={level} text={level}>
                {level}
              </Option>
            ))}
          </Dropdown>
        </Field>
      );
    const { low, high } = extent(driver.values);
    return (
      <Field
        key={heading.text}
        label={heading.text}
        hint={toText(say`The rows have ${significant(low, 4)} to ${significant(high, 4)}; empty is their mean.`)}
        {...state}
      >
        <Input value={text} inputMode="decimal" onChange={(_, { value }) => set(value)} />
      </Field>
    );
  });
}
