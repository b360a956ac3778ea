/** The answer that is shown with every choice made otherwise. */
import { useMemo } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import type { MadeAnalysis } from "../../experiment/question/madeAnalysis";
import { changedChoices, changedMade } from "../../experiment/trust/changedChoices";
import type { ThemeName } from "../frame/palette";
import { ChangesSection } from "./ChangesSection";

interface Props {
  readonly of: { readonly analysis: Analysis } | { readonly made: MadeAnalysis };
  readonly theme: ThemeName;
}

export function ChangedAnswer({ of, theme }: Props) {
  const made = "made" in of ? of.made : undefined;
  const analysis = "made" in of ? undefined : of.analysis;
  const changes = useMemo(() => {
    if (made) return changedMade.bind(undefined, made);
    return analysis && changedChoices.bind(undefined, analysis);
  }, [analysis, made]);
  const shown = analysis ?? made;
  return changes && shown ? <ChangesSection make={changes} confidence={shown.choice.confidence} theme={theme} /> : null;
}
