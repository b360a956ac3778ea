/** Gathers from the workbook and the panel's settings what a report tells. */
import { say, type Said } from "../../experiment/language/said";
import { bendUncertainty } from "../../experiment/measure/bendUncertainty";
import { standings } from "../../experiment/evidence/evidence";
import { claimsLog, readClaims } from "../../experiment/evidence/readClaims";
import { budgetOf, measureSentences, readingsOf } from "../../experiment/measure/measureForm";
import { makePlan, PlanProblem } from "../../experiment/plan/plan";
import { wishOf } from "../../experiment/plan/planDraft";
import { planProgress } from "../../experiment/plan/planSheet";
import { reportOf, type Report, type ReportParts } from "../../experiment/report/report";
import {
  comparedSubject,
  explainedSubject,
  madeSubject,
  type ReportSubject,
} from "../../experiment/report/reportSubject";
import { reachSubject } from "../../experiment/report/reachSubject";
import { asksOfObstacle } from "../../experiment/log/attemptLog";
import { readingAt } from "../../experiment/log/logColumns";
import { numberOf } from "../../experiment/log/reading";
import { targetSentences } from "../../experiment/evidence/targetVerdict";
import { convertUnit, kindOfUnit } from "../../experiment/language/unitConversion";
import { findTrialLogs } from "../../experiment/log/trialLog";
import { trustChecks, trustSentences } from "../../experiment/trust/trustChecks";
import { VERSION } from "../../version";
import type { Port } from "../../workbook/port";
import { claimsSheetOf, rulesOf } from "../../experiment/evidence/evidenceChoice";
import type { Figure } from "../plots/figure";
import type { FigureChoice } from "../plots/figures";
import { awaitJob } from "../worker/awaitJob";
import { claimsFigure } from "../plots/claimsFigure";
import { figureChoices } from "../plots/figureChoices";
import { figureSvg } from "../plots/savePicture";
import { saidFirst } from "../frame/saidFirst";
import { settingsText, type PanelSettings } from "../frame/settings";
import type { PanelView, ReachAsked } from "../frame/view";
import { answerTo } from "../worker/reachAnswers";
import type { ShownReach } from "../worker/reachJob";
import type { ReportForm } from "../../experiment/report/reportForm";

export interface Collected {
  readonly report: Report;
  /** svg markup by the name of its figure. */
  readonly drawings: ReadonlyMap<string, string>;
}

/** @throws Error when there is no answer to report */
export async function collectReport(
  port: Port,
  view: PanelView | undefined,
  settings: PanelSettings,
  form: ReportForm,
  made: Date,
  language: string,
): Promise<Collected> {
  const asked = view?.reachAsked;
  const reach = asked && (answerTo(asked) ?? (await awaitJob("reach", orderOf(asked))));
  const subject = view && (asked && reach ? await attemptsSubject(view, asked, reach) : subjectOf(view));
  if (!view || !subject)
    throw new Error(
      view?.problem ?? "there is no answer to report yet: choose rows and a question in the Analysis view.",
    );
  const figures = reach?.figures ?? (await Promise.all((figureChoices(view) ?? []).map(wholeFigure)));
  const evidence = await evidenceOf(port, settings);
  const claimed =
    evidence && claimsFigure(standings(evidence.claims, evidence.certainty), evidence.rules, evidence.target?.bend);
  return {
    drawings: new Map(
      [...figures, ...(claimed ? [claimed] : [])].map((figure) => [
        figure.id,
        figureSvg(figure, language).replace(/^<\?xml[^>]*>\s*/, ""),
      ]),
    ),
    report: reportOf({
      title: form.title,
      purpose: form.purpose,
      subject,
      line: saidFirst(view, settings.plainFirst === true, reach?.sentences).line,
      sessions: view.aware?.sentences.map(({ text }) => text) ?? [],
      trust: view.analysis ? trustSentences(view.analysis, trustChecks(view.analysis)).map(({ text }) => text) : [],
      plan: await planOf(port, settings),
      measurement: measurementOf(settings),
      evidence: evidence && { ...evidence, ...(claimed && { picture: claimed }) },
      target: settings.measure ? targetSentences(settings.measure, { rows: bendsOf(subject), evidence }) : [],
      figures: figures.map(({ id, title, caption }) => ({ id, caption: say`${title}. ${caption}` })),
      made,
      version: VERSION,
      host: { excel: "the add-in in Excel", embedded: "the embedded grid", file: "a file" }[port.host],
      settings: settingsText(settings),
    }),
  };
}

