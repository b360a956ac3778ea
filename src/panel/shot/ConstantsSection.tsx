/** The table's constants: a value and a range for each that is known within a range only. */
import { Fragment } from "react";
import { Button, Dropdown, Field, Option } from "@fluentui/react-components";
import { conditionProblem, CUSHION_MODELS, type CushionModel } from "../../bank/conditions";
import {
  CONSTANT_KINDS,
  DEFAULT_SHOT,
  UNCERTAIN,
  conditionsOfShot,
  type ShotSettings,
  type Uncertain,
  type UncertainName,
} from "../../experiment/shot/shotSettings";
import { useSectionStyles } from "../frame/styles";
import { NumberField } from "../fields/NumberField";

interface Props {
  readonly constants: ShotSettings["constants"];
  readonly cushionModel: CushionModel;
  readonly onChange: (part: Partial<Pick<ShotSettings, "constants" | "cushionModel">>) => void;
}

const UNIT = { size: 1, name: "" };
const MODELS: Readonly<Record<CushionModel, string>> = {
  "nose and bed": "nose and bed (Mathavan, Jackson & Parkin 2010)",
  "nose alone": "nose alone (after Han 2005, from memory)",
};
const ENDS = [
  ["low", "low"],
  ["value", "value"],
  ["high", "high"],
] as const;

export function ConstantsSection({ constants, cushionModel, onChange }: Props) {
  const styles = useSectionStyles();
  const take = (name: UncertainName, end: keyof Uncertain) => (value: number) => {
    const next = { ...constants[name], [end]: value };
    const label = CONSTANT_KINDS[name].label;
    if (next.low > next.high)
      return `The range of ${label.toLowerCase()} is reversed: ${next.low} is above ${next.high}.`;
    if (next.value < next.low || next.value > next.high)
      return `${label} is ${next.value}, outside its range ${next.low} to ${next.high}: change the other one first.`;
    const all = { ...constants, [name]: next };
    const problem = conditionProblem(conditionsOfShot({ constants: all, cushionModel }));
    if (problem) return `${label}: ${problem.mend}.`;
    onChange({ constants: all });
    return undefined;
  };
  return (
    <div className={styles.stack}>
      <p className={styles.note}>
        The line is drawn at the value. The band is the least and the most over every corner of the three ranges and
        over each constant alone at its ends. Slip friction and restitution: published ranges; nose friction: one
        published value, the range is a guess. Calibrate them to your own rows below.
      </p>
      <div
        style={{
          display: "grid",
          gridTemplateColumns: "minmax(0, 1.3fr) repeat(3, minmax(0, 1fr))",
          gap: "6px 8px",
          alignItems: "start",
        }}
        role="group"
        aria-label="Table constants"
      >
        <span />
        <span className={styles.note}>Low</span>
        <span className={styles.note}>Value</span>
        <span className={styles.note}>High</span>
        {UNCERTAIN.map((name) => {
          const { label, bounds } = CONSTANT_KINDS[name];
          return (
            <Fragment key={name}>
              <span>{label}</span>
              {ENDS.map(([end, text]) => (
                <NumberField
                  key={end}
                  name={`${label}, ${text}`}
                  value={constants[name][end]}
                  unit={UNIT}
                  low={bounds.low}
                  high={bounds.high}
                  onChange={take(name, end)}
                />
              ))}
            </Fragment>
          );
        })}
      </div>
      <Field
        label="Cushion model"
        hint="Nose and bed: friction at both while the ball is in the cushion. Nose alone: as if the bed were not there."
      >
        <Dropdown
          value={MODELS[cushionModel]}
          selectedOptions={[cushionModel]}
          style={{ minWidth: 0 }}
          onOptionSelect={(_, { optionValue }) =>
            optionValue && onChange({ cushionModel: optionValue as CushionModel })
          }
        >
          {CUSHION_MODELS.map((model) => (
            <Option key={model} value={model} text={MODELS[model]}>
              {MODELS[model]}
            </Option>
          ))}
        </Dropdown>
      </Field>
      <Button
        size="small"
        onClick={() => onChange({ constants: DEFAULT_SHOT.constants, cushionModel: DEFAULT_SHOT.cushionModel })}
      >
        Back to the published values
      </Button>
    </div>
  );
}
