/** What can be moved on the drawing of a shot: contact, arrival, both gates and the obstacle. */
import { say, toText } from "../../experiment/language/said";
import type { Conditions } from "../../bank/conditions";
import { INCH } from "../../bank/units";
import { arrivalAngle } from "../../experiment/shot/arrivalAngle";
import type { Marked, ShotLayout } from "../../experiment/shot/shotLayout";
import { bounds, type SettingName, type ShotSettings } from "../../experiment/shot/shotSettings";
import { shownSetting } from "../../experiment/shot/shotWords";
import type { Handle } from "../plots/Handles";
import type { ShownShot } from "./useShot";

const STEP = { along: INCH / 4, gap: INCH / 16, room: INCH / 32 };

type Shown = Pick<ShownShot, "shot" | "layout" | "conditions" | "setOne">;

interface Movable {
  readonly shot: ShotSettings;
  readonly layout: ShotLayout;
  readonly conditions: Conditions;
  limit(name: SettingName): { readonly low: number; readonly high: number };
  setOne(name: SettingName, value: number): void;
}

export function shotHandles({ shot, layout, conditions, setOne }: Shown): Handle[] {
  const limit = (name: SettingName) => bounds(name, shot.rail, shot.table, conditions.ballDiameter);
  const movable: Movable = { shot, layout, conditions, limit, setOne };
  const { marked } = layout;
  const contact = shifting(movable, "Contact with the rail", layout.touch);
  if (!marked) return [contact];
  return [
    contact,
    turning(movable, "Arrival; turns the shot", marked.chord[1].x, marked.chord[1]),
    cushionGate(movable, marked),
    turning(movable, "Gate at the pocket; turns the shot", marked.chord[1].x, marked.gates[1]),
    obstacle(movable, marked),
  ];
}

/** Moves the contact, and the shot with it, along the banked rail. */
function shifting({ shot, limit, setOne }: Movable, name: string, place: Handle["place"]): Handle {
  return {
    name,
    place,
    along: { x: 1, y: 0 },
    value: shot.along,
    ...limit("along"),
    step: STEP.along,
    text: toText(shownSetting(shot.along, "along", shot.units)),
    onChange: (value) => setOne("along", value),
  };
}

/** Moves the arrival along the rail opposite by turning the shot. @param x of the arrival @param place of the handle */
function turning(
  { shot, layout, conditions, limit, setOne }: Movable,
  name: string,
  x: number,
  place: Handle["place"],
): Handle {
  return {
    name,
    place,
    along: { x: 1, y: 0 },
    value: x,
    low: 0,
    high: layout.table.width,
    step: STEP.along,
    text: toText(say`${shownSetting(x, "along", shot.units)}, angle ${shownSetting(shot.angle, "angle", shot.units)}`),
    onChange: (to) => {
      const angle = arrivalAngle(shot, conditions, to, limit("angle"));
      if (angle !== undefined) setOne("angle", angle);
    },
  };
}

/**
 * Where the ball comes past it, its room moves it along the rail away from that way. On the far side it touches the
 * leaving ball, so that it can only move with the contact.
 */
function cushionGate(movable: Movable, { arrangement, gates: [gate] }: Marked): Handle {
  if (arrangement === "far") return shifting(movable, "Gate at the cushion, with the contact", gate);
  const { shot, layout, limit, setOne } = movable;
  return {
    name: "Gate at the cushion, by its room",
    place: gate,
    // It stands a ball and its room square to the way, so much farther along the rail as the ball comes aslant.
    along: { x: (gate.x - layout.touch.x) / (2 * layout.ballRadius + shot.room), y: 0 },
    value: shot.room,
    ...limit("room"),
    step: STEP.room,
    text: toText(say`room ${shownSetting(shot.room, "room", shot.units)}`),
    onChange: (value) => setOne("room", value),
  };
}

function obstacle({ shot, limit, setOne }: Movable, { nearMark, farMark, obstacle: place }: Marked): Handle {
  const apart = Math.hypot(farMark.x - nearMark.x, farMark.y - nearMark.y) || 1;
  return {
    name: "Obstacle, by its gap",
    place,
    along: { x: (farMark.x - nearMark.x) / apart, y: (farMark.y - nearMark.y) / apart },
    value: shot.gap,
    ...limit("gap"),
    step: STEP.gap,
    text: toText(say`gap ${shownSetting(shot.gap, "gap", shot.units)}`),
    onChange: (value) => setOne("gap", value),
  };
}
