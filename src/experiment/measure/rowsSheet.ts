/** Every row of a log with its bend, uncertainty and chance to have beaten the target, as a sheet. */
import { expandedUncertainty, probabilityAbove } from "../../statistics/measure/uncertainty";
import { there } from "../../there";
import { cellAddress } from "../../workbook/address";
import type { NewCell, NewSheet } from "../../workbook/port";
import { listOf, say, toText } from "../language/said";
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import { confidenceText, counted, significant } from "../language/wording";
import { gapDoubt } from "../log/gapDoubt";
import { correctionAt, correctionColumn } from "../log/gateCorrection";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { columnNamed } from "../question/rowCheck";
import { unitOf } from "../shot/shotSettings";
import { bendUncertainty } from "./bendUncertainty";
import { budgetOf, type MeasureForm } from "./measureForm";
/** Why a row with one reading has no interval. */
const SINGLE =
  "A single reading does not show how readings scatter: read it again, or give the scatter known from earlier readings.";

export interface RowsUncertainty {
  readonly sheet: NewSheet;
  readonly rows: number;
  readonly leftOut: number;
}

/**
 * Every row of the log with its bend, uncertainty and chance to have beaten the target. Gaps of one row are repeated
 * readings; rows without one are listed with the reason.
 * @param columns headings of the gap columns
 */
export function rowsSheet(log: TrialLog, columns: readonly string[], form: MeasureForm): RowsUncertainty {
  const { name, size } = unitOf("small", form.units);
  const gaps = columns.map((heading) => columnNamed(log, heading));
  const correction = correctionColumn(log);
  const read = log.rows.map((_, index) => readRow(log, gaps, index, form));
  const rows = read.map((one) => (one.readings.length === 0 ? outCells(one) : ownCells(one, correction, form)));
  const percent = confidenceText(form.confidence);
  return {
    rows: log.rows.length,
    leftOut: read.filter(({ readings }) => readings.length === 0).length,
    sheet: {
      name: "Bends with uncertainty",
      rows: [
        [
          `Row of ${log.sheet}`,
          "Readings",
          `Bend (${name})`,
          `Standard uncertainty (${name})`,
          "Degrees of freedom",
          say`Low, ${percent} % (${name})`,
          say`High, ${percent} % (${name})`,
          say`Chance that ${significant(form.target / size, 4)} ${name} was beaten`,
          "Left out, or to be looked at, because",
        ].map((heading) => ({ value: toText(heading), bold: true })),
        ...rows,
      ],
      columnWidths: [14, 10, 12, 24, 20, 16, 16, 34, 60],
    },
  };
}

/** What a row of the log says of its gap. */
interface ReadRow {
  readonly index: number;
  /** Of the sheet, from 0. */
  readonly row: number;
  /** In m. */
  readonly readings: readonly number[];
  /** "" where nothing is odd. */
  readonly doubts: string;
  /** Where its gaps would stand. */
  readonly cells: string;
}

function readRow(log: TrialLog, gaps: readonly LogColumn[], index: number, form: MeasureForm): ReadRow {
  const row = there(log.rows[index], "a row of the log");
  const { name } = unitOf("small", form.units);
  const looked = gaps.map((gap) => ({ gap, doubt: gapDoubt(gap, index, form.ballDiameter) }));
  const readings = looked.flatMap(({ gap: { readings: cells, heading }, doubt }) => {
    const reading = cells[index];
    return reading?.kind !== "number" || doubt?.out
      ? []
      : [convertUnit(reading.value, kindOfUnit(heading.unit) === "length" ? heading.unit : name, "m")];
  });
  const doubts = looked
    .flatMap(({ gap, doubt }) => (doubt ? [toText(say`${cellAddress(row, gap.column)}: ${doubt.text}`)] : []))
    .join(" ");
  return { index, row, readings, doubts, cells: listOf(gaps.map(({ column }) => cellAddress(row, column))) };
}

const NOTHING: NewCell = { value: null };

/** A row without a gap that can be used, with the reason. */
function outCells({ row, doubts, cells }: ReadRow): NewCell[] {
  const why = { value: doubts || `no gap in ${cells}` };
  return [{ value: row + 1 }, { value: 0 }, ...Array<NewCell>(6).fill(NOTHING), why];
}

function ownCells(
  { index, row, readings, doubts }: ReadRow,
  correction: ReturnType<typeof correctionColumn>,
  form: MeasureForm,
): NewCell[] {
  const { size } = unitOf("small", form.units);
  const off = correctionAt(correction, index, "m");
  const own = correction ? { ...form, gateCorrection: Number.isNaN(off) ? form.gateCorrection : off } : form;
  const found = bendUncertainty(budgetOf(own, readings));
  const cell = (length: number): NewCell => ({ value: Number((length / size).toPrecision(6)) });
  const lead = [{ value: row + 1 }, { value: readings.length }, cell(found.bend)];
  if (!found.scatterKnown)
    return [
      ...lead,
      { value: toText(say`at least ${significant(found.standard / size, 3)}`) },
      { value: "scatter not known" },
      ...Array<NewCell>(3).fill(NOTHING),
      { value: [SINGLE, doubts].filter((text) => text !== "").join(" ") },
    ];
  const expanded = expandedUncertainty(found, form.confidence);
  return [
    ...lead,
    cell(found.standard),
    { value: Number.isFinite(found.df) ? Number(found.df.toPrecision(4)) : "taken as known" },
    cell(found.bend - expanded),
    cell(found.bend + expanded),
    { value: Number(probabilityAbove(found.bend, found, form.target).toPrecision(4)) },
    { value: doubts || null },
  ];
}

/** What the sheet of all rows is, in a sentence. */
export function rowsSentence({ rows, leftOut }: RowsUncertainty, sheet: string): string {
  return `${counted(rows - leftOut, "bend")} with ${rows - leftOut === 1 ? "its" : "their"} uncertainty on the new sheet "${sheet}"${leftOut > 0 ? `; ${counted(leftOut, "row")} without a gap that can be used ${leftOut === 1 ? "is" : "are"} listed there with the reason` : ""}.`;
}
