/** The settings of the log, carried from the last row: what is typed here goes into the next. */
import type { ShootForm } from "../../experiment/shoot/shootForm";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import { SettingField } from "../fields/SettingField";
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
