/** Choose rows: which sheet, which table, where the headings stand, what the units are. */
import { Dropdown, Field, Input, Option } from "@fluentui/react-components";
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
        <Field label="Table of trials">
          <Dropdown
            value={log?.title ?? ""}
            selectedOptions={log ? [log.title] : []}
            onOptionSelect={(_, { optionValue }) =>
              change({ sheet: data.sheet, table: optionValue, headingRow: undefined })
            }
          >
            {logs.map(({ title, rows }) => (
              <Option key={title} value={title} text={title}>{`${title}, ${rows.length} rows`}</Option>
            ))}
          </Dropdown>
        </Field>
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
      {log && (
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
                <td>{{ number: "numbers", category: "words", date: "dates", empty: "nothing" }[kind]}</td>
                <td>
                  <Input
                    size="small"
                    className={styles.unit}
                    value={heading.unit}
                    aria-label={`Unit of ${heading.name}`}
                    onChange={(_, { value }) => change({ units: { ...settings.units, [heading.text]: value } })}
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </div>
  );
}
