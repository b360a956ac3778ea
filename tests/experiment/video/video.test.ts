/** A filmed shot without a page: frame times, the row in a log's own units, what is kept. */
import { describe, expect, it } from "vitest";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import type { TrackedShot } from "../../../src/experiment/track/trackedShot";
import { frameSentences, frameTimes } from "../../../src/experiment/video/frameTimes";
import { FIRST_VIDEO, parseVideo, withPoint } from "../../../src/experiment/video/videoForm";
import { filmRow, headingsOnly, filmedCells } from "../../../src/experiment/video/videoRow";
import { sheetOf } from "../../../scripts/evidence/sheetOf";

const SHOT: TrackedShot = {
  bend: 0.5,
  standardError: 0.02,
  low: 0.46,
  high: 0.54,
  departureAngle: 25,
  arrivalAngle: 22,
  speedAfterCushion: 88,
  cushionAt: 40,
  contactTime: 1.25,
  pointsUsed: 60,
  leftOut: [],
  scatter: 0.3,
  afterwards: 0,
  path: [],
};
const FORM = { ...FIRST_VIDEO, film: { name: "tuesday.webm", size: 9 } };

describe("frame times", () => {
  it("tells a steady film's rate and that nothing is missing", () => {
    const times = Array.from({ length: 30 }, (_, i) => Math.round((1000 * i) / 60) / 1000);
    const found = frameTimes(times)!;
    expect(found.rate).toBeCloseTo(60, -1);
    expect([found.varies, found.gaps.length]).toEqual([false, 0]);
    expect(frameSentences(found, true).join(" ")).toMatch(/30 frames, the whole film, .*No frame is missing/);
  });
  it("tells rates that vary from frames that are missing", () => {
    const varied = frameTimes([0, 0.03, 0.07, 0.1, 0.14, 0.17])!;
    expect([varied.varies, varied.gaps.length]).toEqual([true, 0]);
    const broken = frameTimes([0, 0.033, 0.067, 0.1, 0.5, 0.533])!;
    expect([broken.varies, broken.gaps]).toEqual([false, [{ from: 0.1, to: 0.5 }]]);
    expect(frameSentences(broken, false).join(" ")).toContain("the first at 0.10 s");
    expect(frameTimes([0, 1])).toBeUndefined();
  });
});

describe("the row", () => {
  it("goes under a log's own headings in its own units", () => {
    const [log] = findTrialLogs(
      sheetOf([
        ["Trial", "Set bend (in)", "Bend (mm)", "Speed (m/s)", "Film", "Recording unbroken", "Remarks"],
        [1, 0.4, 9.1, 2.2, "monday.webm", "yes", ""],
      ]),
    );
    const { cells, left } = filmedCells(log, { shot: SHOT, form: FORM, unbroken: true })!;
    expect(cells.map(({ column, value }) => [column, value])).toEqual([
      [2, 12.7],
      [3, 2.2352],
      [4, "tuesday.webm"],
      [5, "yes"],
      [6, "tuesday.webm, contact at 1.250 s"],
    ]);
    expect(left).toBe("standard uncertainty");
    expect(cells.filter(({ optional }) => !optional).map(({ column }) => column)).toEqual([2]);
  });
  it("leaves a log without a column of measured bends alone, and says nothing that is not known", () => {
    const [log] = findTrialLogs(
      sheetOf([
        ["Set bend (in)", "Gap (in)"],
        [0.4, 0.3],
      ]),
    );
    expect(filmedCells(log, { shot: SHOT, form: FORM, unbroken: undefined })).toBeUndefined();
    const row = filmRow({ shot: SHOT, form: { ...FORM, units: "si" }, unbroken: undefined });
    expect(Object.fromEntries(row.headings.map((heading, i) => [heading, row.cells[i].value]))).toEqual({
      Film: "tuesday.webm",
      "Contact in the film (s)": 1.25,
      "Bend (mm)": 12.7,
      "Standard uncertainty (mm)": 0.508,
      "Speed after the cushion (m/s)": 2.2352,
      "One unbroken recording": null,
      "Both views": null,
    });
  });
  it("reads the headings of a sheet that has no rows yet", () => {
    const [log] = headingsOnly(sheetOf([["Claim", "Bend (in)", "Both views"]]));
    expect(log.rows).toEqual([]);
    const { cells } = filmedCells(log, { shot: SHOT, form: { ...FORM, bothViews: "no" }, unbroken: undefined })!;
    expect(cells.map(({ column, value }) => [column, value])).toEqual([
      [1, 0.5],
      [2, "no"],
    ]);
    expect(headingsOnly(sheetOf([["Claim"], ["one"]]))).toEqual([]);
  });
});

describe("what is kept", () => {
  it("comes back whole, and whatever is not of its kind is the usual", () => {
    const form = withPoint({ ...FORM, corners: [{ x: 1, y: 2 }] }, { time: 0.1, x: 3, y: 4 });
    expect(parseVideo(JSON.parse(JSON.stringify(form)))).toEqual(form);
    expect(parseVideo({ units: "si", railLength: -1, corners: [{ x: "a" }], points: 7, bothViews: "maybe" })).toEqual({
      ...FIRST_VIDEO,
      units: "si",
    });
  });
  it("has one place of the ball a frame", () => {
    const twice = withPoint(withPoint(FORM, { time: 0.1, x: 3, y: 4 }), { time: 0.10001, x: 5, y: 6 });
    expect(twice.points).toEqual([{ time: 0.10001, x: 5, y: 6 }]);
  });
});
