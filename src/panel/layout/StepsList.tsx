/** The steps of setting up, checking and filming, made from the layout. */
import { toText } from "../../experiment/language/said";
import { useMemo } from "react";
import type { LaidShot } from "../../experiment/layout/layoutCheck";
import { layoutSteps } from "../../experiment/layout/layoutSteps";
import { useSectionStyles } from "../frame/styles";

export function StepsList({ laid }: { readonly laid: LaidShot }) {
  const section = useSectionStyles();
  const groups = useMemo(() => layoutSteps(laid), [laid]);
  return (
    <details data-part="steps">
      <summary>Steps, from the bare table to the film</summary>
      {groups.map(({ title, lines }) => (
        <section key={title}>
          <h3 className={section.subhead}>{title}</h3>
          <ol style={{ margin: 0, paddingLeft: "22px" }}>
            {lines.map((line) => (
              <li key={toText(line)} className={section.sentence}>
                {toText(line)}
              </li>
            ))}
          </ol>
        </section>
      ))}
    </details>
  );
}
