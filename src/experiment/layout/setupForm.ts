/** A layout's form with what the set-up says: table, ball, obstacle, units. */
import type { Setup } from "../setup/setup";
import { changedLayout } from "./layoutCheck";
import type { LayoutForm } from "./layoutForm";

export function layoutOfSetup(form: LayoutForm, setup: Setup): LayoutForm {
  const long = form.railLength >= form.tableWidth;
  const [length, breadth] = [setup.length.value, setup.breadth.value];
  const wanted = {
    railLength: long ? length : breadth,
    tableWidth: long ? breadth : length,
    cornerMouth: setup.cornerMouth.value,
    sideMouth: setup.sideMouth.value,
    ballDiameter: setup.ballDiameter.value,
    obstacleDiameter: setup.obstacleDiameter.value,
    units: setup.units,
  };
  const changed = Object.entries(wanted).filter(([name, value]) => form[name as keyof typeof wanted] !== value);
  return changed.length === 0 ? form : changedLayout(form, Object.fromEntries(changed));
}
