/**
 * How a cell is opened, typed into and shown. Browser only.
 *
 * As shipped, the editor of a cell with a fraction format opens with what the cell shows ("3/8"), and confirming that
 * makes a date of it, or text ("13/16"). Here editing starts from the stored value; what is confirmed unchanged stays
 * what it was, to the last digit; and in a cell that shows fractions, 5/16 is one.
 */
import {
  CellValueType,
  type ICellData,
  type IDisposable,
  type Injector,
  type Nullable,
  type Workbook,
} from "@univerjs/core";
import {
  AFTER_CELL_EDIT,
  BEFORE_CELL_EDIT,
  INTERCEPTOR_POINT,
  SheetInterceptorService,
  type ISheetLocation,
} from "@univerjs/sheets";
import { isDateFormat } from "../../cellText";
import { bareFraction, isFractionFormat, mixedFraction, shownFraction } from "../formula/fraction";

/** A fraction that was typed and that the grid, as every spreadsheet, took for a day. */
export interface TakenForDay {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  /** As typed. */
  readonly text: string;
  readonly value: number;
  readonly format: string;
}

/** Before Univer's own readers of what is typed. */
const FIRST = 1000;
/** After Univer has put the number into its format (10), before pictures in cells (they come later still). */
const AFTER_FORMATS = 9.5;

/** Mends editing and showing of the workbook's cells. @param onDay hears of fractions that became days */
export function mendCellEditing(
  injector: Injector,
  workbook: Workbook,
  onDay: (taken: TakenForDay) => void,
): IDisposable {
  const interceptors = injector.get(SheetInterceptorService);
  const looks = looksOf(workbook);
  /** What editors of cells opened with, by place. */
  const opened = new Map<string, string>();
  const writing = interceptors.writeCellInterceptor;
  const stops = [
    writing.intercept(BEFORE_CELL_EDIT, { priority: FIRST, handler: opening(looks, opened) }),
    writing.intercept(AFTER_CELL_EDIT, { priority: FIRST, handler: confirming(looks, opened, onDay) }),
  ];
  const shown = interceptors.intercept(INTERCEPTOR_POINT.CELL_CONTENT, {
    priority: AFTER_FORMATS,
    handler: (cell, { rawData: raw }, next) => {
      if (!cell || !raw || !isNumber(raw) || typeof cell.v !== "string" || !isFractionFormat(looks.of(raw) ?? ""))
        return next(cell);
      return next({ ...cell, v: shownFraction(Number(raw.v), cell.v) });
    },
  });
  return {
    dispose() {
      for (const stop of stops) stop();
      shown.dispose();
    },
  };
}

/** Number formats of cells. */
interface Looks {
  of(cell: Nullable<ICellData>): string | undefined;
  at(location: ISheetLocation): string;
  /** The format that a blank cell goes on with: that of the cell above it, as below the last row of a log. */
  goingOn(location: ISheetLocation): string;
}

function looksOf(workbook: Workbook): Looks {
  const of = (cell: Nullable<ICellData>) => workbook.getStyles().getStyleByCell(cell)?.n?.pattern;
  return {
    of,
    at: ({ worksheet, row, col }) => of(worksheet.getCellRaw(row, col)) ?? "",
    goingOn({ worksheet, row, col }) {
      const cell = worksheet.getCellRaw(row, col);
      const own = of(cell);
      if (own !== undefined || row === 0 || (cell?.v ?? cell?.f ?? cell?.p)) return own ?? "";
      return of(worksheet.getCellRaw(row - 1, col)) ?? "";
    },
  };
}

type CellHandler = (
  value: Nullable<ICellData>,
  location: ISheetLocation,
  next: (value: Nullable<ICellData>) => Nullable<ICellData>,
) => Nullable<ICellData>;

const placeOf = ({ subUnitId, row, col }: ISheetLocation) => `${subUnitId} ${row} ${col}`;

/** What the editor of a cell opens with. */
function opening(looks: Looks, opened: Map<string, string>): CellHandler {
  return (value, location, next) => {
    const raw = location.worksheet.getCellRaw(location.row, location.col);
    const stored = raw && !raw.f && isNumber(raw) ? storedText(Number(raw.v), looks.at(location)) : undefined;
    const shown = stored === undefined ? next(value) : { ...raw, v: stored, t: CellValueType.STRING };
    if (shown?.v === undefined || shown.v === null || shown.p || shown.f) opened.delete(placeOf(location));
    else opened.set(placeOf(location), String(shown.v));
    return shown;
  };
}

/** What the cell holds after its editor was confirmed. */
function confirming(looks: Looks, opened: Map<string, string>, onDay: (taken: TakenForDay) => void): CellHandler {
  return (value, location, next) => {
    const text = textOf(value);
    const { worksheet, row, col: column } = location;
    const raw = worksheet.getCellRaw(row, column);
    if (text === undefined || value?.f) return next(value);
    if (raw && !raw.f && opened.get(placeOf(location)) === text) return { ...raw };
    const bare = bareFraction(text);
    const format = looks.goingOn(location);
    const fraction = isFractionFormat(format) ? (mixedFraction(text) ?? bare) : undefined;
    if (fraction)
      return {
        ...value,
        p: undefined,
        v: fraction.value,
        t: CellValueType.NUMBER,
        ...(looks.at(location) === "" && { s: { n: { pattern: format } } }),
      };
    // What became of it is known once it stands in the cell.
    if (bare)
      setTimeout(
        () =>
          isDateFormat(looks.at(location)) &&
          onDay({ sheet: worksheet.getName(), row, column, text: text.trim(), ...bare }),
      );
    return next(value);
  };
}

/** A number as its editor begins: all its digits, in percent where the cell says so; undefined for days and times. */
function storedText(value: number, format: string): string | undefined {
  if (isDateFormat(format)) return undefined;
  return /%/.test(format.replace(/"[^"]*"|\\./g, "")) ? `${Number((value * 100).toPrecision(15))}%` : String(value);
}

function isNumber(cell: ICellData): boolean {
  return cell.t === CellValueType.NUMBER && cell.v !== null && cell.v !== undefined && Number.isFinite(Number(cell.v));
}

/** What was typed, as text; undefined where it is text with looks of its own. */
function textOf(cell: Nullable<ICellData>): string | undefined {
  const stream = cell?.p?.body?.dataStream;
  if (stream !== undefined) return stream.replace(/\r\n$/, "");
  return cell?.v === null || cell?.v === undefined ? undefined : String(cell.v);
}
