/** Jobs where there are no workers (as in this test's page): in pieces, with progress, and they can be stopped. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../scripts/samples/random";
import { calibrate, type CalibrationQuestion } from "../../src/experiment/calibration";
import { bankAtCushion } from "../../src/experiment/computedShot";
import { conditionsOf, DEFAULT_SHOT } from "../../src/experiment/shotSettings";
import type { Report } from "../../src/panel/worker/messages";
import { startJob } from "../../src/panel/worker/startJob";

const { normal } = seededRandom(2);
const shots = [1.4, 1.8, 2.2].flatMap((speed) =>
  [0.2, 0.5].flatMap((angle) => [0.2, 1].map((roll) => ({ speed, angle, roll, side: 0.1, across: 1 }))),
).map((shot, i) => ({ ...shot, session: `S${i % 3}`, bend: bankAtCushion(shot, conditionsOf({ slipFriction: 0.22, noseFriction: 0.15, restitution: 0.9 }, "nose and bed")).path!.bend + 0.0003 * normal() }));
const question: CalibrationQuestion = { shots, signed: true, constants: DEFAULT_SHOT.constants, cushionModel: "nose and bed" };

/** All reports until the end. */
const reports = (asked: CalibrationQuestion) =>
  new Promise<Report<"calibration">[]>((resolve) => {
    const all: Report<"calibration">[] = [];
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
    expect(await reports({ ...question, shots: shots.slice(0, 2) })).toEqual([{ kind: "failure", message: "2 shots cannot determine 3 constants" }]);
  });

  it("tells nothing once it is stopped", async () => {
    const told: string[] = [];
    const stop = startJob("calibration", question, ({ kind }) => told.push(kind));
    stop();
    await reports(question);
    expect(told).toEqual([]);
  });
});
