/** bendbook gather: the trials of many workbooks as one tidy set. */
import { createReadStream } from "node:fs";
import { mkdtemp, open, rm, type FileHandle } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { createInterface } from "node:readline";
import { parseArgs } from "node:util";
import {
  gatherPlan,
  holdsTrials,
  knownColumns,
  ORIGIN_HEADINGS,
  sourceOf,
  type GatherPlan,
  type GatherWishes,
  type Source,
} from "../experiment/gather/gatherPlan";
import { keptRows, RowTidier, type KeptRow } from "../experiment/gather/gatherRows";
import { outsideText } from "../experiment/log/outsideTable";
import { logName, type TrialLog } from "../experiment/log/trialLog";
import { counted } from "../experiment/language/wording";
import { there } from "../there";
import { csvRows } from "../workbook/file/rows/csvRows";
import { writeBeside } from "../workbook/file/package/disk";
import { explainFileError } from "../workbook/file/package/fileErrors";
import { FileProblem } from "../workbook/file/package/fileProblem";
import { parquetRows } from "../workbook/file/rows/parquetRows";
import { MOST_SHEET_ROWS, type NotesSheet, type RowColumn, type RowValue } from "../workbook/file/rows/rowFile";
import { unfinished } from "../workbook/file/package/unfinished";
import { xlsxRows } from "../workbook/file/rows/xlsxRows";
import { VERSION } from "../version";
import { gatherClaimsCommand } from "./gatherClaims";
import { filesToGather, mayBeWritten, oneFolder } from "./gatherFrom";
import { ownLogs } from "./ownLogs";
import { openFile, recomputed } from "./readLog";
import { CommandError, UsageError, type Voices } from "./usage";

interface GatherOptions extends GatherWishes {
  readonly folder: string;
  readonly out: string;
  readonly form: "csv" | "xlsx" | "parquet";
  readonly sheet: string | undefined;
  /** Whether rows and columns around Excel tables are part of the logs. */
  readonly takeIn: boolean;
  readonly json: boolean;
}

interface NotGathered {
  readonly origin: string;
  readonly reason: string;
}

/** Rows are handed to the file this many at a time. */
const BATCH = 2000;
const BEGIN = {
  csv: csvRows,
  xlsx: (file: Parameters<typeof csvRows>[0], columns: readonly RowColumn[]) => xlsxRows(file, columns, "Trials"),
  parquet: parquetRows,
};

/** Gathers, writes and tells. @returns the exit code */
export async function gatherCommand(args: string[], voices: Voices): Promise<number> {
  if (args.includes("--claims")) return gatherClaimsCommand(args, voices);
  const { print, progress, warn } = voices;
  const options = await readOptions(args);
  const files = await filesToGather(options);
  const aside = await mkdtemp(join(tmpdir(), "bendbook-gather-")).catch((problem: unknown) => {
    throw explainFileError(problem, tmpdir(), "written");
  });
  const finished = unfinished(aside);
  try {
    const rows = join(aside, "rows.jsonl");
    const { sources, notGathered, outside } = await putAside(files, options, rows, progress);
    if (sources.length === 0)
      throw new CommandError(
        `no file of ${options.folder} holds trials:\n${notGathered.map(({ origin, reason }) => `  ${origin}: ${reason}`).join("\n")}`,
      );
    const total = sources.reduce((sum, source) => sum + source.rows, 0);
    if (options.form === "xlsx" && total >= MOST_SHEET_ROWS)
      throw new CommandError(
        `${total.toLocaleString("en")} rows are more than a sheet holds (${MOST_SHEET_ROWS.toLocaleString("en")}): give --out a name that ends in .csv or .parquet.`,
      );
    if (outside.length > 0) warn(`${outside.join("\n")}\nThey were not gathered: --take-in takes them in.`);
    const plan = gatherPlan(sources, options);
    const { conflicts, leftBlank } = await writeSet(sources, plan, rows, options, notGathered, total, progress);
    const result = {
      out: options.out,
      files: files.length,
      rows: total,
      columns: plan.columns.map(({ heading, kind, unit }) => ({ heading, kind, unit })),
      sources: sources.map(({ origin, sheet, title, rows: n }) => ({ origin, sheet, table: title, rows: n })),
      readAs: readAsOf(sources),
      outsideTables: outside,
      conversions: plan.conversions,
      conflicts,
      leftBlank,
      notGathered,
    };
    print(options.json ? JSON.stringify(result, null, 2) : asText(result));
    return 0;
  } finally {
    await rm(aside, { recursive: true, force: true });
    finished();
  }
}

