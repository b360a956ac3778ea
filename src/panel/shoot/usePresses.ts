/**
 * Presses on their way into the log, one after the other, each in the sheet as it is at that moment; and taking the
 * last one back. What could not be written waits, and nothing is dropped.
 */
import { useCallback, useEffect, useRef, useState } from "react";
import { LATEST, type Pressed, type ShootForm } from "../../experiment/shoot/shootForm";
import { shootLog, type ShootLog } from "../../experiment/shoot/shootLog";
import { pressCells, type Press } from "../../experiment/shoot/shootRow";
import { areasOf, filledBefore, staysBecause } from "../../experiment/shoot/takeBack";
import type { TrialLog } from "../../experiment/log/trialLog";
import { cellAddress } from "../../workbook/address";
import type { Port, SheetData } from "../../workbook/port";
import { messageOf } from "../frame/messageOf";

/** A press that is not in the log yet, or that the log as shown does not have yet. */
export interface Waiting extends Press {
  readonly id: number;
  /** Sheet row, once it is written. */
  readonly row?: number;
}

export interface Presses {
  readonly waiting: readonly Waiting[];
  /** Why the presses that wait are not written. */
  readonly stopped: string | undefined;
  /** What was done or not done last, in a sentence. */
  readonly said: string | undefined;
  press(press: Press): void;
  /** Tries those that wait again. */
  again(): void;
  /** Lets those that wait go. */
  drop(): void;
  takeBack(): void;
  /** Puts a bend that was seen into the row of the last attempt. */
  measure(bend: number): void;
}

/** Presses closer together than this may be one that was meant once, in ms. */
const TWICE = 1000;

interface Asked {
  readonly port: Port;
  readonly sheet: string;
  readonly form: ShootForm;
  readLog(data: SheetData): TrialLog | undefined;
  onForm(change: (before: ShootForm) => Partial<ShootForm>): void;
}

export function usePresses(asked: Asked, rowsShown: readonly number[]): Presses {
  const latest = useRef(asked);
  latest.current = asked;
  const queue = useRef<Waiting[]>([]);
  const running = useRef<Promise<void>>();
  const count = useRef(0);
  const lastAt = useRef(-Infinity);
  const [waiting, setWaiting] = useState<readonly Waiting[]>([]);
  const [stopped, setStopped] = useState<string>();
  const [said, setSaid] = useState<string>();

  // What the log shows by now waits no more.
  useEffect(() => {
    const shown = new Set(rowsShown);
    setWaiting((before) =>
      before.some(({ row }) => row !== undefined && shown.has(row))
        ? before.filter(({ row }) => row === undefined || !shown.has(row))
        : before,
    );
  }, [rowsShown]);

  const run = useCallback(() => {
    running.current ??= writeAll(
      latest,
      queue.current,
      ({ id }, row) => setWaiting((before) => before.map((one) => (one.id === id ? { ...one, row } : one))),
      setStopped,
    ).finally(() => {
      running.current = undefined;
    });
  }, []);

  const press = useCallback(
    (wanted: Press) => {
      const one: Waiting = { ...wanted, id: ++count.current };
      queue.current.push(one);
      setWaiting((before) => [...before, one]);
      const twice = performance.now() - lastAt.current < TWICE;
      lastAt.current = performance.now();
      setSaid(twice ? "Two presses within a second are two attempts. Was it one? Take back the last." : undefined);
      run();
    },
    [run],
  );

  /** Does something with the log as it is now, after what is being written. */
  const withLog = useCallback(async (act: (shoot: ShootLog) => Promise<string>) => {
    await running.current;
    try {
      setSaid(await act(await fresh(latest.current)));
    } catch (problem) {
      setSaid(messageOf(problem));
    }
  }, []);

  const takeBack = useCallback(() => {
    void withLog(async (shoot) => {
      const { port, onForm, form } = latest.current;
      const unwritten = queue.current.pop();
      if (unwritten) {
        setWaiting((before) => before.filter(({ id }) => id !== unwritten.id));
        if (queue.current.length === 0) setStopped(undefined);
        return "Taken back: the press that was not written yet.";
      }
      const pressed = form.pressed.at(-1);
      if (!pressed) throw new Error("No press is remembered that could be taken back: clear the row in the sheet.");
      onForm((before) => ({ pressed: before.pressed.filter((one) => one !== pressed) }));
      const reason = staysBecause(shoot, pressed);
      if (reason !== undefined) throw new Error(reason);
      for (const area of areasOf(pressed)) await port.clearCells(pressed.sheet, area);
      setWaiting((before) => before.filter(({ row }) => row !== pressed.row));
      return `Taken back: row ${pressed.row + 1}.`;
    });
  }, [withLog]);

  const measure = useCallback(
    (bend: number) =>
      void withLog(async (shoot) => {
        const { port, onForm } = latest.current;
        const { measured } = shoot.places;
        const row = shoot.log.rows[shoot.shot.at(-1) ?? NaN];
        if (!measured || row === undefined) throw new Error("There is no attempt yet that it could belong to.");
        const done = await port.fillRow({
          sheet: shoot.log.sheet,
          row,
          cells: [{ column: measured.column, value: bend }],
        });
        if ("filled" in done)
          throw new Error(`${cellAddress(row, measured.column)} holds something already: mend it in the sheet.`);
        onForm(({ pressed }) => ({
          pressed: pressed.map((one) =>
            one.row === row && one.sheet === shoot.log.sheet
              ? { ...one, cells: [...one.cells, [measured.column, bend] as const] }
              : one,
          ),
        }));
        return `The bend stands in ${cellAddress(row, measured.column)}, the row of the last attempt.`;
      }),
    [withLog],
  );

  const drop = useCallback(() => {
    queue.current.length = 0;
    setWaiting((before) => before.filter(({ row }) => row !== undefined));
    setStopped(undefined);
  }, []);
  return { waiting, stopped, said, press, again: run, drop, takeBack, measure };
}

