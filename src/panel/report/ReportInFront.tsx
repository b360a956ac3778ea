/** The answer that is reported: its line and its first picture. */
import { toText } from "../../experiment/language/said";
import { useEffect, useMemo } from "react";
import type { ThemeName } from "../frame/palette";
import { saidFirst } from "../frame/saidFirst";
import { useSectionStyles } from "../frame/styles";
import type { PanelView } from "../frame/view";
import { figureChoices } from "../plots/figureChoices";
import { FigureView } from "../plots/FigureView";
import { answerTo, keepAnswer } from "../worker/reachAnswers";
import { useJob } from "../worker/useJob";

interface Props {
  readonly view: PanelView;
  readonly plainFirst: boolean;
  readonly theme: ThemeName;
}

export function ReportInFront({ view, plainFirst, theme }: Props) {
  const section = useSectionStyles();
  const { reachAsked } = view;
  const { state, start, cancel } = useJob("reach");
  useEffect(() => {
    if (!reachAsked || answerTo(reachAsked)) return;
    start({ log: reachAsked.attempts.log, question: reachAsked.question });
    return cancel;
  }, [reachAsked, start, cancel]);
  const worked = state.kind === "done" ? state.answer : undefined;
  useEffect(() => {
    if (reachAsked && worked) keepAnswer(reachAsked, worked);
  }, [reachAsked, worked]);
  const reached = answerTo(reachAsked) ?? worked;
  const { line, by } = useMemo(
    () => saidFirst(view, plainFirst, reached?.sentences),
    [view, plainFirst, reached?.sentences],
  );
  const figure = useMemo(
    () => figureChoices({ ...view, ...(reached && { reach: reached }) })?.[0]?.make(),
    [view, reached],
  );
  return (
    <section aria-label="The answer that is reported" data-part="picture">
      <p className={section.line} data-part="line">
        {toText(line)}
      </p>
      <p className={section.note}>{toText(by)}</p>
      {figure && <FigureView figure={figure} theme={theme} />}
    </section>
  );
}
