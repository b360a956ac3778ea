/** The standing in one line and as intervals, with the claims that fall. */
import { toText } from "../../experiment/language/said";
import { useMemo } from "react";
import { standingLine } from "../../experiment/evidence/claimWords";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { claimsFigure } from "../plots/claimsFigure";
import type { Figure } from "../plots/figure";
import { FigureView } from "../plots/FigureView";
import type { ShownClaims } from "./useClaims";

export function ClaimsInFront({ shown, theme }: { readonly shown: ShownClaims; readonly theme: ThemeName }) {
  const section = useSectionStyles();
  const { sides, rules, target, claims, sheet } = shown;
  const fallen = useMemo(() => claims.filter(({ stands }) => !stands), [claims]);
  const figure = useMemo(() => claimsFigure(sides, rules, target, fallen), [sides, rules, target, fallen]);
  const line =
    claims.length > 0
      ? standingLine(sides, claims, rules)
      : sheet === undefined
        ? "No claim yet: make a sheet for claims, or choose the sheet that has them."
        : "No claim yet.";
  return (
    <section aria-label="Standing" data-part="picture">
      <p className={section.line} data-part="line" aria-live="polite">
        {toText(line)}
      </p>
      <FigureView figure={figure ?? empty(rules.unit, target)} theme={theme} />
    </section>
  );
}

/** What is waited for: the scale, and the target where one is known. */
function empty(unit: string, target: number | undefined): Figure {
  return {
    id: "claims",
    title: "Claimed bends",
    caption: "Each claim will stand here as an interval, its checks beside it; ties overlap.",
    xLabel: `Bend (${unit})`,
    yLabel: "",
    points: [],
    intervals: [],
    ...(target !== undefined && { rule: target, ruleName: "target" }),
  };
}
