/** bendbook regress. */
import { asksOfObstacle, obstacleSentence } from "../experiment/log/attemptLog";
import { columnNamed } from "../experiment/question/rowCheck";
import { analyse, type Analysis } from "../experiment/question/analysis";
import { analyseMade, type MadeAnalysis } from "../experiment/question/madeAnalysis";
import { leadingMade } from "../experiment/question/madeSessions";
import { readingErrors } from "../experiment/question/readingErrors";
import { leading, sessionAware } from "../experiment/question/sessionAware";
import { askedPrediction, askedRate } from "./askedAt";
import { madeOrder, madeOrderNote } from "../experiment/trust/madeOrder";
import { orderAnswer, orderNote } from "../experiment/trust/order";
import { drawAgain } from "./drawn";
import { exactHeadings } from "./exactHeadings";
import { regressSums } from "./fromSums";
import { asksOfSums, readSumsOptions } from "./sumsOptions";
import { orderJson, orderLines } from "./order";
import { readLog } from "./readLog";
import { madeJson, regressJson } from "./regressJson";
import { readRegressOptions, type RegressOptions } from "./regressOptions";
import { madeText, regressText } from "./regressText";
import type { Voices } from "./usage";

/** Fits and prints. @returns the exit code */
export async function regressCommand(args: string[], voices: Voices): Promise<number> {
  if (asksOfSums(args)) return regressSums(readSumsOptions(args), voices);
  const { print, progress, warn } = voices;
  const options = readRegressOptions(args);
  const log = await readLog(options.file, options, options.choice.response, warn);
  const choice = exactHeadings(log, options.choice);
  const response = columnNamed(log, choice.response);
  // As text it is the first sentence of the answer.
  if (options.json && !options.made && asksOfObstacle(log, response)) warn(obstacleSentence(response));
  print(options.made ? madeAnswer(analyseMade(log, choice), options) : answer(analyse(log, choice), options, progress));
  return 0;
}

function madeAnswer(analysis: MadeAnalysis, { at, order, json }: RegressOptions): string {
  const rate = at.length > 0 ? askedRate(leadingMade(analysis), at) : undefined;
  const ordered = order === undefined ? undefined : madeOrder(analysis, order);
  return json
    ? JSON.stringify({ ...madeJson(analysis, rate), ...(ordered && orderJson(ordered)) }, null, 2)
    : [madeText(analysis, rate), ...orderLines(ordered, analysis, () => madeOrderNote(analysis))].join("\n");
}

function answer(
  analysis: Analysis,
  { at, twice, order, draws, json }: RegressOptions,
  progress: (text: string) => void,
): string {
  const aware = sessionAware(analysis);
  const errors = readingErrors(leading(analysis), twice);
  const predicted = at.length > 0 ? askedPrediction(analysis, at) : undefined;
  const ordered = order === undefined ? undefined : orderAnswer(analysis, order);
  const drawn = draws && drawAgain(analysis, draws, progress);
  return json
    ? JSON.stringify(
        { ...regressJson(analysis, aware, predicted, errors), ...(ordered && orderJson(ordered)), ...drawn?.json },
        null,
        2,
      )
    : [
        regressText(analysis, aware, predicted, errors),
        ...orderLines(ordered, analysis, () => orderNote(analysis)),
        ...(drawn?.lines ?? []),
      ].join("\n");
}
