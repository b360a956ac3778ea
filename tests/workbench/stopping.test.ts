import { expect, it } from "vitest";
import { last } from "../../src/workbook/turns";
import { orStopped, stepsUntil } from "../../src/workbench/stopping";

const given = new Error("given up");

it("waiting ends at once with the reason, whatever comes of the work", async () => {
  const stop = new AbortController();
  const endless = orStopped(new Promise(() => {}), stop.signal);
  stop.abort(given);
  await expect(endless).rejects.toBe(given);
  await expect(orStopped(Promise.resolve(1), stop.signal)).rejects.toBe(given);
  await expect(orStopped(Promise.resolve(1), new AbortController().signal)).resolves.toBe(1);
  await expect(orStopped(Promise.reject(given), undefined)).rejects.toBe(given);
});

it("no step is taken after that", () => {
  const stop = new AbortController();
  const taken: number[] = [];
  const steps = (function* () {
    for (let i = 0; i < 3; i++) {
      taken.push(i);
      yield;
    }
    return "whole";
  })();
  const watched = stepsUntil(steps, stop.signal);
  watched.next();
  stop.abort(given);
  expect(() => watched.next()).toThrow(given);
  expect(taken).toEqual([0]);
  expect(
    last(
      stepsUntil(
        (function* () {
          yield;
          return "whole";
        })(),
        undefined,
      ),
    ),
  ).toBe("whole");
});