/** Writes what waits, in order, until there is nothing or one cannot be written. */
async function writeAll(
  asked: { readonly current: Asked },
  queue: Waiting[],
  onWritten: (one: Waiting, row: number) => void,
  onStopped: (why: string | undefined) => void,
): Promise<void> {
  onStopped(undefined);
  try {
    for (let next = queue[0]; next; next = queue[0]) {
      const { changed: meant } = next;
      const written = await write(asked.current, next);
      queue.shift();
      onWritten(next, written.row);
      // What was changed for it stands in its row now; what was typed since is for the next.
      asked.current.onForm(({ pressed, changed }) => ({
        pressed: [...pressed, written].slice(-LATEST),
        changed: Object.fromEntries(Object.entries(changed).filter(([name, text]) => meant[name] !== text)),
      }));
    }
  } catch (problem) {
    onStopped(messageOf(problem));
  }
}

/** The log as it stands in the sheet now. */
async function fresh({ port, sheet, readLog }: Asked): Promise<ShootLog> {
  const data = await port.read(sheet);
  const log = readLog(data);
  const shoot = log && shootLog(log, data);
  if (!shoot) throw new Error(`The sheet "${sheet}" holds no log of attempts now.`);
  if ("problem" in shoot) throw new Error(shoot.problem);
  return shoot;
}

async function write(asked: Asked, press: Waiting): Promise<Pressed> {
  const shoot = await fresh(asked);
  const cells = pressCells(shoot, press);
  if ("problem" in cells) throw new Error(cells.problem);
  const { sheet } = shoot.log;
  const { row } = shoot.open;
  const beside = filledBefore(shoot);
  const done = await asked.port.fillRow({ sheet, row, cells });
  if ("filled" in done)
    throw new Error(
      `${cellAddress(row, done.filled)} holds something already, perhaps a formula: an attempt overwrites nothing. Clear it, then try again.`,
    );
  const written = new Set(done.written);
  return {
    sheet,
    row,
    cells: cells.flatMap(({ column, value }) =>
      written.has(column) && (typeof value === "number" || typeof value === "string") ? [[column, value] as const] : [],
    ),
    beside,
  };
}
