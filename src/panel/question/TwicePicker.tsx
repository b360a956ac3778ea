/** Which columns hold a second reading of a driver: they tell how far its readings are off. */
import { Dropdown, Field, Option } from "@fluentui/react-components";
import { useMemo } from "react";
import { readingErrors, secondReadings, usableTwice } from "../../experiment/question/readingErrors";
import type { Analysis } from "../../experiment/question/analysis";

interface Props {
  readonly analysis: Analysis;
  /** Heading of the second reading, by that of the driver. */
  readonly twice: Readonly<Record<string, string>>;
  readonly onChange: (twice: Readonly<Record<string, string>>) => void;
}

const NONE = "none";

/** A field for each driver that has such a column beside it; nothing where none has. */
export function TwicePicker({ analysis, twice, onChange }: Props) {
  const noticed = useMemo(
    () =>
      new Map(
        readingErrors(analysis, usableTwice(analysis, twice)).map(({ driver, again }) => [driver, again.heading.text]),
      ),
    [analysis, twice],
  );
  return analysis.columns.map(({ heading: { text } }, driver) => {
    const offered = secondReadings(analysis, driver).map(({ heading }) => heading.text);
    if (offered.length === 0) return null;
    const chosen = noticed.get(driver);
    return (
      <Field
        key={text}
        label={`Second reading of ${text}`}
        hint="Where it was read twice, the answer says what errors of reading do to its effect."
      >
        <Dropdown
          value={chosen ?? NONE}
          selectedOptions={[chosen ?? ""]}
          onOptionSelect={(_, { optionValue }) => onChange({ ...twice, [text]: optionValue ?? "" })}
        >
          <Option value="" text={NONE}>
            {NONE}
          </Option>
          {offered.map((one) => (
            <Option key={one} value={one} text={one}>
              {one}
            </Option>
          ))}
        </Dropdown>
      </Field>
    );
  });
}
