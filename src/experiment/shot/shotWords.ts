/**
 * What the Shot view says in words: warnings, the bend, what it clears, and which change does most. Panel and sheet
 * share it.
 */
import { say, joinTexts, listOf, capital, type Said } from "../language/said";
import type { BallState } from "../../bank/ball";
import type { Conditions } from "../../bank/conditions";
import type { BankWarning } from "../../bank/shot";
import { mouthRoom } from "../../bank/tableShape";
import { MISCUE_LIMIT, speedOfStroke } from "../../bank/stroke";
import { cuePart, motionAtCushion, offTable, type ComputedShot } from "./computedShot";
import { findingSentence } from "./findingWords";
import { shotFindings } from "./shotClearance";
import { beyondShooting } from "./shootable";
import type { ShotLayout } from "./shotLayout";
import {
  changeOf,
  MOST_AT_START,
  OTHERS,
  SETTING_KINDS,
  UNCERTAIN,
  unitOf,
  type BendSetting,
  type ShotSettings,
} from "./shotSettings";
import type { BendRange, Sensitivity } from "./shotSweep";
import { SETUP_ITEMS } from "../setup/setup";
import { shownItem } from "../setup/setupWords";
import { fixed, significant, withUnit } from "../language/wording";

/** Stands in the Shot view at all times. */
export const SHOT_CAUTION =
  "A hard bank can leave the table. Nobody's face goes on the shot line at bed height while a ball is moving; whoever sights the line wears eye protection; nobody stands behind the pocket.";

const WARNINGS: Readonly<Record<BankWarning, string>> = {
  "fast for the nose":
    "Square to the rail the ball is faster than 2.5 m/s (5.6 mph). The published rigid nose holds only up to there, so take the numbers as a direction, no more.",
  airborne:
    "The ball likely leaves the bed at the cushion. The path is computed as if it had not; the real ball may hop the rail.",
  "double contact": "The ball comes back to the cushion before it reaches the line.",
  "falls short": "The ball stops before it reaches the line.",
};

const NOBODY = {
  spot: `Nobody can shoot this: a struck object ball leaves its spot with at most ${MOST_AT_START} of roll and side together, which is all that friction of ball on ball (0.08 at most) can give.`,
  cushion: `Nobody can shoot this: an object ball leaves its spot with at most ${MOST_AT_START} of roll and side together, and no way to this place on this table turns that into such a motion at the cushion.`,
} as const;

/** Everything that makes the shot doubtful, in sentences. */
export function shotWarnings(
  shot: ShotSettings,
  computed: ComputedShot,
  layout: ShotLayout,
  conditions: Conditions,
): Said[] {
  const { bank, hit } = computed;
  const said: Said[] = [];
  const tip = Math.hypot(shot.tipUp, shot.tipRight);
  if (shot.origin === "stroke" && tip > MISCUE_LIMIT * (1 + 1e-9))
    said.push(
      say`The tip is ${significant(tip, 2)} of the radius off centre; beyond ${MISCUE_LIMIT} of it the tip slips off the ball.`,
    );
  if (offTable(layout.spot, shot, layout.ballRadius) > 1e-9)
    said.push(
      "The object ball's spot is off the table. Shorten the distance from the spot, or move the place on the rail.",
    );
  if (offTable(layout.cueBall, shot, layout.ballRadius) > 1e-9)
    said.push("The cue ball would stand off the table. Shorten its run, or change the cut or the place on the rail.");
  if (shot.origin === "stroke" && !hit) said.push("The cue ball never reaches the object ball.");
  else if (!bank) said.push("The object ball never reaches the cushion.");
  said.push(...(bank?.warnings ?? []).map((warning) => WARNINGS[warning]));
  if (layout.marked && !layout.marked.onTable)
    said.push(
      "The ball meets the side rail before it reaches the line. Move the place on the rail, or shorten the distance across.",
    );
  // Balls off the table are said above, and where it arrives in a sentence of its own.
  const inTheWay = shotFindings(layout).filter(
    ({ kind, what }) => kind !== "pocket" && !/spot|place/.test(what) && !(kind === "rail" && !layout.marked?.onTable),
  );
  said.push(...inTheWay.slice(0, 2).map((one) => findingSentence(one, shot.units)));
  if (beyondShooting(shot, conditions) > 0) said.push(NOBODY[shot.origin === "spot" ? "spot" : "cushion"]);
  return said;
}

