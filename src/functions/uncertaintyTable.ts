/**
 * BANK.UNCERTAINTY, BANK.BEATS and BANK.ALIGNMENT: cells in, figures out.
 */
import { lineDeviation } from "../bank/alignment";
import { bendUncertainty } from "../experiment/measure/bendUncertainty";
import { expandedUncertainty, probabilityAbove } from "../statistics/measure/uncertainty";
import { isCellError } from "../workbook/book";
import {
  asMatrix,
  isBlank,
  lift,
  shapeOf,
  single,
  toBallDiameter,
  argumentConfidence,
  toLength,
  argumentNumber,
  toUnits,
  type LengthUnit,
} from "./arguments";
import { messages } from "./messages";

/** How the sheet writes degrees of freedom that have no end. */
const NO_END = "infinite";

/** What the sheet says in place of degrees of freedom where nobody knows how readings scatter. */
const SCATTER_UNKNOWN = "scatter not known";

/**
 * One row: bend, standard uncertainty, degrees of freedom, expanded uncertainty; of a single reading whose scatter is
 * not known words in place of the last three, so that nothing is claimed from it.
 */
export function uncertaintyRow(
  readings: unknown,
  rulerDivision: unknown,
  markError: unknown,
  ballTolerance: unknown,
  alignmentError: unknown,
  confidence: unknown,
  units: unknown,
  scatter: unknown,
  scatterDegrees: unknown,
): unknown[][] {
  const unit = toUnits(single("units", units));
  const level = argumentConfidence(single("confidence", confidence));
  const size = (name: string, argument: unknown) => {
    const cell = single(name, argument);
    const length = isBlank(cell) ? 0 : toLength(name, cell, unit);
    if (length < 0) throw messages.outOfRange(name, cell, `give 0 ${unit} or more`);
    return length;
  };
  const division = single("rulerDivision", rulerDivision);
  if (isBlank(division)) throw messages.blank("rulerDivision", `the smallest division of the ruler in ${unit}`);
  const gaps = lengthsIn("readings", readings, unit);
  if (gaps.length === 0) throw messages.tooFew("readings", 0, 1);
  const found = bendUncertainty({
    readings: gaps,
    ballDiameter: toBallDiameter(null, unit),
    rulerDivision: size("rulerDivision", rulerDivision),
    markError: size("markError", markError),
    ballTolerance: size("ballTolerance", ballTolerance),
    alignmentError: size("alignmentError", alignmentError),
    ...(!isBlank(single("scatter", scatter)) && {
      scatter: {
        standard: size("scatter", scatter),
        df: degreesOf("scatterDegrees", single("scatterDegrees", scatterDegrees)),
      },
    }),
  });
  if (!found.scatterKnown)
    return [
      [
        found.bend,
        `${AT_LEAST} ${Number(finite(found.standard).toPrecision(3))}`,
        SCATTER_UNKNOWN,
        "not known: read the gap again, or give scatter",
      ],
    ];
  return [
    [found.bend, found.standard, Number.isFinite(found.df) ? found.df : NO_END, expandedUncertainty(found, level)],
  ];
}

/** How the standard uncertainty of a single reading begins. */
const AT_LEAST = "at least";

/** @throws RangeError where the sizes are beyond what a double holds */
function finite(value: number): number {
  if (!Number.isFinite(value)) throw new RangeError("sizes so large have no sum");
  return value;
}

/** Degrees of freedom from a cell; without end where it is blank. */
function degreesOf(name: string, cell: unknown): number {
  const df =
    isBlank(cell) || cell === NO_END ? Infinity : argumentNumber(name, cell, `a number above 0, or "${NO_END}"`);
  if (!(df > 0))
    throw messages.outOfRange(
      name,
      cell,
      `give a number above 0, or "${NO_END}"; leave it out when the uncertainty is well known`,
    );
  return df;
}

/** Probability, cell by cell, that the target was truly beaten. */
export function beatsCells(
  bend: unknown,
  standardUncertainty: unknown,
  target: unknown,
  degreesOfFreedom: unknown,
): unknown[][] {
  return lift({ bend, standardUncertainty, target, degreesOfFreedom }, (b, u, t, d) => {
    for (const [name, cell] of [
      ["standardUncertainty", u],
      ["degreesOfFreedom", d],
    ] as const)
      if (cell === SCATTER_UNKNOWN || (typeof cell === "string" && cell.startsWith(AT_LEAST)))
        throw messages.singleReading(name, cell);
    const standard = toLength("standardUncertainty", u, "in");
    if (standard < 0) throw messages.outOfRange("standardUncertainty", u, "give 0 or more, in the unit of bend");
    const df = degreesOf("degreesOfFreedom", d);
    return probabilityAbove(toLength("bend", b, "in"), { standard, df }, toLength("target", t, "in"));
  });
}

/** Largest distance of the places from the line through the outer two. */
export function alignmentOf(x: unknown, y: unknown): number {
  const across = asMatrix(x).flat();
  const along = asMatrix(y).flat();
  if (across.length !== along.length) throw messages.shape("x", shapeOf(asMatrix(x)), "y", shapeOf(asMatrix(y)));
  const points = across.flatMap((cell, index): [number, number][] => {
    const other = along[index];
    if (isBlank(cell) && isBlank(other)) return [];
    return [[toLength(`x, entry ${index + 1},`, cell, "in"), toLength(`y, entry ${index + 1},`, other, "in")]];
  });
  if (points.length < 3) throw messages.tooFew("x", points.length, 3);
  return lineDeviation(points);
}

function lengthsIn(name: string, argument: unknown, unit: LengthUnit): number[] {
  return asMatrix(argument).flatMap((cells, row) =>
    cells.flatMap((cell) => {
      if (isCellError(cell)) throw messages.errorCell(name, cell.error, ` in row ${row + 1}`);
      return isBlank(cell) ? [] : [toLength(`${name}, row ${row + 1},`, cell, unit)];
    }),
  );
}
