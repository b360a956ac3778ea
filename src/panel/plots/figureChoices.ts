/** What can be drawn of the answer that is shown. */
import { say } from "../../experiment/language/said";
import { asksOfObstacle, obstacleSentence } from "../../experiment/log/attemptLog";
import type { PanelView } from "../frame/view";
import type { Figure } from "./figure";
import { driversFigure, ratesFigure } from "./driversFigure";
import { figures, type FigureChoice } from "./figures";
import { madeFigures } from "./madeFigures";
import { driverPairs, pairsFigure } from "./pairsFigure";

/** Undefined without an answer; each figure is made only when it is looked at. */
export function figureChoices({
  analysis,
  comparison,
  made,
  reach,
}: Pick<PanelView, "analysis" | "comparison" | "made"> & {
  /** What was worked out of attempts. */
  readonly reach?: { readonly figures: readonly Figure[] };
}): readonly FigureChoice[] | undefined {
  if (reach) return reach.figures.map((figure) => ({ id: figure.id, title: figure.title, make: () => figure }));
  if (made) return [...listed(ratesFigure(made)), ...madeFigures(made)];
  if (!analysis) return undefined;
  const pairs = driverPairs(analysis);
  const all = comparison
    ? [pairsFigure(comparison), ...figures(analysis), ...pairs.slice(1)]
    : [...listed(driversFigure(analysis)), ...figures(analysis), ...pairs];
  const { log, response } = analysis;
  return asksOfObstacle(log, response) ? all.map((choice) => cautioned(choice, obstacleSentence(response))) : all;
}

const listed = (choice: FigureChoice | undefined) => (choice ? [choice] : []);

/** The figure with a caution before its caption, so that no picture of it goes about without. */
function cautioned({ make, makeWith, ...choice }: FigureChoice, text: string): FigureChoice {
  const led = (figure: Figure): Figure => ({ ...figure, caption: say`${text} ${figure.caption}` });
  return {
    ...choice,
    make: () => led(make()),
    ...(makeWith && { makeWith: (envelope) => led(makeWith(envelope)) }),
  };
}
