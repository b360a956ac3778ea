/** Column headings of a trial log: name, unit and likely meaning. */
import { COUNTER } from "../../workbook/counter";

export interface Heading {
  /** As it stands in the sheet, trimmed. */
  readonly text: string;
  /** Without the unit: "Humidity". */
  readonly name: string;
  /** "%", "in", "mph" …; "" when the heading says none. */
  readonly unit: string;
}

/** What a column of a trial log holds, where its heading tells. */
export type Meaning =
  | "bend"
  | "gap"
  | "clearance"
  | "made"
  | "cloth"
  | "table"
  | "humidity"
  | "temperature"
  | "speed"
  | "spin"
  | "angle"
  | "ball diameter"
  | "gate correction"
  | "balls"
  | "session"
  | "observer"
  | "date"
  | "trial"
  | "remarks";

const KNOWN_UNITS = [
  "in",
  "mm",
  "cm",
  "m",
  "ft",
  "mph",
  "km/h",
  "m/s",
  "in/s",
  "ft/s",
  "%",
  "% RH",
  "°",
  "deg",
  "°C",
  "°F",
  "oz",
  "g",
  "s",
  "rpm",
  "rad/s",
  "tips",
];

/**
 * Reads "Humidity (%)", "Speed [mph]" or "Gap, in".
 * @example parseHeading("Humidity (%)") // { text: "Humidity (%)", name: "Humidity", unit: "%" }
 */
export function parseHeading(raw: string): Heading {
  const text = raw.replace(/\s+/g, " ").trim();
  const inBrackets = nameAndUnit(/^(.*\S)\s*[([]\s*([^()[\]]{1,12}?)\s*[)\]]$/.exec(text));
  if (inBrackets) return { text, ...inBrackets };
  const behindComma = nameAndUnit(/^(.*\S)\s*,\s*(\S{1,5})$/.exec(text));
  if (behindComma && KNOWN_UNITS.includes(behindComma.unit)) return { text, ...behindComma };
  return { text, name: text, unit: "" };
}

function nameAndUnit(match: RegExpExecArray | null): Pick<Heading, "name" | "unit"> | undefined {
  const [, name, unit] = match ?? [];
  return name === undefined || unit === undefined ? undefined : { name, unit: tidyUnit(unit) };
}

const SAME_UNIT: Record<string, string> = {
  inch: "in",
  inches: "in",
  '"': "in",
  "in.": "in",
  millimetres: "mm",
  millimeters: "mm",
  percent: "%",
  "% rh": "%",
  "%rh": "%",
  degrees: "°",
  deg: "°",
  degree: "°",
  "deg c": "°C",
  c: "°C",
  "°c": "°C",
  "deg f": "°F",
  f: "°F",
  "°f": "°F",
  kph: "km/h",
};

/**
 * The unit that a cell of its own names, as in a row of units below the headings; undefined where it is no unit.
 * @example unitAlone("[km/h]") === "km/h"
 */
export function unitAlone(text: string): string | undefined {
  const unit = tidyUnit(text.trim().replace(/^[([]\s*|\s*[)\]]$/g, ""));
  return KNOWN_UNITS.includes(unit) ? unit : undefined;
}

function tidyUnit(unit: string): string {
  return SAME_UNIT[unit.toLowerCase()] ?? unit;
}

const MEANINGS: readonly (readonly [Meaning, RegExp])[] = [
  ["gate correction", /\b(gate|channel)\b.*\bcorrection\b|\bcorrection\b.*\bgate\b/i],
  ["clearance", /\bclearance\b/i],
  ["ball diameter", /\bball\b.*\b(diameter|size)\b|\bdiameter\b/i],
  ["gap", /\bgap\b/i],
  ["bend", /\bbend\b|\bcurve\b/i],
  ["made", /\bmade\b|\bmake\b|\bpocketed\b|\boutcome\b/i],
  ["cloth", /\bcloth\b/i],
  ["humidity", /\bhumid|\brh\b|\brel\w* hum/i],
  ["temperature", /\btemp/i],
  ["speed", /\bspeed\b|\bpace\b|\bvelocity\b/i],
  ["spin", /\bspin\b|\bside\b|\bdraw\b|\bfollow\b|\broll\b/i],
  ["angle", /\bangle\b/i],
  ["table", /\btable\b/i],
  ["session", /\bsession\b|\bweek\b|\bevening\b|\bnight\b|\bvisit\b/i],
  ["observer", /\bobserver\b|\b(read|measured|judged) by\b/i],
  ["balls", /\bballs?\b/i],
  ["date", /\bdate\b|\bday\b|\btime\b/i],
  ["trial", COUNTER],
  ["remarks", /\bremark|\bnote|\bcomment/i],
];

/**
 * What the heading says the column holds; undefined when it does not say.
 * @example meaningOf("Humidity") === "humidity"
 */
export function meaningOf(name: string): Meaning | undefined {
  return MEANINGS.find(([, pattern]) => pattern.test(name))?.[0];
}

/** What nobody changes from shot to shot: it is planned by tables and sessions, or only recorded. */
const NOT_SET_BY_THE_SHOT: ReadonlySet<Meaning> = new Set([
  "humidity",
  "temperature",
  "table",
  "cloth",
  "session",
  "observer",
  "balls",
  "ball diameter",
  "gate correction",
  "date",
  "trial",
  "remarks",
]);

/**
 * Whether a column holds something that is chosen for each shot, such as its speed.
 * @example setByShot("cloth") === false
 */
export function setByShot(meaning: Meaning | undefined): boolean {
  return meaning === undefined || !NOT_SET_BY_THE_SHOT.has(meaning);
}
