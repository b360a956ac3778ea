/** The drivers of a question: which columns, and how each is taken. */
import { Checkbox, Dropdown, Option } from "@fluentui/react-components";
import type { LogColumn, TrialLog } from "../../experiment/log/trialLog";
import {
  asDriver,
  possibleDrivers,
  withoutDriver,
  type Choice,
  type DriverChoice,
} from "../../experiment/question/choice";
import { useSectionStyles } from "../frame/styles";

const CURVES = [
  ["1", "straight"],
  ["2", "one bow (degree 2)"],
  ["3", "two bows (degree 3)"],
] as const;
interface Props {
  readonly log: TrialLog;
  readonly choice: Pick<Choice, "response" | "drivers">;
  readonly missing: readonly string[];
  readonly legend?: string;
  /** Heading that has another part in the question. */
  readonly except?: string;
  readonly onChange: (drivers: readonly DriverChoice[]) => void;
}

export function DriversField({ log, choice, missing, legend = "Drivers", except, onChange }: Props) {
  const styles = useSectionStyles();
  const { drivers } = choice;
  const set = (heading: string, next: DriverChoice | undefined) => {
    if (next === undefined) onChange(withoutDriver(drivers, heading));
    else
      onChange(
        drivers.some((one) => one.heading === heading)
          ? drivers.map((one) => (one.heading === heading ? next : one))
          : [...drivers, next],
      );
  };
  return (
    <fieldset style={{ border: 0, padding: 0, margin: 0, minWidth: 0 }}>
      <legend className={styles.subhead}>{legend}</legend>
      {possibleDrivers(log, choice.response)
        .filter(({ heading }) => heading.text !== except)
        .map((column) => (
          <DriverRow
            key={column.column}
            column={column}
            driver={drivers.find(({ heading }) => heading === column.heading.text)}
            onChange={(next) => set(column.heading.text, next)}
          />
        ))}
      {missing.map((heading) => (
        <p
          key={heading}
          className={styles.note}
        >{`"${heading}" is not on the sheet now; it is asked again when it is back.`}</p>
      ))}
    </fieldset>
  );
}

function DriverRow({
  column,
  driver,
  onChange,
}: {
  column: LogColumn;
  driver: DriverChoice | undefined;
  onChange: (next: DriverChoice | undefined) => void;
}) {
  const styles = useSectionStyles();
  const name = column.heading.text;
  return (
    <div className={styles.driver}>
      <Checkbox
        className={styles.driverName}
        label={name}
        checked={driver !== undefined}
        onChange={(_, { checked }) => onChange(checked ? asDriver(column) : undefined)}
      />
      {driver && (
        <div className={styles.driverMore}>
          <Dropdown
            size="small"
            aria-label={`${name} is taken as`}
            style={{ minWidth: "96px" }}
            value={driver.as}
            selectedOptions={[driver.as]}
            onOptionSelect={(_, { optionValue }) =>
              onChange({ heading: name, as: optionValue === "category" ? "category" : "number", degree: 1 })
            }
          >
            <Option value="number">number</Option>
            <Option value="category">category</Option>
          </Dropdown>
          {driver.as === "number" && (
            <Dropdown
              size="small"
              aria-label={`Line of ${name}`}
              style={{ minWidth: "96px" }}
              value={CURVES.find(([degree]) => degree === String(driver.degree))?.[1] ?? `degree ${driver.degree}`}
              selectedOptions={[String(driver.degree)]}
              onOptionSelect={(_, { optionValue }) => onChange({ ...driver, degree: Number(optionValue) })}
            >
              {CURVES.map(([degree, text]) => (
                <Option key={degree} value={degree}>
                  {text}
                </Option>
              ))}
            </Dropdown>
          )}
        </div>
      )}
    </div>
  );
}