/** What happens before the cushion, for a shot that is set from the spot or the stroke. */
export function beforeSentence(shot: ShotSettings, computed: ComputedShot, conditions: Conditions): Said {
  const { units } = shot;
  const radius = conditions.ballDiameter / 2;
  const { hit, leaving } = computed;
  const said: Said[] = [];
  const speedOf = ({ vx, vy }: BallState) => shownSetting(Math.hypot(vx, vy), "speed", units);
  if (hit && leaving) {
    const { stroke } = cuePart(shot, radius);
    const turned = hit.objectAngle - hit.lineAngle;
    const way =
      Math.abs(turned) < 5e-5
        ? "without throw"
        : say`thrown ${shownSetting(Math.abs(turned), "angle", units)} to ${turned > 0 ? "+" : "−"}x of the line of centres`;
    said.push(
      say`The cue ball leaves the tip at ${shownSetting(speedOfStroke(stroke, conditions), "speed", units)} and hits the object ball at ${speedOf(hit.cueBallAtContact)}. The object ball leaves its spot at ${speedOf(leaving)}, ${way}.`,
    );
  }
  const motion = motionAtCushion(computed, conditions);
  if (motion && computed.approach) {
    said.push(
      say`It is at the cushion after ${significant(computed.approach.time, 3)} s with ${shownSetting(motion.speed, "speed", units)}, angle ${shownSetting(motion.angle, "angle", units)}, roll ${significant(motion.roll, 2)}, side ${significant(motion.side, 2)}.`,
    );
  }
  return joinTexts(said, " ");
}

/** Whether its line goes on into the mouth of that pocket, which is the narrower the more aslant it comes. */
function mouthText(shot: ShotSettings, { path, marked, ballRadius }: ShotLayout): Said {
  const [before, end] = path.slice(-2);
  if (!marked || !before || !end) return "";
  const direction = { x: end.x - before.x, y: end.y - before.y };
  const room = mouthRoom(marked.pocket, end, direction, ballRadius);
  return room >= 0
    ? say`Its line goes into the ${marked.pocket.name}, with ${shownSmall(room, shot.units)} to the nearer jaw.`
    : say`Its line does not go into the ${marked.pocket.name}: ${shownSmall(-room, shot.units)} is missing between ball and jaw.`;
}

/** Where it arrives, against the nearest pocket on the rail opposite. */
export function arrivalSentence(shot: ShotSettings, layout: ShotLayout): Said {
  const { marked, table } = layout;
  if (!marked) return "";
  const { units } = shot;
  const off = shownSetting(Math.abs(marked.offPocket), "across", units);
  const beside = say`${off} to the ${marked.offPocket > 0 ? "right" : "left"} of the centre of the nearest pocket on the rail opposite`;
  const before = table.depth - layout.ballRadius - shot.across - layout.ballRadius;
  const where =
    before > 1e-6
      ? say`On the line across, ${shownSetting(before, "across", units)} before the ball would touch that rail`
      : "At the rail opposite";
  const room = mouthText(shot, layout);
  return say`${where}, its centre is ${beside}, as drawn. ${room}`;
}

/** A value in the unit that its quantity is shown in, such as "5 mph" or "−0.25". */
export function shownSetting(value: number, setting: keyof typeof SETTING_KINDS, units: "us" | "si", digits = 3): Said {
  const unit = unitOf(SETTING_KINDS[setting].quantity, units);
  const text = significant(value / unit.size, digits);
  return unit.name === "°" ? say`${text}°` : withUnit(text, unit.name);
}

/** A bend or gap. @example toText(shownSmall(0.0254, "us")) === "1.000 in" */
export function shownSmall(value: number, units: "us" | "si"): Said {
  const unit = unitOf("small", units);
  return withUnit(fixed(value / unit.size, units === "us" ? 3 : 1), unit.name);
}

