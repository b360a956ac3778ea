/** One setting of a log, as it stays or as it is from the next row on; what its column cannot hold is said at once. */
import { Field, Input } from "@fluentui/react-components";
import { typedSetting, type KeptSetting } from "../../experiment/shoot/shootLog";

export function SettingField({
  setting: { column, format, text: before },
  text,
  onChange,
}: {
  setting: KeptSetting;
  text: string;
  onChange: (text: string) => void;
}) {
  const read = text.trim() === "" || text.trim() === before ? undefined : typedSetting(column, text, format);
  const problem = read && "problem" in read ? read.problem : undefined;
  return (
    <Field
      label={column.heading.text}
      validationState={problem ? "error" : "none"}
      validationMessage={problem}
      hint={text.trim() !== before && before !== "" ? `${before} in the last row` : undefined}
    >
      <Input
        size="large"
        value={text}
        inputMode={column.kind === "number" && column.heading.unit !== "in" ? "decimal" : "text"}
        style={{ minWidth: 0, minHeight: "48px" }}
        input={{ style: { minWidth: 0, width: "100%" } }}
        onChange={(_, { value }) => onChange(value)}
      />
    </Field>
  );
}
