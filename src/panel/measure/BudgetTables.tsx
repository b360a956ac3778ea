/** Every source with its part, and what more readings would bring. */
import { toText } from "../../experiment/language/said";
import { readingsLines, type MeasureForm } from "../../experiment/measure/measureForm";
import type { BendBudget, BendUncertainty } from "../../experiment/measure/bendUncertainty";
import { significant } from "../../experiment/language/wording";
import { unitOf } from "../../experiment/shot/shotSettings";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly form: MeasureForm;
  readonly budget: BendBudget;
  readonly found: BendUncertainty;
}

export function BudgetTables(props: Props) {
  return (
    <>
      <Sources {...props} />
      <MoreReadings {...props} />
    </>
  );
}

function Sources({ form, found }: Props) {
  const section = useSectionStyles();
  const unit = unitOf("small", form.units);
  return (
    <div className={section.scroll} tabIndex={0} role="region" aria-label="Sources of error">
      <table className={section.table} data-part="budget">
        <thead>
          <tr>
            <th>Source</th>
            <th className="number">{`Standard uncertainty (${unit.name})`}</th>
            <th className="number">Share of the variance</th>
          </tr>
        </thead>
        <tbody>
          {found.contributions.map(({ name, standard, df }) => (
            <tr key={name}>
              <th>{Number.isFinite(df) ? `${name} (${df} degrees of freedom)` : name}</th>
              <td className="number">{toText(significant(standard / unit.size, 2))}</td>
              <td className="number">
                {found.standard > 0 ? `${Math.round((100 * standard ** 2) / found.standard ** 2)} %` : "–"}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function MoreReadings({ form, budget }: Props) {
  const section = useSectionStyles();
  const unit = unitOf("small", form.units);
  const length = (value: number) => significant(value / unit.size, 2);
  const lines = readingsLines(budget, form.confidence);
  if (lines.length === 0)
    return (
      <p className={section.note}>
        A single reading shows no scatter. Read the gap again, setting the ruler anew each time, to see what repeating
        would bring; or give the scatter known from earlier readings, as Repeat and bendbook repeat find it.
      </p>
    );
  return (
    <div className={section.scroll} tabIndex={0} role="region" aria-label="More readings">
      <table className={section.table} data-part="more-readings">
        <thead>
          <tr>
            <th>If the gap were read</th>
            <th className="number">{`Standard uncertainty (${unit.name})`}</th>
            <th className="number">{`± (${unit.name})`}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map(({ n, standard, expanded }) => (
            <tr key={n}>
              <th>{n === 1 ? "once" : `${n} times`}</th>
              <td className="number">{toText(length(standard))}</td>
              <td className="number">{toText(length(expanded))}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className={section.note}>
        With the scatter that these readings show. Repeating lowers only the readings&apos; own part.
      </p>
    </div>
  );
}