/** "1.093 in long", with what the constants' ranges make of it. */
export function bendSentence({ bank }: ComputedShot, range: BendRange, units: "us" | "si"): Said {
  if (!bank) return "No bend: the ball never reaches the cushion.";
  if (!bank.path) return "No bend: the ball never reaches the line.";
  const { bend } = bank.path;
  const way = Math.abs(bend) < 5e-6 ? "neither short nor long" : bend > 0 ? "short" : "long";
  const band =
    range.high > range.low
      ? say` Over the ranges of the table's constants: ${shownSmall(range.low, units)} to ${shownSmall(range.high, units)} (+ short, − long).`
      : "";
  const some =
    range.short > 0
      ? ` With ${range.short === 1 ? "one" : range.short} of the sets of constants the ball never reaches the line.`
      : "";
  return say`Bends ${shownSmall(Math.abs(bend), units)} ${way}.${band}${some}`;
}

/** Which ranges a band is made of, and what it takes as exact. */
export function bandSentence({ constants, others, units }: Pick<ShotSettings, "constants" | "others" | "units">): Said {
  const all = { ...constants, ...others };
  const names = [...UNCERTAIN, ...OTHERS];
  const spread = names.filter((name) => all[name].high > all[name].low);
  const exact = names.filter((name) => !spread.includes(name)).map((name) => SETUP_ITEMS[name].label);
  const taken =
    exact.length > 0 ? ` ${capital(listOf(exact))} ${exact.length === 1 ? "is" : "are"} taken as exact.` : "";
  if (spread.length === 0) return `No band: the set-up gives no range.${taken}`;
  const ranges = spread.map((name) => {
    const { low, high } = all[name];
    return say`${SETUP_ITEMS[name].label} ${shownItem(name, low, units)} to ${shownItem(name, high, units)}`;
  });
  return say`In the band, each over its range in the set-up and together: ${listOf(ranges)}.${taken}`;
}

/** What the shot clears at its gap, and the least gap that it would. */
export function clearanceSentence(shot: ShotSettings, layout: ShotLayout): Said {
  const { marked } = layout;
  if (!marked) return "";
  const { units } = shot;
  const { clearance, leastGap } = marked;
  const does =
    clearance >= 0
      ? say`clears the obstacle by ${shownSmall(clearance, units)}`
      : say`hits the obstacle: ${shownSmall(-clearance, units)} too little`;
  return say`With a gap of ${shownSmall(shot.gap, units)} it ${does}. The least gap that this bend clears at the marks is ${shownSmall(leastGap, units)}.`;
}

export interface ChangeRow {
  readonly setting: BendSetting;
  /** "1 mph more", or "1 mph less" where more cannot be had. */
  readonly step: Said;
  /** Change of the size of the bend for that, SI; positive bends more. */
  readonly change: number;
}

/** How much more the ball bends, whichever way it does, for one sensible step of each setting, the largest first. */
export function changeRows(list: readonly Sensitivity[], bend: number, units: "us" | "si"): ChangeRow[] {
  const way = bend < 0 ? -1 : 1;
  return list
    .flatMap(({ setting, up, down }): ChangeRow[] => {
      const more = Number.isFinite(up);
      if (!more && !Number.isFinite(down)) return [];
      return [{ setting, step: stepText(setting, more ? "more" : "less", units), change: way * (more ? up : down) }];
    })
    .sort((a, b) => Math.abs(b.change) - Math.abs(a.change));
}

function stepText(setting: BendSetting, way: "more" | "less", units: "us" | "si"): Said {
  return say`${shownSetting(changeOf(setting, units), setting, units)} ${way}`;
}

/** The one step, up or down, that bends it most. */
export function oneChange(list: readonly Sensitivity[], bend: number, units: "us" | "si"): Said {
  const way = bend < 0 ? -1 : 1;
  const [most] = list
    .flatMap(({ setting, up, down }) => [
      { setting, direction: "more", gain: way * up },
      { setting, direction: "less", gain: way * down },
    ])
    .filter(({ gain }) => gain > 0)
    .sort((a, b) => b.gain - a.gain);
  if (!most) return "";
  const { label } = SETTING_KINDS[most.setting];
  const step = shownSetting(changeOf(most.setting, units), most.setting, units);
  return say`The one change that bends it most: ${most.direction} ${label.toLowerCase()}, about ${shownSmall(most.gain, units)} for ${step}, as the model has it there.`;
}
