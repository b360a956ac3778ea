/** Where everything stands, from the two rails that a tape reaches soonest, and how far it may be off. */
import { say, toText } from "../../experiment/language/said";
import { useMemo } from "react";
import { placedBalls, type LayoutForm } from "../../experiment/layout/layoutForm";
import { toleranceWords } from "../../experiment/layout/placeWords";
import { useSectionStyles } from "../frame/styles";

export function PlacesTable({ form }: { readonly form: LayoutForm }) {
  const section = useSectionStyles();
  const balls = useMemo(() => placedBalls(form), [form]);
  const { units } = form;
  return (
    <>
      <div className={section.scroll} tabIndex={0} role="region" aria-label="Places">
        <table className={section.table} data-part="places">
          <thead>
            <tr>
              <th>Place</th>
              <th>Measured</th>
              <th>{toText(say`May be off (bend wrong by ${toleranceWords(form.wrong, units)})`)}</th>
            </tr>
          </thead>
          <tbody>
            {balls.map(
              ({ label, words, tolerance }) =>
                tolerance && (
                  <tr key={label}>
                    <th>{label}</th>
                    <td>{words}</td>
                    <td>
                      {toText(
                        say`${toleranceWords(tolerance.square, units)} square to the line; ${toleranceWords(tolerance.x, units)} along the banked rail`,
                      )}
                    </td>
                  </tr>
                ),
            )}
          </tbody>
        </table>
      </div>
      <p className={section.note}>
        Each alone, the others being right; together they add up as in the Measure view. Along the line itself a ball
        may be off by far more. Guides are lifted before the first attempt.
      </p>
    </>
  );
}