async function readOptions(args: string[]): Promise<GatherOptions> {
  const { tokens, values } = parseArgs({
    args,
    allowPositionals: true,
    tokens: true,
    options: {
      out: { type: "string" },
      units: { type: "string" },
      same: { type: "string", multiple: true },
      sheet: { type: "string" },
      force: { type: "boolean" },
      "take-in": { type: "boolean" },
      json: { type: "boolean" },
    },
  });
  const folders: string[] = [];
  const same: [string, string][] = [];
  /** The first of two headings that mean the same, until the second stands behind it; the end of the line is none. */
  let first: string | undefined;
  for (const token of [...tokens, undefined]) {
    if (first !== undefined) {
      if (token?.kind !== "positional") throw new UsageError(`--same "${first}" needs a second heading behind it.`);
      same.push([first, token.value]);
      first = undefined;
    } else if (token?.kind === "positional") folders.push(token.value);
    else if (token?.kind === "option" && token.name === "same") first = token.value ?? "";
  }
  const folder = oneFolder(folders);
  const { out, units, sheet } = values;
  if (out === undefined) throw new UsageError("gather needs --out FILE, a name that ends in .xlsx, .csv or .parquet.");
  const form = /\.(xlsx|csv|parquet)$/i.exec(out)?.[1]?.toLowerCase() as GatherOptions["form"] | undefined;
  if (form === undefined) throw new UsageError(`--out is "${out}": give a name that ends in .xlsx, .csv or .parquet.`);
  if (units !== undefined && units !== "us" && units !== "si")
    throw new UsageError(`--units is "${units}": give us (in, mph, °F) or si (mm, m/s, °C).`);
  await mayBeWritten(out, values.force);
  return {
    folder,
    out,
    form,
    same,
    sheet,
    takeIn: values["take-in"] === true,
    json: values.json === true,
    ...(units ? { units } : {}),
  };
}

/** First pass: reads one file after another and puts the rows of its trials aside; only the headings stay in memory. */
async function putAside(
  files: readonly string[],
  { folder, sheet, takeIn, same }: GatherOptions,
  target: string,
  progress: (text: string) => void,
) {
  const sources: Source[] = [];
  const outside: string[] = [];
  const notGathered: NotGathered[] = [];
  const lines = new Lines(await open(target, "wx"));
  let rows = 0;
  for (const [f, origin] of files.entries()) {
    try {
      const { book } = await openFile(join(folder, origin));
      const now = await recomputed(book);
      const names = now.sheets.map(({ name }) => name).filter((name) => sheet === undefined || name === sheet);
      const before = sources.length;
      let gathered = false;
      for (const name of names) {
        for (const log of (await ownLogs(now, name, takeIn))
          .map((found) => knownColumns(found, same))
          .filter(holdsTrials)) {
          if (isGathered(log)) {
            notGathered.push({ origin, reason: GATHERED });
            gathered = true;
            continue;
          }
          for (const row of keptRows(log)) await lines.put(JSON.stringify([sources.length, row]));
          sources.push(sourceOf(origin, log));
          if (log.outside && !log.outside.takenIn)
            outside.push(`${origin}, ${log.sheet}: ${outsideText(log.title, log.outside)}.`);
          rows += log.rows.length;
        }
      }
      if (sources.length === before && !gathered)
        notGathered.push({
          origin,
          reason:
            names.length === 0 && sheet !== undefined
              ? `it has no sheet "${sheet}".`
              : "it has no table with a column of bend, clearance, gap or made and rows below it.",
        });
    } catch (problem) {
      if (!(problem instanceof FileProblem)) throw problem;
      notGathered.push({ origin, reason: problem.message.replace(`${basename(origin)}: `, "") });
    }
    progress(`${f + 1} of ${files.length} files read, ${rows.toLocaleString("en")} rows`);
  }
  await lines.end();
  return { sources, notGathered, outside };
}

const GATHERED = `it is a gathered set itself (columns ${ORIGIN_HEADINGS.join(", ")}), so its rows would count twice. Rename its column ${ORIGIN_HEADINGS[0]} to have them all the same.`;

/** Whether a log was made by this command. */
const isGathered = ({ columns }: TrialLog) =>
  ORIGIN_HEADINGS.every((wanted) => columns.some(({ heading }) => heading.text === wanted));

/** Lines of text on their way to a file, in pieces of about a megabyte. */
class Lines {
  private waiting: string[] = [];
  private size = 0;

  constructor(private readonly file: FileHandle) {}

