/** How far it bends in this session, in one line and a picture that grow with each press. */
import { toText } from "../../experiment/language/said";
import { useMemo, useRef } from "react";
import type { ReachAnswer } from "../../experiment/attempts/reach";
import { targetSentence } from "../../experiment/attempts/targetWords";
import { sessionCounts } from "../../experiment/shoot/shootNow";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import { answerLine } from "../../experiment/shoot/shootWords";
import { PALETTES, type ThemeName } from "../frame/palette";
import { usePreferences } from "../frame/preferences";
import { useSectionStyles } from "../frame/styles";
import { useWidth } from "../frame/useWidth";
import { FigureDrawing } from "../plots/FigureDrawing";
import { reachFigures } from "../plots/reachFigures";

interface Props {
  readonly shoot: ShootLog;
  readonly answer: ReachAnswer | undefined;
  readonly session: string;
  readonly target: string;
  readonly theme: ThemeName;
}

const HEIGHT = 210;

export function AnswerSoFar({ shoot, answer, session, target, theme }: Props) {
  const section = useSectionStyles();
  const [{ confidence }] = usePreferences();
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const figure = useMemo(() => answer && reachFigures(answer)[0]?.make(), [answer]);
  const chance = useMemo(() => answer && targetSentence(answer, target, ""), [answer, target]);
  return (
    <section aria-label="The answer so far" data-part="answer" ref={frame}>
      <p className={section.sentence} aria-live="polite" data-part="line">
        {answer
          ? toText(answerLine(answer, confidence))
          : "The answer grows here with each attempt that gets by or hits."}
      </p>
      {chance && (
        <p className={section.sentence} data-part="chance">
          {toText(chance)}
        </p>
      )}
      {answer && <p className={section.note}>{sessionCounts(shoot, answer, session)}</p>}
      {figure && <FigureDrawing figure={figure} width={width} height={HEIGHT} palette={PALETTES[theme]} />}
    </section>
  );
}
