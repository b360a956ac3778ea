/**
 * A small Excel for tests, as Office.js shows it: nothing happens before context.sync(), nothing can be read that was
 * not loaded and synced, methods of an object that is not there fail, answers and requests above 5 MB are refused, text
 * is read as Excel reads what is typed, and used ranges need not begin at A1. It counts round trips. Runs in a browser
 * too.
 */
/* eslint-disable @typescript-eslint/no-explicit-any -- the object model is built from proxies, and its users see Office.js's types */
import { areaAddress, parseAddress, quoteSheetName } from "../../../src/workbook/address";
import { isCellError, type Area, type Book, type CellValue } from "../../../src/workbook/book";
import type { ExcelHost } from "../../../src/workbook/excel/excelHost";

const LIMIT = 5 * 1024 * 1024;
const MOST_MERGED = 512;
const LAST_ROW = 1048576;
const LAST_COLUMN = 16384;

export class OfficeError extends Error {
  constructor(
    readonly code: string,
    message: string,
  ) {
    super(message);
    this.name = "RichApi.Error";
  }
}

export interface FakeCell {
  value: number | string | boolean;
  error?: boolean;
  formula?: string;
  format: string;
  bold?: boolean;
  wrap?: boolean;
}

export interface FakePicture {
  png: string;
  width?: number;
  name?: string;
  altTextDescription?: string;
  left?: number;
  top?: number;
}

export interface FakeChart {
  type: string;
  title?: string;
  legend?: boolean;
  xTitle?: string;
  yTitle?: string;
  series?: string;
  values?: string;
  xValues?: string;
  from?: string;
  to?: string;
}

export class FakeSheet {
  readonly cells = new Map<number, FakeCell>();
  readonly hiddenRows = new Set<number>();
  merged: Area[] = [];
  tables: { name: string; area: Area; totals?: true; columns?: readonly string[] }[] = [];
  readonly charts: FakeChart[] = [];
  readonly pictures: FakePicture[] = [];
  readonly widths = new Map<number, number>();
  visibility: "Visible" | "Hidden" | "VeryHidden" = "Visible";
  constructor(
    readonly id: string,
    public name: string,
  ) {}

  cell(row: number, column: number): FakeCell | undefined {
    return this.cells.get(row * LAST_COLUMN + column);
  }
  make(row: number, column: number): FakeCell {
    const key = row * LAST_COLUMN + column;
    let cell = this.cells.get(key);
    if (!cell) this.cells.set(key, (cell = { value: "", format: "General" }));
    return cell;
  }
  used(within: Area, valuesOnly: boolean): Area | null {
    let [top, left, bottom, right] = [Infinity, Infinity, -1, -1];
    for (const [key, cell] of this.cells) {
      if (valuesOnly && cell.value === "" && cell.formula === undefined) continue;
      const row = Math.floor(key / LAST_COLUMN);
      const column = key % LAST_COLUMN;
      if (
        row < within.row ||
        column < within.column ||
        row >= within.row + within.rows ||
        column >= within.column + within.columns
      )
        continue;
      top = Math.min(top, row);
      left = Math.min(left, column);
      bottom = Math.max(bottom, row);
      right = Math.max(right, column);
    }
    return bottom < 0 ? null : { row: top, column: left, rows: bottom - top + 1, columns: right - left + 1 };
  }
}

/** What Excel makes of a value that is set from outside. */
function take(cell: FakeCell, value: unknown): void {
  delete cell.error;
  delete cell.formula;
  if (typeof value !== "string") cell.value = value as number | boolean;
  else if (value.startsWith("'")) cell.value = value.slice(1);
  else if (cell.format === "@") cell.value = value;
  else if (/^[=+-][^\d.]|^=/.test(value)) [cell.formula, cell.value] = [value, 0];
  else if (/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(value.trim())) cell.value = Number(value);
  else if (/^\d+%$/.test(value)) [cell.value, cell.format] = [parseFloat(value) / 100, "0%"];
  else if (/^\d{1,2}\/\d{1,2}$/.test(value)) [cell.value, cell.format] = [46030, "d-mmm"];
  else if (/^(true|false)$/i.test(value)) cell.value = value.toLowerCase() === "true";
  else cell.value = value;
}

