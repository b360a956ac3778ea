/** Places of a shot's drawing that are moved: each moves as far as it says, and what it stands on with it. */
import { describe, expect, it } from "vitest";
import { computeShot } from "../../src/experiment/shot/computedShot";
import { shotLayout } from "../../src/experiment/shot/shotLayout";
import {
  conditionsOfShot,
  DEFAULT_SHOT,
  type SettingName,
  type ShotSettings,
} from "../../src/experiment/shot/shotSettings";
import { shotHandles } from "../../src/panel/shot/shotHandles";

const DEGREE = Math.PI / 180;

function shown(shot: ShotSettings, setOne: (name: SettingName, value: number) => void = () => undefined) {
  const conditions = conditionsOfShot(shot);
  return { shot, conditions, layout: shotLayout(shot, computeShot(shot, conditions), conditions), setOne };
}

const SHORT = { ...DEFAULT_SHOT, angle: 40 * DEGREE, roll: -0.2, side: -0.28, speed: 3 };

/** The layout after a handle was moved by so much of its own value. */
function moved(shot: ShotSettings, name: string, by: number) {
  let next = shot;
  const handles = shotHandles(shown(shot, (setting, value) => (next = { ...next, [setting]: value })));
  const handle = handles.find((one) => one.name === name)!;
  handle.onChange(handle.value + by);
  return { handle, before: shown(shot).layout, after: shown(next).layout };
}

describe("the handles of a shot", () => {
  it("are contact, arrival, both gates and the obstacle, whichever way it bends", () => {
    const names = (shot: ShotSettings) => shotHandles(shown(shot)).map(({ name }) => name);
    expect(shown(SHORT).layout.marked!.arrangement).toBe("near");
    expect(names(SHORT)).toEqual([
      "Contact with the rail",
      "Arrival; turns the shot",
      "Gate at the cushion, by its room",
      "Gate at the pocket; turns the shot",
      "Obstacle, by its gap",
    ]);
    expect(names(DEFAULT_SHOT)[2]).toBe("Gate at the cushion, with the contact");
  });

  it.each([
    [SHORT, "Gate at the cushion, by its room", 0, 0.004],
    [DEFAULT_SHOT, "Gate at the cushion, with the contact", 0, 0.05],
    [SHORT, "Gate at the pocket; turns the shot", 1, 0.02],
  ] as const)("move the gate that they stand on: %#", (shot, name, which, by) => {
    const { handle, before, after } = moved(shot, name, by);
    expect(handle.place).toEqual(before.marked!.gates[which]);
    const way = after.marked!.gates[which].x - before.marked!.gates[which].x;
    // A gate that turns the shot turns a little itself.
    expect(way / (by * handle.along.x)).toBeGreaterThan(0.8);
    expect(way / (by * handle.along.x)).toBeLessThan(1.25);
  });
});