  async put(line: string): Promise<void> {
    this.waiting.push(line, "\n");
    this.size += line.length;
    if (this.size > 1_000_000) await this.flush();
  }

  async end(): Promise<void> {
    await this.flush();
    await this.file.close();
  }

  private async flush(): Promise<void> {
    const text = this.waiting.join("");
    this.waiting = [];
    this.size = 0;
    await this.file.appendFile(text);
  }
}

/** Second pass: from the rows put aside to the file, in the units of the plan. */
async function writeSet(
  sources: readonly Source[],
  plan: GatherPlan,
  from: string,
  { form, out }: GatherOptions,
  notGathered: readonly NotGathered[],
  total: number,
  progress: (text: string) => void,
) {
  const columns: RowColumn[] = [
    ...ORIGIN_HEADINGS.map((heading, i) => ({ heading, kind: i === 2 ? ("number" as const) : ("text" as const) })),
    ...plan.columns,
  ];
  const tidier = new RowTidier(sources, plan);
  let told = { conflicts: [] as readonly string[], leftBlank: [] as readonly string[] };
  await writeBeside(out, async (file) => {
    const target = await BEGIN[form](file, columns);
    let batch: RowValue[][] = [];
    let done = 0;
    const flush = async () => {
      await target.write(batch);
      done += batch.length;
      batch = [];
      progress(`${done.toLocaleString("en")} of ${total.toLocaleString("en")} rows written`);
    };
    for await (const line of createInterface({ input: createReadStream(from), crlfDelay: Infinity })) {
      const [s, row] = JSON.parse(line) as [number, KeptRow];
      const { origin, sheet } = there(sources[s], "the source of a row that was put aside");
      batch.push([origin, sheet, row[0], ...tidier.tidy(s, row)]);
      if (batch.length === BATCH) await flush();
    }
    if (batch.length > 0) await flush();
    told = { conflicts: [...plan.conflicts, ...tidier.conflicts()], leftBlank: tidier.leftBlank() };
    await target.end(notes(sources, plan, told, notGathered));
  });
  return told;
}

function notes(
  sources: readonly Source[],
  plan: GatherPlan,
  told: { readonly conflicts: readonly string[]; readonly leftBlank: readonly string[] },
  notGathered: readonly NotGathered[],
): NotesSheet {
  const group = (what: string, texts: readonly string[]) => texts.map((text) => [what, text]);
  return {
    name: "Gathered from",
    rows: [
      ["What", "Note"],
      ...group(
        "Source",
        sources.map((source) => `${source.origin}, ${logName(source)}: ${counted(source.rows, "row")}`),
      ),
      ...group("Read as", readAsOf(sources)),
      ...group("Unit", plan.conversions),
      ...group("Conflict", told.conflicts),
      ...group("Left blank", told.leftBlank),
      ...group(
        "Not gathered",
        notGathered.map(({ origin, reason }) => `${origin}: ${reason}`),
      ),
      ["Made by", `Bendbook ${VERSION}`],
    ],
  };
}

const readAsOf = (sources: readonly Source[]) =>
  sources.flatMap(({ origin, sheet, readAs }) => readAs.map((text) => `${origin}, ${sheet}: ${text}`));

interface Gathered {
  readonly out: string;
  readonly rows: number;
  readonly files: number;
  readonly columns: readonly { readonly heading: string }[];
  readonly sources: readonly { readonly origin: string }[];
  readonly readAs: readonly string[];
  readonly conversions: readonly string[];
  readonly conflicts: readonly string[];
  readonly leftBlank: readonly string[];
  readonly notGathered: readonly NotGathered[];
}

function asText({
  out,
  rows,
  files,
  columns,
  sources,
  readAs,
  conversions,
  conflicts,
  leftBlank,
  notGathered,
}: Gathered): string {
  const list = (headline: string, texts: readonly string[]) =>
    texts.length === 0 ? [] : ["", headline, ...texts.map((text) => `  ${text}`)];
  return [
    `${counted(rows, "row")} of ${counted(sources.length, "table")} in ${new Set(sources.map(({ origin }) => origin)).size} of ${counted(files, "file")}, ${columns.length} columns beside the three that say where a row is from. Written to ${out}.`,
    ...list("Read as:", readAs),
    ...list("Turned into another unit:", conversions),
    ...list("Conflicts, nothing was decided for you:", conflicts),
    ...list("Cells left blank:", leftBlank),
    ...list(
      "Not gathered:",
      notGathered.map(({ origin, reason }) => `${origin}: ${reason}`),
    ),
  ].join("\n");
}
