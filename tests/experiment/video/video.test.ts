/** A filmed shot without a page: frame times, the row in a log's own units, what is kept. */
import { describe, expect, it } from "vitest";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import type { TrackedShot } from "../../../src/experiment/track/trackedShot";
import { frameSentences, frameTimes } from "../../../src/experiment/video/frameTimes";
import { checkSentence } from "../../../src/experiment/video/checkWords";
import { filmedShot } from "../../../src/experiment/video/filmedShot";
import { clockSentence } from "../../../src/experiment/video/filmTime";
import {
  bankedFrom,
  FIRST_VIDEO,
  parseVideo,
  videoOfSetup,
  withPoint,
  type VideoForm,
} from "../../../src/experiment/video/videoForm";
import { videoByline, videoReasons } from "../../../src/experiment/video/videoWords";
import { DEFAULT_SETUP } from "../../../src/experiment/setup/setup";
import { filmRow, headingsOnly, filmedCells } from "../../../src/experiment/video/videoRow";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { toText, joinTexts } from "../../../src/experiment/language/said";

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
  cornersPart: 0.01,
  afterwards: 0,
  path: [],
};
const FORM = { ...FIRST_VIDEO, film: { name: "tuesday.webm", size: 9 } };

describe("frame times", () => {
  it("tells a steady film's rate and that nothing is missing", () => {
    const times = Array.from({ length: 30 }, (_, i) => Math.round((1000 * i) / 60) / 1000);
    const found = frameTimes(times)!;
    // Times are rounded to a millisecond, 16 or 17 of them a step, and the rate is not.
    expect(found.rate).toBeCloseTo(60, 0);
    expect([found.varies, found.gaps.length]).toEqual([false, 0]);
    expect(toText(joinTexts(frameSentences(found, true), " "))).toMatch(
      /30 frames, the whole film, .*No frame is missing/,
    );
  });
  it("tells rates that vary from frames that are missing", () => {
    const varied = frameTimes([0, 0.03, 0.07, 0.1, 0.14, 0.17])!;
    expect([varied.varies, varied.gaps.length]).toEqual([true, 0]);
    const broken = frameTimes([0, 0.033, 0.067, 0.1, 0.5, 0.533])!;
    expect([broken.varies, broken.gaps]).toEqual([false, [{ from: 0.1, to: 0.5 }]]);
    expect(toText(joinTexts(frameSentences(broken, false), " "))).toContain("the first at 0.10 s");
    expect(frameTimes([0, 1])).toBeUndefined();
  });
});

/** A film of a straight bank at 60 frames a second, seen square from above, ten pixels to the inch. */
const filmOf = (part: Partial<VideoForm>, stretch = 1): VideoForm => ({
  ...FORM,
  corners: [
    { x: 0, y: 0 },
    { x: 1000, y: 0 },
    { x: 1000, y: 500 },
    { x: 0, y: 500 },
  ],
  points: Array.from({ length: 40 }, (_, i) => {
    const since = (i - 10) / 60;
    const y = 11.25 + 700 * Math.abs(since);
    return { time: 0.5 + (stretch * i) / 60, x: 400 + 300 * since - 120 * Math.max(0, since) ** 2, y };
  }),
  ...part,
});

describe("a film's clock", () => {
  it("is the ball's own where nobody states a rate, and stretched where the file plays slower than it was filmed", () => {
    const plain = filmedShot(filmOf({}), 0.95).shot!;
    expect(plain.speedAfterCushion).toBeCloseTo(Math.hypot(30, 70), 1);
    expect(plain.bend).toBeGreaterThan(0.2);
    // Filmed at 60, played at 7.5: every step is eight times as long.
    for (const seenRate of [7.5, 0]) {
      const { bend, speedAfterCushion, contactTime } = filmedShot(filmOf({ filmedAt: 60, seenRate }, 8), 0.95).shot!;
      expect(speedAfterCushion).toBeCloseTo(plain.speedAfterCushion, 3);
      expect(bend).toBeCloseTo(plain.bend, 4);
      // The contact is told by the film's own clock, so that it can be found there.
      expect(contactTime).toBeCloseTo(0.5 + (8 * 10) / 60, 3);
    }
    expect(filmedShot(filmOf({}, 8), 0.95).shot!.speedAfterCushion).toBeCloseTo(plain.speedAfterCushion / 8, 3);
    // Marked by hand in every other frame: the film's own steps tell its rate.
    const every = filmOf({ filmedAt: 60, seenRate: 30 }, 2);
    const some = { ...every, points: every.points.filter((_, i) => i % 2 === 0) };
    expect(filmedShot(some, 0.95).shot!.speedAfterCushion).toBeCloseTo(plain.speedAfterCushion, 3);
  });
  it("is said, a wrong rate of the file as well", () => {
    expect(toText(clockSentence(filmOf({})))).toMatch(/^Times are the file's own\./);
    expect(toText(clockSentence(filmOf({ filmedAt: 240, seenRate: 30 })))).toMatch(
      /240 frames a second.* 8 times slower/,
    );
    expect(toText(clockSentence(filmOf({ filmedAt: 60, seenRate: 59.94 })))).toMatch(
      /agree with the rate that is stated/,
    );
    expect(toText(clockSentence(filmOf({ filmedAt: 25, seenRate: 50 })))).toMatch(/plays 2 times faster/);
  });
});

describe("the sizes", () => {
  it("are the set-up's, whichever rail is banked", () => {
    const setup = { ...DEFAULT_SETUP, length: { low: 2, value: 2, high: 2 }, breadth: { low: 1, value: 1, high: 1 } };
    expect(videoOfSetup(FORM, setup)).toMatchObject({ railLength: 2, tableWidth: 1, units: "us" });
    expect(videoOfSetup(bankedFrom("short", FORM), setup)).toMatchObject({ railLength: 1, tableWidth: 2 });
  });
  it("are held against a check length, in the units that are shown", () => {
    const check = [
      { x: 100, y: 250 },
      { x: 350, y: 250 },
    ];
    const form = filmOf({ check });
    const { checked } = filmedShot(form, 0.95);
    expect(checked! / 0.0254).toBeCloseTo(25, 9);
    expect(toText(checkSentence({ ...form, checkLength: 24 * 0.0254 }, checked))).toMatch(
      /^The check length of 24 in reads 25 in: there the map is off by 4\.2 %\. That is much/,
    );
    expect(toText(checkSentence({ ...form, units: "si" }, undefined))).toMatch(/^Nothing checks the map yet/);
  });
});

describe("the corners", () => {
  it("are in the interval as far as they may be off, and that is said", () => {
    const [exact, clicked] = [0, 3].map((cornerError) => filmedShot(filmOf({ cornerError }), 0.95).shot!);
    expect(exact.cornersPart).toBe(0);
    expect(clicked.standardError).toBeCloseTo(Math.hypot(exact.standardError, clicked.cornersPart), 3);
    expect(clicked.bend).toBeCloseTo(exact.bend, 3);
    expect(toText(joinTexts(videoReasons(clicked, filmOf({ cornerError: 3 })), " "))).toMatch(
      /marked within 3 pixels each way/,
    );
    expect(toText(joinTexts(videoReasons(exact, filmOf({ cornerError: 0 })), " "))).toMatch(/taken as exact/);
  });
  it("follow the confidence that is asked for", () => {
    const [usual, sure] = [0.95, 0.99].map((confidence) => filmedShot(filmOf({}), confidence).shot!);
    expect(sure.high - sure.low).toBeGreaterThan(usual.high - usual.low);
    expect(toText(videoByline(sure, FORM, 0.99))).toMatch(/^99 % interval/);
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
