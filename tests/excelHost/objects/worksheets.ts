/** Worksheets and their collection. */
import { parseAddress } from "../../../src/workbook/address";
import { ExcelFailure } from "../failure";
import { remote, type Kind, type Remote } from "../model";
import type { HostSheet, HostWorkbook } from "../workbook";
import { CHARTS, SHAPES } from "./drawings";
import { FREEZE_PANES, PAGE_LAYOUT } from "./paper";
import { connectWorksheets, RANGE, rangeAt, WHOLE } from "./range";
import { TABLES } from "./tables";

const sheetObject = (sheet: HostSheet): Remote => remote(WORKSHEET, sheet);
connectWorksheets(sheetObject);

/** Sheets that a person sees. */
const visible = ({ sheets }: HostWorkbook) => sheets.filter(({ visibility }) => visibility === "Visible");

function mayBeRebuilt(workbook: HostWorkbook): void {
  if (workbook.isProtected) throw new ExcelFailure("AccessDenied", "You cannot perform the requested operation.");
}

/** support.microsoft.com, "Rename a worksheet": 31 characters, none of / \ ? * : [ ], no apostrophe at an end. */
function sheetName(workbook: HostWorkbook, name: string, but?: HostSheet): string {
  if (name === "" || name.length > 31 || /[\\/?*:[\]]|^'|'$/.test(name) || name.toLowerCase() === "history")
    throw new ExcelFailure("InvalidArgument", "The argument is invalid or missing or has an incorrect format.");
  if (workbook.sheets.some((sheet) => sheet !== but && sheet.name.toLowerCase() === name.toLowerCase()))
    throw new ExcelFailure("ItemAlreadyExists", "A resource with the same name or identifier already exists.");
  return name;
}

/** A method of the collection that asks for events, or takes that back. */
const events = (name: string) => ({
  [`_Register${name}Event`]: (workbook: HostWorkbook) => void workbook.registered.add(name),
  [`_Unregister${name}Event`]: (workbook: HostWorkbook) => void workbook.registered.delete(name),
});

export const WORKSHEETS: Kind<HostWorkbook> = {
  name: "WorksheetCollection",
  items: ({ sheets }) => sheets.map(sheetObject),
  item: (workbook, key) => sheetObject(workbook.sheet(key)),
  methods: {
    Add: (workbook, name: string | null) => {
      mayBeRebuilt(workbook);
      return sheetObject(workbook.addSheet(sheetName(workbook, name ?? `Sheet${workbook.sheets.length + 1}`)));
    },
    GetActiveWorksheet: (workbook) => sheetObject(workbook.sheet(workbook.active)),
    GetItemOrNullObject: (workbook, key) => remote(WORKSHEET, workbook.find(key) ?? null),
    GetCount: (workbook, visibleOnly = false) => (visibleOnly ? visible(workbook) : workbook.sheets).length,
    ...events("DataChanged"),
    ...events("Calculated"),
  },
};

function activate(sheet: HostSheet): void {
  if (sheet.visibility !== "Visible")
    throw new ExcelFailure("InvalidOperation", "This operation is not permitted for the current object.");
  sheet.workbook.active = sheet.id;
}

/** learn.microsoft.com, Excel.Worksheet.delete: a very hidden sheet refuses; so does the last one that shows. */
function remove(sheet: HostSheet): void {
  const { workbook } = sheet;
  mayBeRebuilt(workbook);
  if (sheet.visibility === "VeryHidden" || visible(workbook).every((one) => one === sheet))
    throw new ExcelFailure("InvalidOperation", "This operation is not permitted for the current object.");
  workbook.sheets = workbook.sheets.filter((one) => one !== sheet);
  if (workbook.active === sheet.id) workbook.active = visible(workbook)[0]?.id ?? "";
}

const WORKSHEET: Kind<HostSheet> = {
  name: "Worksheet",
  key: ({ id }) => id,
  gone: (sheet) => !sheet.workbook.sheets.includes(sheet),
  get: {
    Id: ({ id }) => id,
    Name: ({ name }) => name,
    Visibility: ({ visibility }) => visibility,
    Position: (sheet) => sheet.workbook.sheets.indexOf(sheet),
  },
  set: {
    Name: (sheet, name: string) => {
      mayBeRebuilt(sheet.workbook);
      sheet.name = sheetName(sheet.workbook, name, sheet);
    },
    Visibility: (sheet, visibility: HostSheet["visibility"]) => {
      mayBeRebuilt(sheet.workbook);
      sheet.visibility = visibility;
    },
  },
  parts: {
    Tables: (sheet) => remote(TABLES, sheet),
    Charts: (sheet) => remote(CHARTS, sheet),
    Shapes: (sheet) => remote(SHAPES, sheet),
    Protection: (sheet) => remote(PROTECTION, sheet),
    PageLayout: (sheet) => remote(PAGE_LAYOUT, sheet),
    FreezePanes: (sheet) => remote(FREEZE_PANES, sheet),
  },
  methods: {
    Activate: activate,
    Delete: remove,
    GetRange: (sheet, address?: string | null) => {
      const area = address === null || address === undefined ? WHOLE : parseAddress(address);
      if (!area)
        throw new ExcelFailure("InvalidArgument", "The argument is invalid or missing or has an incorrect format.");
      return rangeAt(sheet, area);
    },
    GetRangeByIndexes: (sheet, row, column, rows, columns) => rangeAt(sheet, { row, column, rows, columns }),
    GetUsedRange: (sheet, valuesOnly = false) =>
      rangeAt(sheet, sheet.used(WHOLE, valuesOnly ?? false) ?? { row: 0, column: 0, rows: 1, columns: 1 }),
    GetUsedRangeOrNullObject: (sheet, valuesOnly = false) => {
      const area = sheet.used(WHOLE, valuesOnly ?? false);
      return area ? rangeAt(sheet, area) : remote(RANGE, null);
    },
  },
};

const PROTECTION: Kind<HostSheet> = {
  name: "WorksheetProtection",
  get: { Protected: ({ isProtected }) => isProtected },
  methods: {
    Protect: (sheet) => void (sheet.isProtected = true),
    Unprotect: (sheet) => void (sheet.isProtected = false),
  },
};
