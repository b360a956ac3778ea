/** What can be moved on the drawing of a shot: contact, arrival and obstacle; the gates follow. */
import { arrivalAngle } from "../../experiment/shot/arrivalAngle";
import { bounds, type SettingName } from "../../experiment/shot/shotSettings";
import { shownSetting } from "../../experiment/shot/shotWords";
import { INCH } from "../../bank/units";
import type { Handle } from "../plots/Handles";
import type { ShownShot } from "./useShot";

const STEP = { along: INCH / 4, gap: INCH / 16 };

export function shotHandles({ shot, layout, conditions, setOne }: ShownShot): Handle[] {
  const limit = (name: SettingName) => bounds(name, shot.rail, shot.table, conditions.ballDiameter);
  const contact: Handle = {
    name: "Contact with the rail, with its gate",
    place: layout.touch,
    along: { x: 1, y: 0 },
    value: shot.along,
    ...limit("along"),
    step: STEP.along,
    text: shownSetting(shot.along, "along", shot.units),
    onChange: (value) => setOne("along", value),
  };
  const { marked } = layout;
  if (!marked) return [contact];
  const [, end] = marked.chord;
  const { nearMark, farMark, obstacle } = marked;
  const apart = Math.hypot(farMark.x - nearMark.x, farMark.y - nearMark.y) || 1;
  return [
    contact,
    {
      name: "Arrival, with its gate; turns the shot",
      place: end,
      along: { x: 1, y: 0 },
      value: end.x,
      low: 0,
      high: layout.table.width,
      step: STEP.along,
      text: `${shownSetting(end.x, "along", shot.units)}, angle ${shownSetting(shot.angle, "angle", shot.units)}`,
      onChange: (x) => {
        const angle = arrivalAngle(shot, conditions, x, limit("angle"));
        if (angle !== undefined) setOne("angle", angle);
      },
    },
    {
      name: "Obstacle, by its gap",
      place: obstacle,
      along: { x: (farMark.x - nearMark.x) / apart, y: (farMark.y - nearMark.y) / apart },
      value: shot.gap,
      ...limit("gap"),
      step: STEP.gap,
      text: `gap ${shownSetting(shot.gap, "gap", shot.units)}`,
      onChange: (value) => setOne("gap", value),
    },
  ];
}
