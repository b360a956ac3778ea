/** What is chosen while shooting, as it is kept with the workbook. */
import { asRecord } from "../language/keptObject";
import { OUTCOMES } from "../log/outcome";
import type { Press } from "./shootRow";

/** An attempt that was pressed in: the cells that it wrote, so that it can be taken back. */
export interface Pressed {
  readonly sheet: string;
  /** Sheet row, from 0. */
  readonly row: number;
  /** Sheet column and what was written there. */
  readonly cells: readonly (readonly [column: number, value: number | string])[];
  /** Columns of the row that held something before. */
  readonly beside: readonly number[];
}

/** A press on its way into the log. */
export interface WaitingPress extends Press {
  readonly id: number;
  readonly sheet: string;
}

export interface ShootForm {
  /** The ruler's division, as typed: "1/32", "1". Empty is the usual one. */
  readonly ruler: string;
  /** A bend to get by, as typed; empty for none. */
  readonly target: string;
  /** The gap that is really set, as typed, in place of the proposed one; empty takes the proposed one. */
  readonly gap: string;
  /** What changed since the last row, as typed, by heading. */
  readonly changed: Readonly<Record<string, string>>;
  /** The session that was named on a day (serial), when it was asked whether this is a new one. */
  readonly evening?: { readonly day: number; readonly session: string };
  /** The latest presses, oldest first. */
  readonly pressed: readonly Pressed[];
  /** Presses that are not in the log yet, oldest first: a page that dies then must not lose them. */
  readonly waiting: readonly WaitingPress[];
}

export const NEW_SHOOT: ShootForm = { ruler: "", target: "", gap: "", changed: {}, pressed: [], waiting: [] };

/** Presses that can be taken back. */
export const LATEST = 10;

/** Reads a kept form; what is missing or of the wrong kind is as in a new one. */
export function parseShoot(raw: unknown): ShootForm {
  const kept = asRecord(raw);
  const text = (value: unknown) => (typeof value === "string" ? value : "");
  const { day, session } = asRecord(kept.evening);
  return {
    ruler: text(kept.ruler),
    target: text(kept.target),
    gap: text(kept.gap),
    changed: textsOf(kept.changed),
    ...(typeof day === "number" && typeof session === "string" && { evening: { day, session } }),
    pressed: (Array.isArray(kept.pressed) ? kept.pressed : []).flatMap(pressedOf).slice(-LATEST),
    waiting: (Array.isArray(kept.waiting) ? kept.waiting : []).flatMap(waitingOf),
  };
}

function textsOf(raw: unknown): Record<string, string> {
  return Object.fromEntries(
    Object.entries(asRecord(raw)).flatMap(([name, value]) => (typeof value === "string" ? [[name, value]] : [])),
  );
}

function waitingOf(raw: unknown): WaitingPress[] {
  const { id, sheet, outcome: word, gap, session, today, changed } = asRecord(raw);
  const outcome = OUTCOMES.find((one) => one === word);
  if (typeof id !== "number" || typeof sheet !== "string" || typeof gap !== "number" || !outcome) return [];
  if (typeof session !== "string" || typeof today !== "number") return [];
  return [{ id, sheet, outcome, gap, session, today, changed: textsOf(changed) }];
}

function pressedOf(raw: unknown): Pressed[] {
  const { sheet, row, cells, beside } = asRecord(raw);
  if (typeof sheet !== "string" || !Number.isInteger(row) || !Array.isArray(cells)) return [];
  const read = cells.flatMap((cell: unknown): Pressed["cells"] => {
    const [column, value] = Array.isArray(cell) ? (cell as unknown[]) : [];
    return typeof column === "number" && (typeof value === "number" || typeof value === "string")
      ? [[column, value]]
      : [];
  });
  const before = (Array.isArray(beside) ? beside : []).filter((column): column is number => Number.isInteger(column));
  return [{ sheet, row: row as number, cells: read, beside: before }];
}
