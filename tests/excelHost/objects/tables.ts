/** Tables, their rows and columns. */
import type { Area } from "../../../src/workbook/book";
import { ExcelFailure, UnknownConstruct } from "../failure";
import { remote, type Kind, type Remote } from "../model";
import type { HostSheet, HostTable, HostWorkbook } from "../workbook";
import { fromR1C1, toR1C1, write } from "../written";
import { rangeAt } from "./range";

const tableObject = (table: HostTable): Remote => remote(TABLE, table);

function tableIn(sheet: HostSheet, key: string): HostTable | undefined {
  return sheet.tables.find(({ name, id }) => name.toLowerCase() === key.toLowerCase() || id === key);
}

export const TABLES: Kind<HostSheet> = {
  name: "TableCollection",
  items: ({ tables }) => tables.map(tableObject),
  item: (sheet, key) => {
    const found = tableIn(sheet, key);
    if (!found) throw new ExcelFailure("ItemNotFound", "The requested resource doesn't exist.");
    return tableObject(found);
  },
  get: { Count: ({ tables }) => tables.length },
  methods: {
    GetItemOrNullObject: (sheet, key) => remote(TABLE, tableIn(sheet, key) ?? null),
    GetCount: ({ tables }) => tables.length,
  },
};

/** All tables; the client finds one that it listed on a sheet here again, by its id. */
export const ALL_TABLES: Kind<HostWorkbook> = {
  name: "TableCollection",
  items: ({ sheets }) => sheets.flatMap(({ tables }) => tables.map(tableObject)),
  item: ({ sheets }, key) => {
    const found = sheets.map((sheet) => tableIn(sheet, key)).find(Boolean);
    if (!found) throw new ExcelFailure("ItemNotFound", "The requested resource doesn't exist.");
    return tableObject(found);
  },
};

/** The rows between the headings and the totals. */
function body({ area, totals, columns }: HostTable): Area {
  const above = columns ? 0 : 1;
  return { ...area, row: area.row + above, rows: area.rows - above - (totals ? 1 : 0) };
}

/** A row at the end: the cells below are taken in, looks and formulas of the row above go on in it. */
function addRow(table: HostTable, index: number | null, values: unknown, alwaysInsert: boolean | null): Remote {
  if (index !== null || values !== null) throw new UnknownConstruct("a table row at a place or with values");
  if (table.totals) throw new UnknownConstruct("a row for a table with totals, which moves the cells below it");
  void alwaysInsert; // what stands below a table is moved down; nothing does where this is used
  const { sheet, area } = table;
  sheet.mayBeEdited();
  const last = area.row + area.rows - 1;
  table.area = { ...area, rows: area.rows + 1 };
  for (let column = area.column; column < area.column + area.columns; column++) {
    const above = sheet.cell(last, column);
    const cell = sheet.make(last + 1, column);
    if (above) cell.format = above.format;
    if (above?.formula !== undefined) write(cell, fromR1C1(toR1C1(above.formula, last, column), last + 1, column));
  }
  sheet.workbook.edited(sheet, { ...area, row: last + 1, rows: 1 });
  return remote(TABLE_ROW, { table, index: body(table).rows - 1 });
}

const TABLE: Kind<HostTable> = {
  name: "Table",
  key: ({ id }) => id,
  gone: (table) => !table.sheet.tables.includes(table),
  get: {
    Id: ({ id }) => id,
    Name: ({ name }) => name,
    ShowTotals: ({ totals }) => totals === true,
    ShowHeaders: ({ columns }) => columns === undefined,
  },
  parts: { Rows: (table) => remote(TABLE_ROWS, table), Columns: (table) => remote(TABLE_COLUMNS, table) },
  methods: {
    GetRange: ({ sheet, area }) => rangeAt(sheet, area),
    GetDataBodyRange: (table) => rangeAt(table.sheet, body(table)),
  },
};

const TABLE_ROWS: Kind<HostTable> = {
  name: "TableRowCollection",
  get: { Count: (table) => body(table).rows },
  methods: { Add: addRow, GetCount: (table) => body(table).rows },
};

const TABLE_ROW: Kind<{ table: HostTable; index: number }> = {
  name: "TableRow",
  get: { Index: ({ index }) => index },
};

const TABLE_COLUMNS: Kind<HostTable> = {
  name: "TableColumnCollection",
  items: ({ sheet, area, columns }) =>
    Array.from({ length: area.columns }, (_, index) => {
      const heading = columns?.[index] ?? String(sheet.cell(area.row, area.column + index)?.value ?? "");
      return remote(TABLE_COLUMN, { index, heading });
    }),
};

const TABLE_COLUMN: Kind<{ index: number; heading: string }> = {
  name: "TableColumn",
  key: ({ index }) => String(index + 1),
  get: { Id: ({ index }) => index + 1, Index: ({ index }) => index, Name: ({ heading }) => heading },
};
