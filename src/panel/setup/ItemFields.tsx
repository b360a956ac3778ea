/** One thing of the set-up: its value, within what it lies, where it comes from and how to measure it. */
import { capital } from "../../experiment/language/said";
import { makeStyles } from "@fluentui/react-components";
import {
  itemProblem,
  setupProblem,
  SETUP_ITEMS,
  type Setup,
  type SetupKind,
  type SetupName,
} from "../../experiment/setup/setup";
import { fromOf } from "../../experiment/setup/setupSheet";
import { unitOf, type Unit } from "../../experiment/shot/shotSettings";
import { SYSTEMS } from "../../bank/units";
import { named, NumberField } from "../fields/NumberField";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly name: SetupName;
  readonly setup: Setup;
  readonly onChange: (next: Setup) => void;
}

const useStyles = makeStyles({
  row: { display: "grid", gridTemplateColumns: "repeat(3, minmax(0, 1fr))", gap: "0 8px", alignItems: "start" },
  name: { gridColumn: "1 / -1" },
});

/** Of these nobody gives a range. */
const CHOSEN: ReadonlySet<SetupName> = new Set(["target", "rulerDivision"]);

function unitFor(kind: SetupKind, units: Setup["units"]): Unit {
  if (kind !== "mass") return unitOf(kind, units);
  const { mass, massName } = SYSTEMS[units];
  return { size: mass, name: massName };
}

export function ItemFields({ name, setup, onChange }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const { label, kind, bounds, measure } = SETUP_ITEMS[name];
  const item = setup[name];
  const unit = unitFor(kind, setup.units);
  const title = named(capital(label), unit);
  const take = (end: "low" | "value" | "high") => (value: number) => {
    // A value beyond its range takes the range along.
    const next =
      end === "value"
        ? CHOSEN.has(name)
          ? { low: value, value, high: value }
          : { low: Math.min(item.low, value), value, high: Math.max(item.high, value) }
        : { ...item, [end]: value };
    const all = { ...setup, [name]: next };
    const problem = itemProblem(name, next) ?? setupProblem(all);
    if (problem !== undefined) return `${capital(problem)}.`;
    onChange(all);
    return undefined;
  };
  const field = (end: "low" | "value" | "high", shown: string) => (
    <div>
      <span className={section.note}>{shown}</span>
      <NumberField
        unlabelled
        name={`${title}, ${shown.toLowerCase()}`}
        value={item[end]}
        unit={unit}
        low={bounds.low}
        high={bounds.high}
        onChange={take(end)}
      />
    </div>
  );
  return (
    <div className={styles.row} role="group" aria-label={title} data-item={name}>
      <span className={styles.name}>{title}</span>
      {field("value", "Value")}
      {!CHOSEN.has(name) && field("low", "Low")}
      {!CHOSEN.has(name) && field("high", "High")}
      <span className={`${section.note} ${styles.name}`}>{`${capital(fromOf(name, item))}. ${measure}`}</span>
    </div>
  );
}
