/** A plan as points: for each visit to a table its shots by their settings, done and to do. */
import type { CellValue } from "../../workbook/book";
import { isCellError } from "../../workbook/book";
import type { Plan } from "./plan";
import type { PlanProgress } from "./planSheet";

export interface PlanPoint {
  /** Of each setting, its place among the levels. */
  readonly at: readonly number[];
  readonly done: boolean;
  /** Whether it is the one to shoot now. */
  readonly next: boolean;
}

export interface PlanBlock {
  /** Session on a table. */
  readonly name: string;
  readonly points: readonly PlanPoint[];
}

export interface PlanPoints {
  readonly settings: readonly { readonly heading: string; readonly levels: readonly string[] }[];
  readonly blocks: readonly PlanBlock[];
}

interface Shot {
  readonly block: string;
  readonly settings: readonly string[];
  readonly done: boolean;
}

/** A plan that is not on a sheet yet: all of it to do. */
export function pointsOfPlan({ wish, shots }: Plan): PlanPoints {
  return pointsOf(
    wish.factors.map(({ heading }) => heading),
    shots.flatMap(({ session, table, settings }) =>
      settings ? [{ block: blockName(session, table), settings: settings.map(String), done: false }] : [],
    ),
    false,
  );
}

/** A plan as its sheet has it. */
export function pointsOfProgress({ settings, rows }: PlanProgress): PlanPoints {
  return pointsOf(
    settings,
    rows.map((row) => ({
      block: blockName(textOf(row.session), textOf(row.table)),
      settings: row.settings.map(textOf),
      done: row.measured,
    })),
    true,
  );
}

/** Sessions are named after their tables; one that is not says both. */
const blockName = (session: string, table: string) => (session.includes(table) ? session : `${table}, ${session}`);

const textOf = (value: CellValue | undefined) =>
  value === null || value === undefined || isCellError(value) ? "" : String(value);

function pointsOf(headings: readonly string[], shots: readonly Shot[], going: boolean): PlanPoints {
  const settings = headings.map((heading, index) => ({
    heading,
    levels: sorted([...new Set(shots.map((shot) => shot.settings[index] ?? ""))]),
  }));
  const next = going ? shots.findIndex(({ done }) => !done) : -1;
  const blocks = new Map<string, PlanPoint[]>();
  shots.forEach(({ block, settings: of, done }, index) => {
    const points = blocks.get(block) ?? [];
    blocks.set(block, points);
    points.push({ at: settings.map(({ levels }, i) => levels.indexOf(of[i] ?? "")), done, next: index === next });
  });
  return { settings, blocks: [...blocks].map(([name, points]) => ({ name, points })) };
}

/** Numbers by size; words as they come. */
function sorted(levels: readonly string[]): string[] {
  return levels.every((level) => level.trim() !== "" && Number.isFinite(Number(level)))
    ? [...levels].sort((a, b) => Number(a) - Number(b))
    : [...levels];
}
