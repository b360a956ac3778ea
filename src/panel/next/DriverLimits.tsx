/** Every driver: whether it may change and within which limits, or what it is now. */
import { Checkbox, Dropdown, makeStyles, Option } from "@fluentui/react-components";
import { useMemo } from "react";
import type { Choice, DriverChoice } from "../../experiment/question/choice";
import { parseHeading } from "../../experiment/log/header";
import { levelOf } from "../../experiment/log/reading";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { NextForm } from "../../experiment/next/nextWords";
import { firstNext } from "../../experiment/next/whatNext";
import { extent } from "../../statistics/numeric/extent";
import { NumberField } from "../fields/NumberField";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly log: TrialLog;
  readonly choice: Pick<Choice, "drivers">;
  readonly form: NextForm;
  readonly onChange: (part: Partial<NextForm>) => void;
}

const useStyles = makeStyles({
  limits: {
    display: "grid",
    gridTemplateColumns: "minmax(0, 1.2fr) minmax(0, 1fr) minmax(0, 1fr)",
    gap: "6px 8px",
    alignItems: "center",
  },
});

export function DriverLimits(props: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  return (
    <div className={section.stack} role="group" aria-label="What may change">
      <div className={styles.limits}>
        <span className={section.note}>May change</span>
        <span className={section.note}>from, or now</span>
        <span className={section.note}>to</span>
        {props.choice.drivers.map((driver) =>
          driver.as === "category" ? (
            <LevelNow key={driver.heading} {...props} heading={driver.heading} />
          ) : (
            <NumberLimits key={driver.heading} {...props} heading={driver.heading} />
          ),
        )}
      </div>
    </div>
  );
}

type DriverProps = Props & Pick<DriverChoice, "heading">;

const readingsOf = ({ columns }: TrialLog, heading: string) =>
  columns.find((one) => one.heading.text === heading)?.readings ?? [];

function LevelNow({ log, form, heading, onChange }: DriverProps) {
  const now = form.held[heading];
  const levels = [...new Set(readingsOf(log, heading).map(levelOf))].filter((text) => text !== "");
  return (
    <>
      <span>{heading}</span>
      <Dropdown
        aria-label={`${heading} now`}
        style={{ minWidth: 0, gridColumn: "span 2" }}
        value={String(now ?? "")}
        selectedOptions={[String(now ?? "")]}
        onOptionSelect={(_, { optionValue }) =>
          optionValue && onChange({ held: { ...form.held, [heading]: optionValue } })
        }
      >
        {levels.map((level) => (
          <Option key={level} value={level}>
            {level}
          </Option>
        ))}
      </Dropdown>
    </>
  );
}

function NumberLimits(props: DriverProps) {
  const { form, heading, onChange } = props;
  const side = form.limits[heading];
  const now = form.held[heading];
  const free = useFree(props);
  const number = (name: string, value: number, take: (value: number) => void) => (
    <NumberField
      key={`${heading} ${name}`}
      unlabelled
      name={`${heading} ${name}`}
      value={value}
      unit={{ size: 1, name: parseHeading(heading).unit }}
      low={-1e9}
      high={1e9}
      onChange={take}
    />
  );
  const limit = (part: Partial<{ low: number; high: number }>) =>
    side && onChange({ limits: { ...form.limits, [heading]: { ...side, ...part } } });
  return (
    <>
      <Checkbox label={heading} checked={side !== undefined} onChange={(_, { checked }) => free(checked === true)} />
      {side ? (
        <>
          {number("from", side.low, (low) => limit({ low }))}
          {number("to", side.high, (high) => limit({ high }))}
        </>
      ) : (
        <>
          {number("now", typeof now === "number" ? now : 0, (value) =>
            onChange({ held: { ...form.held, [heading]: value } }),
          )}
          <span />
        </>
      )}
    </>
  );
}

/** Lets a driver change within what was shot, or holds it in the middle of that. */
function useFree({ log, choice, form, heading, onChange }: DriverProps) {
  const first = useMemo(() => firstNext(log, choice), [log, choice]);
  return (checked: boolean) => {
    const { [heading]: _side, ...limits } = form.limits;
    const { [heading]: _now, ...held } = form.held;
    const numbers = readingsOf(log, heading).flatMap((reading) => (reading.kind === "number" ? [reading.value] : []));
    const last = first.limits[heading] ?? extent(numbers);
    onChange(
      checked
        ? { limits: { ...limits, [heading]: last }, held }
        : { limits, held: { ...held, [heading]: (last.low + last.high) / 2 } },
    );
  };
}
