/**
 * From a sheet's cells and the user's settings to everything that the panel shows. Pure.
 * May import: settings.ts, experiment/, workbook/port.ts.
 */
import { analyse, NoAnswer, type Analysis } from "../experiment/analysis";
import { guessChoice, type Choice } from "../experiment/choice";
import { memo } from "../statistics/memo";
import { UnknownColumn, type RowCheck } from "../experiment/rowCheck";
import { sessionAware, type SessionAware } from "../experiment/sessionAware";
import { findTrialLogs, trialLogAt, type TrialLog } from "../experiment/trialLog";
import type { SheetData } from "../workbook/port";
import type { PanelSettings } from "./settings";

export interface PanelView {
  readonly logs: readonly TrialLog[];
  readonly log: TrialLog | undefined;
  /** The question as asked: kept or guessed, less what the sheet no longer has. */
  readonly choice: Choice | undefined;
  /** Headings that the kept question names and the sheet does not have now; they come back with the column. */
  readonly missing: readonly string[];
  /** The fit that is shown. */
  readonly analysis: Analysis | undefined;
  /** What the sessions mean for the plain fit, where rows come in sessions and the question does not say how they go together. */
  readonly aware: SessionAware | undefined;
  readonly check: RowCheck | undefined;
  /** Why there is no answer. */
  readonly problem: string | undefined;
}

const NOTHING = { logs: [], log: undefined, choice: undefined, missing: [], analysis: undefined, aware: undefined, check: undefined };

const logMemo = memo<{ readonly logs: readonly TrialLog[]; readonly log: TrialLog | undefined }>(2);

/** The logs on the sheet and the one whose headings the user named; read once per reading of the sheet. */
function logsOf(data: SheetData, { units, headingRow }: PanelSettings) {
  return logMemo(data, [JSON.stringify(units), headingRow], () => ({
    logs: findTrialLogs(data, units),
    log: headingRow === undefined ? undefined : trialLogAt(data, headingRow, units),
  }));
}

export function panelView(data: SheetData, settings: PanelSettings): PanelView {
  if (data.values.length === 0) return { ...NOTHING, problem: `Sheet "${data.sheet}" is empty. Open a log, or type headings and trials and come back.` };
  const { logs, log: named } = logsOf(data, settings);
  const log = settings.headingRow === undefined ? (logs.find(({ title }) => title === settings.table) ?? logs[0]) : named;
  if (!log) {
    const where = settings.headingRow === undefined ? `Sheet "${data.sheet}" has` : `Row ${settings.headingRow + 1} of sheet "${data.sheet}" has`;
    return { ...NOTHING, logs, problem: `${where} no headings with rows of trials below them. Put a heading over each column, or name the row of headings under Choose rows.` };
  }
  const wanted = settings.choice ?? guessChoice(log);
  if (!wanted) {
    const problem = log.rows.length === 0 ? "There are no trials under the headings yet. Type what you measured, one shot a row, and the answer appears here." : "No column holds numbers, so there is nothing to explain yet.";
    return { ...NOTHING, logs, log, problem };
  }
  const has = new Set(log.columns.map(({ heading }) => heading.text));
  const missing = [wanted.response, ...wanted.drivers.map(({ heading }) => heading), ...(wanted.weight === undefined ? [] : [wanted.weight])].filter((heading) => !has.has(heading));
  if (!has.has(wanted.response)) {
    return { ...NOTHING, logs, log, choice: wanted, missing, problem: `The column "${wanted.response}" is not on this sheet now. Choose another response, or put its heading back.` };
  }
  const drivers = wanted.drivers.filter(({ heading }) => has.has(heading));
  const asked = new Set(drivers.map(({ heading }) => heading));
  const { scatter, weight, ...rest } = wanted;
  const together = scatter && (scatter.as === "robust" || has.has(scatter.heading)) ? { scatter } : {};
  const weighed = weight !== undefined && has.has(weight) ? { weight } : {};
  const choice = { ...rest, ...together, ...weighed, drivers, joint: wanted.joint.filter((pair) => pair.every((heading) => asked.has(heading))) };
  try {
    const plain = analyse(log, choice);
    const aware = sessionAware(plain);
    const analysis = aware?.lead && aware.recommended && !settings.plainFirst ? aware.recommended : plain;
    return { logs, log, choice, missing, analysis, aware: aware?.lead ? aware : undefined, check: analysis.check, problem: undefined };
  } catch (problem) {
    if (problem instanceof NoAnswer) return { logs, log, choice, missing, analysis: undefined, aware: undefined, check: problem.check, problem: problem.message };
    if (problem instanceof UnknownColumn) return { logs, log, choice, missing, analysis: undefined, aware: undefined, check: undefined, problem: problem.message };
    throw problem;
  }
}