/** With its envelope where it has one: paper cannot wait for it. */
async function wholeFigure(choice: FigureChoice): Promise<Figure> {
  if (!choice.simulated || !choice.makeWith) return choice.make();
  return choice.makeWith(await awaitJob("envelope", choice.simulated).catch(() => "not drawn" as const));
}

/** Sizes in m of the bends of the rows used: the response where it is one, otherwise the log's column. */
function bendsOf({ log, response, sheetRows }: ReportSubject): number[] {
  const column =
    response.meaning === "bend" && !asksOfObstacle(log, response)
      ? response
      : log.columns.find((one) => one.meaning === "bend" && one.kind === "number" && !asksOfObstacle(log, one));
  const unit = column?.heading.unit ?? "";
  if (!column || kindOfUnit(unit) !== "length") return [];
  const used = new Set(sheetRows);
  return log.rows
    .flatMap((row, index) => (used.has(row) ? [numberOf(readingAt(column, index))] : []))
    .filter(Number.isFinite)
    .map((bend) => Math.abs(convertUnit(bend, unit, "m")));
}

function orderOf({ attempts: { log }, question }: ReachAsked) {
  return { log, question };
}

/** The answer that stands, with the chance of a target where one is typed. */
async function attemptsSubject({ reaches }: PanelView, asked: ReachAsked, reach: ShownReach): Promise<ReportSubject> {
  const { target = "", tries = "" } = reaches ?? {};
  const likely = target.trim() === "" ? undefined : await awaitJob("target", { ...orderOf(asked), target, tries });
  return reachSubject(asked, reach, likely);
}

function subjectOf({ comparison, made, analysis }: PanelView): ReportSubject | undefined {
  if (comparison) return comparedSubject(comparison);
  if (made) return madeSubject(made);
  return analysis && explainedSubject(analysis);
}

/** The plan in progress; undefined where there is none, or its sheet or form do not hold one any more. */
async function planOf(port: Port, { plan: draft }: PanelSettings): Promise<ReportParts["plan"]> {
  if (draft?.sheet === undefined || !(await port.sheets()).some(({ name }) => name === draft.sheet)) return undefined;
  try {
    const { shot, planned } = planProgress(await port.read(draft.sheet));
    return { plan: makePlan(wishOf(draft)), sheet: draft.sheet, shot, planned };
  } catch (problem) {
    if (problem instanceof PlanProblem) return undefined;
    throw problem;
  }
}

function measurementOf({ measure }: PanelSettings): Said[] {
  const readings = measure && readingsOf(measure);
  // What a target asks of a measurement belongs to the method; whether these readings beat it does not: the verdict has
  // its section.
  const [bend, , claim] =
    measure && typeof readings === "object"
      ? measureSentences(measure, bendUncertainty(budgetOf(measure, readings)))
      : [];
  return [bend, claim].filter((sentence) => sentence !== undefined);
}

async function evidenceOf(
  port: Port,
  { evidence, measure, reach, confidence }: PanelSettings,
): Promise<ReportParts["evidence"]> {
  const sheet = claimsSheetOf(evidence, await port.sheets());
  if (sheet === undefined) return undefined;
  const log = claimsLog(findTrialLogs(await port.read(sheet)));
  const { rules, certainty } = rulesOf(evidence, measure, confidence);
  const target = measure && { bend: convertUnit(measure.target, "m", rules.unit), sure: measure.sure };
  return log && { log, claims: readClaims(log, rules, reach), rules, certainty, target };
}
