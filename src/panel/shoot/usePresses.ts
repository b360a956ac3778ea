/** Presses into the log, taking the last one back, and a bend that was seen. */
import { useCallback, useRef, useState } from "react";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import type { Press } from "../../experiment/shoot/shootRow";
import { messageOf } from "../frame/messageOf";
import { useWaiting, type ShownPress } from "./useWaiting";
import { clearLast, fillBend, fresh, type PressPlace } from "./writePress";

export interface Presses {
  readonly waiting: readonly ShownPress[];
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

export function usePresses(asked: PressPlace, rowsShown: readonly number[]): Presses {
  const latest = useRef(asked);
  latest.current = asked;
  const lastAt = useRef(-Infinity);
  const [said, setSaid] = useState<string>();
  const { waiting, stopped, running, add, again, drop, forget } = useWaiting(latest, rowsShown);

  const press = useCallback(
    (wanted: Press) => {
      add(wanted);
      const twice = performance.now() - lastAt.current < TWICE;
      lastAt.current = performance.now();
      setSaid(twice ? "Two presses within a second are two attempts. Was it one? Take back the last." : undefined);
    },
    [add],
  );

  /** Does something with the log as it is now, after what is being written. */
  const withLog = useCallback(
    async (act: (shoot: ShootLog) => Promise<string>) => {
      await running.current;
      try {
        setSaid(await act(await fresh(latest.current)));
      } catch (problem) {
        setSaid(messageOf(problem));
      }
    },
    [running],
  );

  const takeBack = useCallback(() => {
    void withLog(async (shoot) => {
      if (drop(1) > 0) return "Taken back: the press that was not written yet.";
      const row = await clearLast(latest.current, shoot);
      forget(row);
      return `Taken back: row ${row + 1}.`;
    });
  }, [withLog, drop, forget]);

  const measure = useCallback(
    (bend: number) =>
      void withLog(
        async (shoot) =>
          `The bend stands in ${await fillBend(latest.current, shoot, bend)}, the row of the last attempt.`,
      ),
    [withLog],
  );

  const dropAll = useCallback(() => void drop(Infinity), [drop]);
  return { waiting, stopped, said, press, again, drop: dropAll, takeBack, measure };
}
