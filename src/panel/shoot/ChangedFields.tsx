/** The settings of the log, carried from the last row: what is typed here goes into the next. */
import { Field, Input } from "@fluentui/react-components";
import type { ShootForm } from "../../experiment/shoot/shootForm";
import { typedSetting, type KeptSetting, type ShootLog } from "../../experiment/shoot/shootLog";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly shoot: ShootLog;
  readonly form: ShootForm;
  readonly session: string;
  readonly onChange: (heading: string, text: string) => void;
  readonly onSession: (session: string) => void;
}

export function ChangedFields({ shoot, form, session, onChange, onSession }: Props) {
  const section = useSectionStyles();
  const open = shoot.settings.filter(({ planned }) => !planned);
  const planned = shoot.settings.filter((one) => one.planned);
  return (
    <div className={section.stack}>
      {planned.length > 0 && (
        <p className={section.sentence}>
          {`Row ${shoot.open.row + 1} is planned with ${planned.map(({ column, text }) => `${column.heading.text} ${text}`).join(", ")}.`}
        </p>
      )}
      {open.length === 0 && planned.length === 0 && (
        <p className={section.note}>This log has no columns of settings, such as Table, Cloth or Humidity (%).</p>
      )}
      {open.map((setting) =>
        setting.column === shoot.session ? (
          <SettingField key={setting.column.column} setting={setting} text={session} onChange={onSession} />
        ) : (
          <SettingField
            key={setting.column.column}
            setting={setting}
            text={form.changed[setting.column.heading.text] ?? setting.text}
            onChange={(text) => onChange(setting.column.heading.text, text)}
          />
        ),
      )}
    </div>
  );
}

function SettingField({
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
