/** The three arrangements of the departure gate: whether each lets the ball through, its place, its cost. */
import { say, toText, capital } from "../../experiment/language/said";
import { Radio, RadioGroup } from "@fluentui/react-components";
import { useMemo } from "react";
import type { Arrangement } from "../../bank/gatedLayout";
import { arrangementsOf } from "../../experiment/layout/layoutCheck";
import type { LayoutForm } from "../../experiment/layout/layoutForm";
import { arrangementCost, arrangementLabel, gatePlace } from "../../experiment/layout/layoutWords";
import { findingSentence } from "../../experiment/shot/findingWords";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly form: LayoutForm;
  readonly onChange: (part: Partial<LayoutForm>) => void;
}

export function ArrangementSection({ form, onChange }: Props) {
  const section = useSectionStyles();
  const offers = useMemo(() => arrangementsOf(form), [form]);
  return (
    <section className={section.stack} data-part="arrangements">
      <h2 className={section.subhead}>The departure gate</h2>
      <RadioGroup
        aria-label="The departure gate"
        value={form.arrangement}
        onChange={(_, { value }) => onChange({ arrangement: value as Arrangement })}
      >
        {offers.map((offer) => {
          const [worst] = offer.laid.amiss;
          return (
            <Radio
              key={offer.arrangement}
              value={offer.arrangement}
              label={
                <span>
                  {capital(arrangementLabel(offer.arrangement))}:{" "}
                  <strong>{offer.works ? "works" : "does not work"}</strong>
                  <span className={section.note} style={{ display: "block" }}>
                    {worst && toText(say`${findingSentence(worst, form.units)} `)}
                    {toText(say`${gatePlace(offer.laid)} ${arrangementCost(offer)}`)}
                  </span>
                </span>
              }
            />
          );
        })}
      </RadioGroup>
    </section>
  );
}
