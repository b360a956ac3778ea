/**
 * What the user chose in the panel, as it is kept with the workbook.
 */
import { asRecord } from "../../experiment/language/keptObject";
import { parseReach, type ReachChoice } from "../../experiment/attempts/reachChoice";
import type { Choice, DriverChoice, ScatterChoice } from "../../experiment/question/choice";
import { PARTS, type Part, type PartColumns } from "../../experiment/calibrate/calibrationRows";
import type { CompareChoice } from "../../experiment/question/otherQuestions";
import { parseLayout, type LayoutForm } from "../../experiment/layout/layoutForm";
import { parseEvidence, type EvidenceChoice } from "../../experiment/evidence/evidenceChoice";
import { parseReport, type ReportForm } from "../../experiment/report/reportForm";
import { parseMeasure, type MeasureForm } from "../../experiment/measure/measureForm";
import { parseNext, type NextForm } from "../../experiment/next/nextWords";
import { parseDraft, type PlanDraft } from "../../experiment/plan/planDraft";
import { parseShoot, type ShootForm } from "../../experiment/shoot/shootForm";
import { parseShot, type ShotSettings } from "../../experiment/shot/shotSettings";
import { parseVideo, type VideoForm } from "../../experiment/video/videoForm";

export interface PanelSettings {
  /** Sheet that is looked at; the one in front when missing. */
  readonly sheet?: string;
  /** Title of the table on it; the largest when missing. */
  readonly table?: string;
  /** Row of the headings (from 0) where the user named one. */
  readonly headingRow?: number;
  /** Units that the user gave, by full heading text. */
  readonly units: Readonly<Record<string, string>>;
  /** Excel tables whose rows below and columns beside are part of the log, by name. */
  readonly takeIn?: readonly string[];
  /** True when the user wants the plain fit read first where a session-aware one is advised. */
  readonly plainFirst?: boolean;
  /**
   * What kind of question is asked; when missing, how far it bends of a log of attempts, and to explain a number of any
   * other.
   */
  readonly ask?: QuestionKind;
  /** What explains a number; guessed when missing. */
  readonly choice?: Choice;
  /**
   * Heading of what says the order of the shots within a session; "" where it is not asked, noticed when missing.
   */
  readonly order?: string;
  /** What makes a shot; its response is the column that says made or missed. Guessed when missing. */
  readonly made?: Choice;
  /** Where the success rate is asked, as typed, by heading; the middle of the rows where missing. */
  readonly madeAt?: Readonly<Record<string, string>>;
  /** Where the mean and a single shot are asked, in the same way. */
  readonly at?: Readonly<Record<string, string>>;
  /** Heading of the second reading, by that of a driver that was read twice; noticed by headings when missing. */
  readonly twice?: Readonly<Record<string, string>>;
  /** Which levels differ; guessed when missing. */
  readonly comparison?: CompareChoice;
  /** How far it bends, from attempts past an obstacle; guessed when missing. */
  readonly reach?: ReachChoice;
  /** Which view is in front; the analysis when missing. */
  readonly view?: ViewName;
  /** The shot that was set; the default one when missing. */
  readonly shot?: ShotSettings;
  /** Of every interval, as the person prefers, in place of each question's own; never kept with the workbook. */
  readonly confidence?: number;
  /** What was chosen while shooting; the usual when missing. */
  readonly shoot?: ShootForm;
  /** The plan in its form; a first draft when missing. */
  readonly plan?: PlanDraft;
  /** The layout; a first one when missing. */
  readonly layout?: LayoutForm;
  /** What measurements rest on; the usual when missing. */
  readonly measure?: MeasureForm;
  /** Marks in a film and the ball's places in it, never the film; none when missing. */
  readonly video?: VideoForm;
  /** Where claims stand and how strictly they are judged; the usual when missing. */
  readonly evidence?: EvidenceChoice;
  /** What may change in the next shots; guessed when missing. */
  readonly next?: NextForm;
  /** Title, purpose and paper of the report. */
  readonly report?: ReportForm;
  /** What the calibration reads from which column; guessed when missing. */
  readonly calibration?: CalibrationChoice;
}

export interface CalibrationChoice {
  readonly columns: PartColumns;
  /** Whether measured bends have a sign; seen from the rows when missing. */
  readonly signed?: boolean;
}

/** The kinds of question, in the order in which they are offered. */
export const ASKS = ["explain", "made", "compare", "reach"] as const;
export type QuestionKind = (typeof ASKS)[number];

/** The views, in the order of the work; stages.ts says which belong together. */
export const VIEWS = [
  "start",
  "setup",
  "plan",
  "shot",
  "layout",
  "shoot",
  "video",
  "analysis",
  "next",
  "measure",
  "evidence",
  "report",
] as const;
export type ViewName = (typeof VIEWS)[number];

export const NO_SETTINGS: PanelSettings = { units: {} };

const FORM = 1;

export function settingsText(settings: PanelSettings): string {
  return JSON.stringify({ form: FORM, ...settings });
}

/**
 * Whether more than the view in front differs between two texts of settings; the second is one of ours. Attempts that
 * were pressed in are taken back where they were pressed.
 */
export function differsBeyondView(before: string | null, after: string): boolean {
  const rest = (text: string) => settingsText({ ...parseSettings(text), view: undefined, shoot: undefined });
  return rest(before ?? "{}") !== rest(after);
}

