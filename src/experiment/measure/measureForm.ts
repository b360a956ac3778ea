/**
 * What a measurement of bend rests on, as its form has it, and what follows in sentences and rows. SI; readings are
 * kept as typed.
 */
import { say, toText, type Said } from "../language/said";
import { asRecord } from "../language/keptObject";
import { STANDARD_BALL_DIAMETER, requiredOffset } from "../../bank/bend";
import { parseInches } from "../../bank/ruler";
import { INCH } from "../../bank/units";
import type { Propagated } from "../../statistics/measure/propagation";
import { agreement } from "../../statistics/measure/propagation";
import {
  combinedUncertainty,
  expandedUncertainty,
  guardBand,
  probabilityAbove,
} from "../../statistics/measure/uncertainty";
import type { NewCell, NewSheet } from "../../workbook/port";
import { parallaxError, withReadings, type BendBudget, type BendUncertainty } from "./bendUncertainty";
import { unitOf } from "../shot/shotSettings";
import { typedNumber } from "../language/typedNumber";
import { chanceText, confidenceText, decimalsFor, fixed, measured, significant, withUnit } from "../language/wording";

export interface MeasureForm {
  readonly units: "us" | "si";
  /** Gap readings of one layout as typed: "5/16, 0.3, 1/4". */
  readonly readings: string;
  readonly ballDiameter: number;
  readonly rulerDivision: number;
  /** Standard deviation of single readings, known from earlier ones by this ruler; 0 where it is not known. */
  readonly scatter: number;
  readonly markError: number;
  readonly ballTolerance: number;
  readonly alignmentError: number;
  readonly roundness: number;
  /** What the departure gate takes off R − gap, as the Layout view gives it, and within what. */
  readonly gateCorrection: number;
  readonly gateError: number;
  /** Height above the ruler of what is read, camera's height above the ruler and how far it is from straight above. */
  readonly readHeight: number;
  readonly cameraHeight: number;
  readonly cameraOffset: number;
  readonly confidence: number;
  readonly target: number;
  /** Wanted probability that a target that is claimed was beaten. */
  readonly sure: number;
  readonly seed: number;
}

/**
 * A sixteenth-inch ruler, marks to 1/32 in, and the ball's tolerance of the equipment specification (±0.005 in, from
 * memory).
 */
export const FIRST_MEASURE: MeasureForm = {
  units: "us",
  readings: "5/16, 1/4, 5/16",
  ballDiameter: STANDARD_BALL_DIAMETER.mm / 1000,
  rulerDivision: INCH / 16,
  scatter: 0,
  markError: INCH / 32,
  ballTolerance: 0.005 * INCH,
  alignmentError: INCH / 64,
  roundness: 0,
  gateCorrection: 0,
  gateError: 0,
  readHeight: 0,
  cameraHeight: 60 * INCH,
  cameraOffset: 0,
  confidence: 0.95,
  target: INCH,
  sure: 0.95,
  seed: 1,
};

/** Reads a kept form; what is missing or of the wrong kind is the first one's. */
export function parseMeasure(raw: unknown): MeasureForm {
  const given = asRecord(raw);
  const entries = Object.entries(FIRST_MEASURE).map(([name, usual]) => [
    name,
    typeof given[name] === typeof usual && (typeof usual !== "number" || Number.isFinite(given[name]))
      ? given[name]
      : usual,
  ]);
  const form = Object.fromEntries(entries) as unknown as MeasureForm;
  return { ...form, units: form.units === "si" ? "si" : "us" };
}

/** The readings in metres, or what is wrong with the first that cannot be read. */
export function readingsOf({ readings, units }: Pick<MeasureForm, "readings" | "units">): readonly number[] | string {
  const parts = readings
    .split(/[;\n]|,\s|,$|\s{2,}/)
    .map((part) => part.trim())
    .filter((part) => part !== "");
  if (parts.length === 0) return "No gap is read yet: type one or more, such as 5/16, 1/4.";
  const lengths: number[] = [];
  for (const part of parts) {
    const inches = units === "us" && !part.includes(",") ? parseInches(part) : undefined;
    const typed = typedNumber(part);
    const number = typeof typed === "number" ? typed : inches;
    if (typeof typed === "object" && part.includes(","))
      return `The reading "${part}" ${typed.why}; put a comma and a space, or a semicolon, between readings.`;
    if (typeof number !== "number")
      return `The reading "${part}" is no length: give ${units === "us" ? "inches such as 5/16 or 0.3" : "millimetres such as 7.5"}, with a comma and a space between readings.`;
    lengths.push(number * unitOf("small", units).size);
  }
  return lengths;
}

