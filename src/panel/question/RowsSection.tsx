/** Choose rows: which sheet, which table, where the headings stand, what the units are. */
import { Dropdown, Field, Input, Option } from "@fluentui/react-components";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { PanelSettings } from "../frame/settings";
import type { PanelState } from "../frame/usePanel";
import { useSectionStyles } from "../frame/styles";

export function RowsSection({ sheets, settings, data, view, change }: PanelState) {
  const styles = useSectionStyles();
  if (!data || !view) return null;
  const { logs, log } = view;
  return (
    <div className={styles.stack}>
      <Field label="Sheet">
        <Dropdown
          value={data.sheet}
          selectedOptions={[data.sheet]}
          onOptionSelect={(_, { optionValue }) =>
            optionValue !== undefined && change({ sheet: optionValue, table: undefined, headingRow: undefined })
          }
        >
          {sheets.map(({ name, hidden }) => (
            <Option key={name} value={name} text={name}>
              {hidden ? `${name} (hidden)` : name}
            </Option>
          ))}
        </Dropdown>
      </Field>
      {logs.length > 0 && (
        <TablePicker
          logs={logs}
          log={log}
          onChange={(table) => change({ sheet: data.sheet, table, headingRow: undefined })}
        />
      )}
      <Field label="Row of headings" hint="Change it when the table was not found rightly.">
        <Input
          type="number"
          min={1}
          value={String((settings.headingRow ?? log?.headingRow ?? 0) + 1)}
          onChange={(_, { value }) => {
            const row = Number(value);
            if (Number.isInteger(row) && row >= 1) change({ sheet: data.sheet, headingRow: row - 1 });
          }}
        />
      </Field>
      {log?.readAs.map((text) => (
        <p key={text} className={styles.sentence} data-part="read-as">
          {text}
        </p>
      ))}
      {log && <UnitsTable log={log} units={settings.units} onChange={(units) => change({ units })} />}
    </div>
  );
}

interface TableProps {
  readonly logs: readonly TrialLog[];
  readonly log: TrialLog | undefined;
  readonly onChange: (title: string | undefined) => void;
}

function TablePicker({ logs, log, onChange }: TableProps) {
  return (
    <Field label="Table of trials">
      <Dropdown
        value={log?.title ?? ""}
        selectedOptions={log ? [log.title] : []}
        onOptionSelect={(_, { optionValue }) => onChange(optionValue)}
      >
        {logs.map(({ title, rows }) => (
          <Option key={title} value={title} text={title}>{`${title}, ${rows.length} rows`}</Option>
        ))}
      </Dropdown>
    </Field>
  );
}

const HOLDS = { number: "numbers", category: "words", date: "dates", empty: "nothing" };

interface UnitsProps {
  readonly log: TrialLog;
  readonly units: PanelSettings["units"];
  readonly onChange: (units: PanelSettings["units"]) => void;
}

/** What each column holds, and its unit where its heading says none or a wrong one. */
function UnitsTable({ log, units, onChange }: UnitsProps) {
  const styles = useSectionStyles();
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          <th scope="col">Column</th>
          <th scope="col">Holds</th>
          <th scope="col">Unit</th>
        </tr>
      </thead>
      <tbody>
        {log.columns.map(({ column, heading, kind }) => (
          <tr key={column}>
            <th scope="row">{heading.name}</th>
            <td>{HOLDS[kind]}</td>
            <td>
              <Input
                size="small"
                className={styles.unit}
                value={heading.unit}
                aria-label={`Unit of ${heading.name}`}
                onChange={(_, { value }) => onChange({ ...units, [heading.text]: value })}
              />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
