/** Jobs where there are no workers (as in this test's page): in pieces, with progress, and they can be stopped. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../scripts/samples/random";
import { calibrate, type CalibrationQuestion } from "../../src/experiment/calibrate/calibration";
import { bankAtCushion } from "../../src/experiment/shot/computedShot";
import { conditionsOf, DEFAULT_SHOT } from "../../src/experiment/shot/shotSettings";
import type { JobName, JobInput } from "../../src/panel/worker/jobs";
import type { JobMessage } from "../../src/panel/worker/messages";
import { startJob } from "../../src/panel/worker/startJob";

const { normal } = seededRandom(2);
const shots = [1.4, 1.8, 2.2]
  .flatMap((speed) =>
    [0.2, 0.5].flatMap((angle) => [0.2, 1].map((roll) => ({ speed, angle, roll, side: 0.1, across: 1 }))),
  )
  .map((shot, i) => ({
    ...shot,
    session: `S${i % 3}`,
    bend:
      bankAtCushion(shot, conditionsOf({ slipFriction: 0.22, noseFriction: 0.15, restitution: 0.9 })).path!.bend +
      0.0003 * normal(),
  }));
const question: CalibrationQuestion = {
  shots,
  signed: true,
  constants: DEFAULT_SHOT.constants,
};

/** All reports until the end. */
const reports = (asked: CalibrationQuestion) =>
  new Promise<JobMessage<"calibration">[]>((resolve) => {
    const all: JobMessage<"calibration">[] = [];
    startJob("calibration", asked, (report) => {
      all.push(report);
      if (report.kind !== "progress") resolve(all);
    });
  });

describe("a job", () => {
  it("tells its progress and then the same answer as at once", async () => {
    const all = await reports(question);
    const last = all.at(-1)!;
    expect(last.kind === "answer" && last.answer.fit).toEqual(calibrate(question));
    expect(last.kind === "answer" && last.answer.errors?.sessions).toBe(3);
    const shares = all.flatMap((report) => (report.kind === "progress" ? [report.share] : []));
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    // Question and answer can cross to a worker.
    expect(structuredClone(last)).toEqual(last);
    expect(structuredClone(question)).toEqual(question);
  });

  it("tells why it failed", async () => {
    expect(await reports({ ...question, shots: shots.slice(0, 2) })).toEqual([
      { kind: "failure", message: "2 shots cannot determine 3 constants" },
    ]);
  });

  it("tells nothing once it is stopped", async () => {
    const told: string[] = [];
    const stop = startJob("calibration", question, ({ kind }) => told.push(kind));
    stop();
    await reports(question);
    expect(told).toEqual([]);
  });
});

describe("drawing anew as a job", () => {
  const x = Array.from({ length: 40 }, (_, i) => i % 8);
  const asked = {
    response: x.map((at, i) => at + Math.sin(7 * i)),
    drivers: [{ kind: "number" as const, name: "Speed (mph)", values: x, degree: 1 }],
  };
  const by = { name: "Session", groups: x.map((_, i) => i % 5), levels: ["a", "b", "c", "d", "e"] };
  const ended = <Name extends JobName>(job: Name, order: JobInput<Name>) =>
    new Promise<JobMessage<Name>>((resolve) =>
      startJob(job, order, (report) => report.kind !== "progress" && resolve(report)),
    );

  it("gives the answer that the same seed gives at once, from data that can cross to a worker", async () => {
    const order = { question: { ...asked, errors: { kind: "cluster" as const, by } }, draws: 300, seed: 4, by };
    expect(structuredClone(order)).toEqual(order);
    const report = await ended("bootstrap", order);
    expect(report).toMatchObject({ kind: "answer", answer: { draws: 300 } });
    expect(await ended("bootstrap", structuredClone(order))).toEqual(report);
    expect(await ended("permutation", { question: asked, driver: 0, draws: 199, seed: 4 })).toMatchObject({
      kind: "answer",
      answer: { draws: 199, p: 1 / 200 },
    });
    expect(await ended("envelope", { question: asked, seed: 4, draws: 199 })).toMatchObject({
      kind: "answer",
      answer: { rows: 40, draws: 199 },
    });
  });

  it("says why a driver cannot be tested", async () => {
    const still = { ...asked, drivers: [{ ...asked.drivers[0], values: by.groups }] };
    expect(await ended("permutation", { question: still, driver: 0, draws: 9, seed: 1, within: by })).toMatchObject({
      kind: "failure",
      message: expect.stringContaining('"Speed (mph)" never changes within one Session'),
    });
  });
});