/** The form in other units, its readings turned into them; what cannot be read stays as typed. */
export function inUnits(form: MeasureForm, units: MeasureForm["units"]): MeasureForm {
  const lengths = form.units === units ? "" : readingsOf(form);
  if (typeof lengths === "string") return { ...form, units };
  return {
    ...form,
    units,
    readings: lengths
      .map((length) => String(Number((length / unitOf("small", units).size).toPrecision(10))))
      .join(", "),
  };
}

export function budgetOf(form: MeasureForm, readings: readonly number[]): BendBudget {
  const { ballDiameter, rulerDivision, scatter, markError, ballTolerance, alignmentError, roundness } = form;
  return {
    readings,
    ballDiameter,
    rulerDivision,
    ...(scatter > 0 && { scatter: { standard: scatter, df: Infinity } }),
    markError,
    ballTolerance,
    alignmentError,
    roundness,
    correction: form.gateCorrection,
    correctionError: form.gateError,
    parallax: Math.abs(parallaxError(form.readHeight, form.cameraOffset, form.cameraHeight)),
  };
}

/** A length with so many decimals that its uncertainty shows two digits. */
function shown(length: number, standard: number, units: "us" | "si"): Said {
  const { name, size } = unitOf("small", units);
  return say`${fixed(length / size, decimalsFor(standard / size))} ${name}`;
}
const small = (length: number, units: "us" | "si") =>
  withUnit(measured(length / unitOf("small", units).size, 2), unitOf("small", units).name);

/** The set bend and what the departure gate takes off it; nothing where it takes nothing off. */
function setBendWords({ gateCorrection, units }: MeasureForm, { setBend, standard }: BendUncertainty): Said {
  if (gateCorrection === 0) return "";
  const does = gateCorrection > 0 ? "takes off" : "adds";
  return say`Set bend (R − gap) ${shown(setBend, standard, units)}; the departure gate ${does} ${shown(Math.abs(gateCorrection), standard, units)}. `;
}

/** The result and what it says of the target, in sentences. */
export function measureSentences(form: MeasureForm, found: BendUncertainty): Said[] {
  const { units, confidence, target, sure } = form;
  const { bend, standard, df } = found;
  if (standard === 0)
    return [
      say`Bend ${shown(bend, 0, units)}. Nothing is said of what may be wrong, so its uncertainty is not known: give at least the ruler's division.`,
    ];
  const expanded = expandedUncertainty(found, confidence);
  const band = guardBand(found, sure);
  const beaten = probabilityAbove(bend, found, target);
  const offset = requiredOffset(target + form.gateCorrection, band, form.ballDiameter);
  if (!found.scatterKnown)
    return [
      say`Bend ${shown(bend, standard, units)}, with a standard uncertainty of at least ${small(standard, units)}: a single reading does not show how readings scatter. Read the gap again, or give the scatter known from earlier readings.`,
      say`Whether the target of ${shown(target, standard, units)} was beaten cannot be claimed from it.`,
      say`To claim the target with ${chanceText(sure)}, the measured bend must be more than ${shown(target + band, standard, units)}: that leaves out the scatter of readings, which is not known.`,
    ];
  const set = setBendWords(form, found);
  const few = Number.isFinite(df) ? say` on ${significant(df, 3)} effective degrees of freedom` : "";
  return [
    say`${set}Bend ${form.gateCorrection === 0 ? "" : "of the path "}${shown(bend, standard, units)} ± ${shown(expanded, standard, units)} (${confidenceText(confidence)} % confidence, standard uncertainty ${small(standard, units)}${few}).`,
    say`The target of ${shown(target, standard, units)} was truly beaten with a probability of ${chanceText(beaten)}, as far as these sources of error go.`,
    say`To claim the target with ${chanceText(sure)}, the measured bend must be ${shown(target + band, standard, units)} or more: a guard band of ${small(band, units)}. Set the gap to ${shown(offset, standard, units)} or less.`,
  ];
}