type Shape<T> = {
  /** Readable after load and sync. */
  get?: Record<string, (target: T) => unknown>;
  set?: Record<string, (target: T, value: any) => void>;
  /** Methods and parts. */
  has?: Record<string, unknown>;
  /** Of a collection. */
  items?: (target: T) => any[];
};

const AREA = Symbol("area");

/** A formula with its references counted from its own cell, and back; enough for what tests write. */
function toR1C1(formula: string, row: number, column: number): string {
  return formula.replace(/(?<![A-Z.])([A-Z]{1,2})(\d+)(?![\d(])/g, (_, letters: string, number: string) => {
    const at = parseAddress(`${letters}${number}`)!;
    return `R[${at.row - row}]C[${at.column - column}]`;
  });
}

function fromR1C1(formula: string, row: number, column: number): string {
  return formula.replace(/R\[(-?\d+)\]C\[(-?\d+)\]/g, (_, down: string, right: string) =>
    areaAddress({ row: row + Number(down), column: column + Number(right), rows: 1, columns: 1 }),
  );
}

export class FakeExcel implements ExcelHost {
  sheets: FakeSheet[] = [];
  active = "";
  selected: { sheet: string; area: Area } | undefined;
  parts: { id: string; namespace: string; xml: string }[] = [];
  /** context.sync() calls that had something to do. */
  roundTrips = 0;
  /** Everything asked for, in order. */
  readonly asked: string[] = [];
  largestAnswer = 0;
  largestRequest = 0;
  /** Stands for whatever makes Excel refuse: called before each step with its name. */
  refuse: (step: string) => OfficeError | undefined = () => undefined;
  readonly changed = new Set<(event: any) => Promise<void>>();
  readonly calculated = new Set<(event: any) => Promise<void>>();
  private made = 0;

  static of(book: Book): FakeExcel {
    const excel = new FakeExcel();
    for (const from of book.sheets) {
      const sheet = excel.addSheet(from.name);
      if (from.hidden) sheet.visibility = "Hidden";
      from.rows.forEach((row, r) =>
        row?.forEach((cell, c) => {
          if (!cell) return;
          const made = sheet.make(r, c);
          made.format = (cell.style === undefined ? undefined : book.styles[cell.style]?.format) ?? "General";
          excel.put(made, cell.value);
          if (cell.formula !== undefined) made.formula = `=${cell.formula}`;
        }),
      );
      from.hiddenRows.forEach((row) => sheet.hiddenRows.add(row));
      sheet.merged = [...from.merged];
      sheet.tables = from.tables.map((table) => ({ ...table }));
    }
    excel.active = excel.sheets.find(({ visibility }) => visibility === "Visible")!.id;
    return excel;
  }

  addSheet(name: string): FakeSheet {
    const sheet = new FakeSheet(`{${++this.made}}`, name);
    this.sheets.push(sheet);
    return sheet;
  }

  sheet(name: string): FakeSheet {
    const found = this.sheets.find((one) => one.name.toLowerCase() === name.toLowerCase() || one.id === name);
    if (!found) throw new OfficeError("ItemNotFound", "The requested resource doesn't exist.");
    return found;
  }

  private put(cell: FakeCell, value: CellValue): void {
    delete cell.formula;
    delete cell.error;
    if (isCellError(value)) [cell.value, cell.error] = [value.error, true];
    else cell.value = value ?? "";
  }

  /** What a user does who types the value. */
  async type(name: string, row: number, column: number, value: CellValue): Promise<void> {
    const sheet = this.sheet(name);
    this.put(sheet.make(row, column), value);
    this.tellEdited(sheet, { row, column, rows: 1, columns: 1 });
  }

  tellEdited(sheet: FakeSheet, area: Area): void {
    this.tell(this.changed, sheet, { changeType: "RangeEdited", address: areaAddress(area) });
  }

  tell(handlers: Set<(event: any) => Promise<void>>, sheet: FakeSheet, said: object = {}): void {
    for (const handler of [...handlers]) setTimeout(() => void handler({ worksheetId: sheet.id, ...said }));
  }

  run = async <T>(...given: any[]): Promise<T> => {
    const context = new FakeContext(this);
    const result = await given.at(-1)(context);
    await context.sync();
    return result;
  };
}

class FakeContext {
  readonly workbook: any;
  private queue: { step: string; act: () => void }[] = [];
  private answer = 0;
  private request = 0;

  constructor(readonly excel: FakeExcel) {
    this.workbook = this.makeWorkbook();
  }

  later(step: string, act: () => void): void {
    this.queue.push({ step, act });
  }

  async sync(): Promise<void> {
    const queue = this.queue;
    this.queue = [];
    if (queue.length === 0) return;
    this.excel.roundTrips++;
    [this.answer, this.request] = [0, 0];
    await new Promise((done) => setTimeout(done));
    for (const { step, act } of queue) {
      this.excel.asked.push(step);
      const refused = this.excel.refuse(step);
      if (refused) throw refused;
      act();
    }
    this.excel.largestAnswer = Math.max(this.excel.largestAnswer, this.answer);
    this.excel.largestRequest = Math.max(this.excel.largestRequest, this.request);
  }

  private answered(value: unknown): unknown {
    this.answer += JSON.stringify(value)?.length ?? 0;
    if (this.answer > LIMIT)
      throw new OfficeError("ResponsePayloadSizeLimitExceeded", "The response payload size has exceeded the limit.");
    return value;
  }

  private sent(value: unknown): void {
    this.request += JSON.stringify(value)?.length ?? 0;
    if (this.request > LIMIT)
      throw new OfficeError("RequestPayloadSizeLimitExceeded", "The request payload size has exceeded the limit.");
  }

  /** An object of the model; `resolve` is asked at sync time, null is the null object of an …OrNullObject method. */
  private remote<T>(label: string, resolve: () => T | null, shape: Shape<T>): any {
    const loaded = new Map<string, unknown>();
    let isNull: boolean | undefined;
    const there = (): T => {
      const target = resolve();
      if (target === null) throw new OfficeError("ItemNotFound", "The object is a null object.");
      return target;
    };
    const load = (names: string | string[]) => {
      const wanted = (Array.isArray(names) ? names : names.split(",")).map((name) => name.trim());
      for (const name of wanted)
        if (
          !(name.replace(/^items\//, "") in (shape.items ? {} : (shape.get ?? {}))) &&
          !(shape.items && name.startsWith("items"))
        )
          throw new OfficeError("InvalidArgument", `${label} has no property ${name}.`);
      this.later(`load ${label}`, () => {
        const target = resolve();
        isNull = target === null;
        if (target === null) return;
        if (shape.items) {
          const items = shape.items(target);
          const parts = wanted.map((name) => name.replace(/^items\/?/, "")).filter((name) => name !== "");
          items.forEach((item) => item[LOAD](parts));
          loaded.set("items", items);
        } else for (const name of wanted) loaded.set(name, this.answered(shape.get![name](target)));
      });
      return proxy;
    };
    const proxy: any = new Proxy(
      {},
      {
        get: (_, name) => {
          if (name === "then") return undefined;
          if (name === "load") return load;
          if (name === LOAD)
            return (names: string[]) =>
              names.forEach((one) => loaded.set(one, this.answered(shape.get![one](there()))));
          if (name === "isNullObject") {
            if (isNull === undefined)
              throw new OfficeError("PropertyNotLoaded", `${label}: sync before asking whether it is there.`);
            return isNull;
          }
          if (name === AREA) return there;
          if (shape.has && name in shape.has) {
            const member = shape.has[name as string];
            return member;
          }
          if (loaded.has(name as string)) return loaded.get(name as string);
          if (name === "items" || (shape.get && name in shape.get))
            throw new OfficeError(
              "PropertyNotLoaded",
              `The property '${String(name)}' of ${label} is not available. Before reading the property's value, call the load method and context.sync().`,
            );
          throw new Error(`The fake ${label} has no ${String(name)}.`);
        },
        set: (_, name, value) => {
          const setter = shape.set?.[name as string];
          if (!setter) throw new Error(`The fake ${label} cannot set ${String(name)}.`);
          this.later(`set ${label}.${String(name)}`, () => {
            this.sent(value);
            setter(there(), value);
          });
          return true;
        },
      },
    );
    return proxy;
  }

  private result<T>(step: string, compute: () => T): { readonly value: T } {
    let known: { value: T } | undefined;
    this.later(step, () => {
      known = { value: this.answered(compute()) as T };
    });
    return {
      get value() {
        if (!known)
          throw new OfficeError(
            "ValueNotLoaded",
            "The value of the result object has not been loaded yet. Call context.sync() first.",
          );
        return known.value;
      },
    };
  }

  private makeWorkbook(): any {
    const { excel } = this;
    const events = (handlers: Set<(event: any) => Promise<void>>) => ({
      add: (handler: (event: any) => Promise<void>) => {
        this.later("listen", () => void handlers.add(handler));
        return { context: this, remove: () => this.later("stop listening", () => void handlers.delete(handler)) };
      },
    });
    const worksheets = this.remote("worksheets", () => excel, {
      items: () => excel.sheets.map((sheet) => this.sheet(() => sheet)),
      has: {
        getItem: (key: string) => this.sheet(() => excel.sheet(key)),
        getActiveWorksheet: () => this.sheet(() => excel.sheet(excel.active)),
        add: (name: string) => {
          let made: FakeSheet | undefined;
          this.later("add a sheet", () => {
            if (excel.sheets.some((sheet) => sheet.name.toLowerCase() === name.toLowerCase()))
              throw new OfficeError("ItemAlreadyExists", "A resource with the same name or identifier already exists.");
            if (name.length > 31 || name === "")
              throw new OfficeError("InvalidArgument", "The sheet's name is not valid.");
            made = excel.addSheet(name);
          });
          return this.sheet(() => made!);
        },
        onChanged: events(excel.changed),
        onCalculated: events(excel.calculated),
      },
    });
    const part = (resolve: () => FakeExcel["parts"][number]) =>
      this.remote("customXmlPart", resolve, {
        get: { id: ({ id }) => id },
        has: {
          getXml: () => this.result("getXml", () => resolve().xml),
          setXml: (xml: string) => this.later("setXml", () => void (resolve().xml = xml)),
          delete: () =>
            this.later("delete a part", () => void (excel.parts = excel.parts.filter((one) => one !== resolve()))),
        },
      });
    return {
      worksheets,
      customXmlParts: {
        getByNamespace: (namespace: string) =>
          this.remote("customXmlParts", () => excel, {
            items: () => excel.parts.filter((one) => one.namespace === namespace).map((one) => part(() => one)),
          }),
        add: (xml: string) =>
          this.later(
            "add a part",
            () =>
              void excel.parts.push({
                id: `part ${excel.parts.length}`,
                namespace: /xmlns="([^"]*)"/.exec(xml)?.[1] ?? "",
                xml,
              }),
          ),
      },
    };
  }

  private sheet(resolve: () => FakeSheet): any {
    const { excel } = this;
    const whole: Area = { row: 0, column: 0, rows: LAST_ROW, columns: LAST_COLUMN };
    const table = (find: () => FakeSheet["tables"][number]) =>
      this.remote("table", find, {
        get: {
          name: ({ name }) => name,
          showTotals: ({ totals }) => totals === true,
          showHeaders: ({ columns }) => columns === undefined,
        },
        has: {
          getRange: () => this.range(resolve, () => find().area),
          rows: {
            add: () =>
              this.later("add a row to a table", () => {
                const { area } = find();
                const last = area.row + area.rows - 1;
                find().area = { ...area, rows: area.rows + 1 };
                for (let c = area.column; c < area.column + area.columns; c++) {
                  const above = resolve().cell(last, c);
                  const made = resolve().make(last + 1, c);
                  if (above) made.format = above.format;
                  if (above?.formula !== undefined)
                    made.formula = fromR1C1(toR1C1(above.formula, last, c), last + 1, c);
                }
                this.excel.tellEdited(resolve(), { ...area, row: last + 1, rows: 1 });
              }),
          },
          columns: this.remote("columns", find, {
            items: ({ columns }) =>
              (columns ?? []).map((name) => this.remote("column", () => name, { get: { name: () => name } })),
          }),
        },
      });
    return this.remote("worksheet", resolve, {
      get: { id: ({ id }) => id, name: ({ name }) => name, visibility: ({ visibility }) => visibility },
      has: {
        activate: () =>
          this.later("activate", () => {
            if (resolve().visibility !== "Visible")
              throw new OfficeError("InvalidOperation", "This operation is not permitted for the current object.");
            excel.active = resolve().id;
          }),
        delete: () =>
          this.later("delete the sheet", () => {
            const gone = resolve();
            if (!excel.sheets.some((sheet) => sheet !== gone && sheet.visibility === "Visible"))
              throw new OfficeError("GeneralException", "A workbook must contain at least one visible worksheet.");
            excel.sheets = excel.sheets.filter((sheet) => sheet !== gone);
          }),
        getRange: (address?: string) =>
          this.range(resolve, () => (address === undefined ? whole : parseAddress(address)!)),
        getRangeByIndexes: (row: number, column: number, rows: number, columns: number) => {
          if (rows < 1 || columns < 1) throw new OfficeError("InvalidArgument", "A range has at least one cell.");
          return this.range(resolve, () => ({ row, column, rows, columns }));
        },
        getUsedRangeOrNullObject: (valuesOnly = false) => this.range(resolve, () => resolve().used(whole, valuesOnly)),
        tables: this.remote("tables", resolve, {
          items: (sheet) => sheet.tables.map((one) => table(() => one)),
          has: {
            getItem: (name: string) =>
              table(() => {
                const found = resolve().tables.find((one) => one.name === name);
                if (!found) throw new OfficeError("ItemNotFound", "The requested resource doesn't exist.");
                return found;
              }),
          },
        }),
        charts: { add: (type: string, source: any) => this.chart(resolve, type, source) },
        shapes: { addImage: (png: string) => this.picture(resolve, png) },
      },
    });
  }

  private range(sheet: () => FakeSheet, place: () => Area | null): any {
    const at = (): Area => {
      const area = place();
      if (!area) throw new OfficeError("ItemNotFound", "The object is a null object.");
      return area;
    };
    const grid = <T>({ row, column, rows, columns }: Area, read: (cell: FakeCell | undefined) => T): T[][] =>
      Array.from({ length: rows }, (_, r) =>
        Array.from({ length: columns }, (__, c) => read(sheet().cell(row + r, column + c))),
      );
    const each = ({ row, column, rows, columns }: Area, act: (cell: FakeCell, r: number, c: number) => void) => {
      for (let r = 0; r < rows; r++) for (let c = 0; c < columns; c++) act(sheet().make(row + r, column + c), r, c);
    };
    const check = (area: Area, value: unknown[][]) => {
      if (value.length !== area.rows || value.some((row) => row.length !== area.columns))
        throw new OfficeError(
          "InvalidArgument",
          "The number of rows or columns in the input array doesn't match the size of the range.",
        );
    };
    return this.remote<Area>("range", place, {
      get: {
        rowIndex: ({ row }) => row,
        columnIndex: ({ column }) => column,
        rowCount: ({ rows }) => rows,
        columnCount: ({ columns }) => columns,
        values: (area) => grid(area, (cell) => cell?.value ?? ""),
        formulas: (area) => grid(area, (cell) => cell?.formula ?? cell?.value ?? ""),
        formulasR1C1: ({ row, column, rows, columns }) =>
          Array.from({ length: rows }, (_, r) =>
            Array.from({ length: columns }, (__, c) => {
              const cell = sheet().cell(row + r, column + c);
              return cell?.formula === undefined ? (cell?.value ?? "") : toR1C1(cell.formula, row + r, column + c);
            }),
          ),
        valueTypes: (area) =>
          grid(area, (cell) =>
            cell?.error
              ? "Error"
              : !cell || cell.value === ""
                ? "Empty"
                : typeof cell.value === "number"
                  ? "Double"
                  : typeof cell.value === "boolean"
                    ? "Boolean"
                    : "String",
          ),
        numberFormat: (area) => grid(area, (cell) => cell?.format ?? "General"),
      },
      set: {
        values: (area, value: unknown[][]) => {
          check(area, value);
          each(area, (cell, r, c) => value[r][c] !== null && take(cell, value[r][c]));
          this.excel.tellEdited(sheet(), at());
        },
        formulasR1C1: (area, value: string[][]) => {
          check(area, value);
          each(area, (cell, r, c) => take(cell, fromR1C1(value[r][c], area.row + r, area.column + c)));
          this.excel.tellEdited(sheet(), at());
        },
        numberFormat: (area, value: string[][]) => {
          check(area, value);
          each(area, (cell, r, c) => void (cell.format = value[r][c]));
        },
      },
      has: {
        getUsedRangeOrNullObject: (valuesOnly = false) => this.range(sheet, () => sheet().used(at(), valuesOnly)),
        getRowProperties: () =>
          this.result("getRowProperties", () =>
            Array.from({ length: at().rows }, (_, r) => ({ rowHidden: sheet().hiddenRows.has(at().row + r) })),
          ),
        getMergedAreasOrNullObject: () => {
          const found = () => {
            const { row, column, rows, columns } = at();
            return sheet().merged.filter(
              (one) =>
                one.row < row + rows &&
                one.row + one.rows > row &&
                one.column < column + columns &&
                one.column + one.columns > column,
            );
          };
          return this.remote(
            "merged areas",
            () => {
              if (found().length > MOST_MERGED)
                throw new OfficeError("GeneralException", "There are too many merged areas.");
              return found().length === 0 ? null : found();
            },
            {
              get: {
                address: (areas) =>
                  areas.map((area) => `${quoteSheetName(sheet().name)}!${areaAddress(area)}`).join(","),
              },
            },
          );
        },
        clear: (what: string) =>
          this.later("clear", () => {
            if (what !== "Contents")
              throw new OfficeError("InvalidArgument", `This Excel empties contents only, not ${what}.`);
            each(at(), (cell) => take(cell, ""));
            this.excel.tellEdited(sheet(), at());
          }),
        select: () =>
          this.later("select", () => {
            if (sheet().visibility !== "Visible")
              throw new OfficeError("InvalidOperation", "This operation is not permitted for the current object.");
            this.excel.active = sheet().id;
            this.excel.selected = { sheet: sheet().name, area: at() };
          }),
        format: this.remote<Area>("format", place, {
          set: {
            wrapText: (area, value: boolean) => each(area, (cell) => void (cell.wrap = value)),
            columnWidth: (area, value: number) => void sheet().widths.set(area.column, value),
          },
          has: {
            font: this.remote<Area>("font", place, {
              set: { bold: (area, value: boolean) => each(area, (cell) => void (cell.bold = value)) },
            }),
          },
        }),
      },
    });
  }

  private picture(sheet: () => FakeSheet, png: string): any {
    const picture: FakePicture = { png };
    this.later("add a picture", () => void sheet().pictures.push(picture));
    return this.remote("shape", () => picture, {
      set: {
        name: (one, value: string) => void (one.name = value),
        altTextDescription: (one, value: string) => void (one.altTextDescription = value),
        lockAspectRatio: () => undefined,
        width: (one, value: number) => void (one.width = value),
        left: (one, value: number) => void (one.left = value),
        top: (one, value: number) => void (one.top = value),
      },
    });
  }

  private chart(sheet: () => FakeSheet, type: string, source: any): any {
    const chart: FakeChart = { type };
    const address = (range: any) => areaAddress(range[AREA]());
    this.later("add a chart", () => {
      chart.values = address(source);
      sheet().charts.push(chart);
    });
    const title = (key: "title" | "xTitle" | "yTitle") =>
      this.remote("title", () => chart, {
        set: { text: (one, text: string) => void (one[key] = text), visible: () => undefined },
      });
    return {
      title: title("title"),
      legend: this.remote("legend", () => chart, {
        set: { visible: (one, value: boolean) => void (one.legend = value) },
      }),
      axes: { categoryAxis: { title: title("xTitle") }, valueAxis: { title: title("yTitle") } },
      series: {
        getItemAt: () =>
          this.remote("series", () => chart, {
            set: { name: (one, name: string) => void (one.series = name) },
            has: {
              setValues: (range: any) => this.later("setValues", () => void (chart.values = address(range))),
              setXAxisValues: (range: any) => this.later("setXAxisValues", () => void (chart.xValues = address(range))),
            },
          }),
      },
      setPosition: (from: any, to: any) =>
        this.later("setPosition", () => void ([chart.from, chart.to] = [address(from), address(to)])),
    };
  }
}

const LOAD = Symbol("load as an item");
