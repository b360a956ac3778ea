/** Where the claims stand and how strictly they are judged, and where each of that comes from. */
import { say, toText } from "../../experiment/language/said";
import { Checkbox, Dropdown, Field, Option } from "@fluentui/react-components";
import { budgetUncertainty, type EvidenceChoice } from "../../experiment/evidence/evidenceChoice";
import { significant } from "../../experiment/language/wording";
import type { MeasureForm } from "../../experiment/measure/measureForm";
import type { SheetSummary } from "../../workbook/port";
import { named, NumberField, PERCENT } from "../fields/NumberField";
import { Fold } from "../frame/Fold";
import { useSectionStyles } from "../frame/styles";
import type { ShownClaims } from "./useClaims";

interface Props {
  readonly shown: ShownClaims;
  readonly sheets: readonly SheetSummary[];
  readonly measure: MeasureForm | undefined;
  readonly onChange: (part: Partial<EvidenceChoice>) => void;
}

export function RulesFields({ shown: { choice, sheet, small }, sheets, measure, onChange }: Props) {
  const visible = sheets.filter(({ hidden }) => !hidden).map(({ name }) => name);
  const off = say`${significant(choice.tolerance / small.size, 2)} ${small.name}`;
  return (
    <>
      <Field label="Sheet of claims" style={{ minWidth: 0 }}>
        <Dropdown
          style={{ minWidth: 0 }}
          value={sheet ?? "none yet"}
          selectedOptions={sheet === undefined ? [] : [sheet]}
          onOptionSelect={(_, { optionValue }) => optionValue && onChange({ sheet: optionValue })}
        >
          {visible.map((name) => (
            <Option key={name} value={name}>
              {name}
            </Option>
          ))}
        </Dropdown>
      </Field>
      <Fold
        title="How strictly"
        standing={toText(
          say`off by ${off} at most; larger with ${significant(100 * choice.certainty, 4)} %; the ball from the set-up`,
        )}
        part="rules"
      >
        <Strictness choice={choice} small={small} measure={measure} onChange={onChange} />
      </Fold>
    </>
  );
}

type StrictProps = Pick<ShownClaims, "choice" | "small"> & Pick<Props, "measure" | "onChange">;

function Strictness({ choice, small, measure, onChange }: StrictProps) {
  const section = useSectionStyles();
  return (
    <>
      <div className={section.fields}>
        <NumberField
          name={named("May be off by", small)}
          value={choice.tolerance}
          unit={small}
          low={0.0001}
          high={0.05}
          onChange={(tolerance) => onChange({ tolerance })}
        />
        <NumberField
          name={named("Uncertainty where none is named", small)}
          value={choice.uncertainty}
          unit={small}
          low={0.00001}
          high={0.05}
          onChange={(uncertainty) => onChange({ uncertainty })}
        />
        <NumberField
          name="Larger with (%)"
          value={choice.certainty}
          unit={PERCENT}
          low={0.5001}
          high={0.9999}
          onChange={(certainty) => onChange({ certainty })}
        />
      </div>
      {measure && (
        <Checkbox
          label={toText(
            say`Where none is named take the Measure view's budget of one reading (${significant(budgetUncertainty(measure) / small.size, 2)} ${small.name})`,
          )}
          checked={choice.byBudget}
          onChange={(_, { checked }) => onChange({ byBudget: checked === true })}
        />
      )}
    </>
  );
}