export interface ReadingsLine {
  readonly n: number;
  readonly standard: number;
  readonly expanded: number;
}

/** What more readings would bring, with the scatter that the readings show; empty for a single one. */
export function readingsLines(budget: BendBudget, confidence: number): ReadingsLine[] {
  return [1, 2, 3, 5, 10, 20].flatMap((n) => {
    const combined = withReadings(budget, n);
    return combined ? [{ n, standard: combined.standard, expanded: expandedUncertainty(combined, confidence) }] : [];
  });
}

/** What the draws say of the law of propagation (JCGM 101, 8). */
export function drawnSentence(form: MeasureForm, found: BendUncertainty, drawn: Propagated): Said {
  const { units, confidence, seed } = form;
  const expanded = expandedUncertainty(found, confidence);
  const { agrees, tolerance, low, high } = agreement(found.bend, expanded, found.standard, drawn, 1);
  const interval = say`${shown(drawn.low, found.standard, units)} to ${shown(drawn.high, found.standard, units)}`;
  const by = `${drawn.draws.toLocaleString("en")} draws, seed ${seed}`;
  return agrees
    ? say`Drawn from every source's own distribution (${by}) the bend lies between ${interval}: the ends agree with the interval above to within ${small(tolerance, units)}, one digit of the uncertainty, so it may be used.`
    : say`Drawn from every source's own distribution (${by}) the bend lies between ${interval}: the ends differ from the interval above by ${small(Math.max(low, high), units)}, more than one digit of the uncertainty allows (${small(tolerance, units)}). Use this interval; the sources are not bell-shaped enough, or the readings too few, for the other.`;
}

/** The budget as a sheet: every source, its share, what more readings bring, the sentences. */
export function budgetSheet(
  form: MeasureForm,
  budget: BendBudget,
  found: BendUncertainty,
  drawn: Propagated | undefined,
): NewSheet {
  const { name, size } = unitOf("small", form.units);
  const cell = (length: number): NewCell => ({ value: Number((length / size).toPrecision(8)) });
  const bold = (...texts: Said[]) => texts.map((text): NewCell => ({ value: toText(text), bold: true }));
  const total = found.standard ** 2;
  const lines = readingsLines(budget, form.confidence);
  return {
    name: "Uncertainty",
    rows: [
      bold("Uncertainty of a bend"),
      ...measureSentences(form, found).map((text): NewCell[] => [{ value: toText(text) }]),
      ...(drawn ? [[{ value: toText(drawnSentence(form, found, drawn)) }]] : []),
      [],
      bold(
        "Source",
        "Distribution",
        `Half-width or scale (${name})`,
        "Changes the bend by",
        `Standard uncertainty (${name})`,
        "Degrees of freedom",
        "Share of the variance",
      ),
      ...found.contributions.map(({ name: source, input, sensitivity, standard, df }): NewCell[] => [
        { value: source },
        { value: input.kind === "uniform" ? "anywhere within, alike" : input.kind === "t" ? "Student's t" : "normal" },
        cell(input.kind === "uniform" ? input.high : input.kind === "t" ? input.scale : input.standard),
        { value: sensitivity },
        cell(standard),
        { value: Number.isFinite(df) ? df : "taken as known" },
        { value: total > 0 ? standard ** 2 / total : null, format: "0 %" },
      ]),
      ...(lines.length === 0
        ? []
        : [
            [],
            bold(
              "If the gap were read",
              `Standard uncertainty (${name})`,
              say`± at ${confidenceText(form.confidence)} % (${name})`,
            ),
            ...lines.map(({ n, standard, expanded }): NewCell[] => [
              { value: n === 1 ? "once" : `${n} times` },
              cell(standard),
              cell(expanded),
            ]),
          ]),
    ],
    columnWidths: [28, 24, 22, 20, 24, 20, 20],
  };
}

/** Which source to improve first, in a sentence; undefined where nothing is said of any. */
export function largestSource({ contributions }: BendUncertainty): Said | undefined {
  const total = combinedUncertainty(contributions).standard ** 2;
  if (total === 0) return undefined;
  const largest = contributions.reduce((a, b) => (b.standard > a.standard ? b : a));
  return say`The largest part, ${significant((100 * largest.standard ** 2) / total, 2)} % of the variance, is the ${largest.name}: better there lowers it most.`;
}