/** Reads kept settings; whatever is missing or not of the right kind is left to be guessed again. */
export function parseSettings(text: string | null): PanelSettings {
  if (text === null) return NO_SETTINGS;
  let raw: Record<string, unknown>;
  try {
    raw = asRecord(JSON.parse(text));
  } catch {
    return NO_SETTINGS;
  }
  if (raw.form !== FORM) return NO_SETTINGS;
  const choice = parseChoice(asRecord(raw.choice));
  const made = parseChoice(asRecord(raw.made));
  const comparison = parseComparison(asRecord(raw.comparison));
  const reach = parseReach(raw.reach);
  return {
    units: textsOf(raw.units),
    ...(typeof raw.sheet === "string" ? { sheet: raw.sheet } : {}),
    ...(typeof raw.table === "string" ? { table: raw.table } : {}),
    ...(Number.isInteger(raw.headingRow) ? { headingRow: raw.headingRow as number } : {}),
    ...(Array.isArray(raw.takeIn) ? { takeIn: raw.takeIn.filter((name) => typeof name === "string") } : {}),
    ...(raw.plainFirst === true ? { plainFirst: true } : {}),
    ...(ASKS.includes(raw.ask as QuestionKind) ? { ask: raw.ask as QuestionKind } : {}),
    ...(choice ? { choice } : {}),
    ...(typeof raw.order === "string" ? { order: raw.order } : {}),
    ...(made ? { made } : {}),
    ...(raw.madeAt === undefined ? {} : { madeAt: textsOf(raw.madeAt) }),
    ...(raw.at === undefined ? {} : { at: textsOf(raw.at) }),
    ...(raw.twice === undefined ? {} : { twice: textsOf(raw.twice) }),
    ...(comparison ? { comparison } : {}),
    ...(reach ? { reach } : {}),
    ...(VIEWS.includes(raw.view as ViewName) ? { view: raw.view as ViewName } : {}),
    ...(raw.shot === undefined ? {} : { shot: parseShot(raw.shot) }),
    ...(raw.shoot === undefined ? {} : { shoot: parseShoot(raw.shoot) }),
    ...(raw.plan === undefined ? {} : { plan: parseDraft(raw.plan) }),
    ...(raw.layout === undefined ? {} : { layout: parseLayout(raw.layout) }),
    ...(raw.measure === undefined ? {} : { measure: parseMeasure(raw.measure) }),
    ...(raw.video === undefined ? {} : { video: parseVideo(raw.video) }),
    ...(raw.evidence === undefined ? {} : { evidence: parseEvidence(raw.evidence) }),
    ...(raw.next === undefined ? {} : { next: parseNext(raw.next) }),
    ...(raw.report === undefined ? {} : { report: parseReport(raw.report) }),
    ...(raw.calibration === undefined ? {} : { calibration: parseCalibration(asRecord(raw.calibration)) }),
  };
}

function parseChoice(raw: Record<string, unknown>): Choice | undefined {
  if (typeof raw.response !== "string" || !Array.isArray(raw.drivers)) return undefined;
  const drivers = raw.drivers.map(asRecord).flatMap((driver): DriverChoice[] => {
    if (typeof driver.heading !== "string" || (driver.as !== "number" && driver.as !== "category")) return [];
    const degree = Number.isInteger(driver.degree) ? Math.min(10, Math.max(1, driver.degree as number)) : 1;
    return [{ heading: driver.heading, as: driver.as, degree }];
  });
  const joint = (Array.isArray(raw.joint) ? raw.joint : []).filter(
    (pair): pair is [string, string] =>
      Array.isArray(pair) && pair.length === 2 && pair.every((one) => typeof one === "string"),
  );
  const confidence =
    typeof raw.confidence === "number" && raw.confidence > 0 && raw.confidence < 1 ? raw.confidence : 0.95;
  const scatter = parseScatter(asRecord(raw.scatter));
  const sessions = headingList(raw.sessions);
  return {
    response: raw.response,
    drivers,
    joint,
    constant: raw.constant !== false,
    confidence,
    ...(scatter ? { scatter } : {}),
    ...(sessions ? { sessions } : {}),
    ...(typeof raw.weight === "string" ? { weight: raw.weight } : {}),
  };
}

function parseComparison(raw: Record<string, unknown>): CompareChoice | undefined {
  const choice = parseChoice(raw);
  if (!choice || typeof raw.among !== "string") return undefined;
  const { response, drivers, confidence, scatter, sessions, weight } = choice;
  return {
    response,
    drivers,
    confidence,
    among: raw.among,
    margin: typeof raw.margin === "string" ? raw.margin : "",
    ...(scatter && { scatter }),
    ...(sessions && { sessions }),
    ...(weight !== undefined && { weight }),
    ...(typeof raw.reference === "string" && { reference: raw.reference }),
    ...(typeof raw.slope === "string" && { slope: raw.slope }),
  };
}

/** The entries that are text. */
function textsOf(value: unknown): Record<string, string> {
  return Object.fromEntries(
    Object.entries(asRecord(value)).filter((entry): entry is [string, string] => typeof entry[1] === "string"),
  );
}

function parseCalibration({ columns, signed }: Record<string, unknown>): CalibrationChoice {
  const kept = PARTS.flatMap((part): [Part, string][] => {
    const heading = asRecord(columns)[part];
    return typeof heading === "string" ? [[part, heading]] : [];
  });
  return { columns: Object.fromEntries(kept), ...(typeof signed === "boolean" ? { signed } : {}) };
}

function parseScatter({ as, heading, also: further }: Record<string, unknown>): ScatterChoice | undefined {
  if (as === "robust") return { as };
  if ((as !== "cluster" && as !== "random") || typeof heading !== "string") return undefined;
  const also = headingList(further);
  return { as, heading, ...(also && { also }) };
}

/** Headings as text; undefined where there are none. */
function headingList(raw: unknown): string[] | undefined {
  const headings = Array.isArray(raw) ? raw.filter((one) => typeof one === "string") : [];
  return headings.length > 0 ? headings : undefined;
}
