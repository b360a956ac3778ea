/** What is chosen while shooting, with the ruler and the target of the set-up where nothing is chosen here. */
import { isDefault } from "../setup/setupSheet";
import type { Setup } from "../setup/setup";
import { convertUnit } from "../language/unitConversion";
import type { ShootForm } from "./shootForm";
import type { ShootLog } from "./shootLog";
import { readLength, RULERS } from "./shootNow";

/** A set-up that nobody changed says nothing here: the usual ruler of the log's unit holds, and no target. */
export function shootOfSetup(form: ShootForm, setup: Setup, unit: ShootLog["unit"]): ShootForm {
  const { rulerDivision, target } = setup;
  const division = convertUnit(rulerDivision.value, "m", unit);
  const ruler = RULERS[unit].find((typed) => {
    const one = readLength(typed, unit);
    return typeof one === "number" && Math.abs(one - division) < 0.01 * one;
  });
  return {
    ...form,
    ruler: form.ruler === "" && ruler !== undefined && !isDefault("rulerDivision", rulerDivision) ? ruler : form.ruler,
    target:
      form.target === "" && !isDefault("target", target)
        ? String(Number(convertUnit(target.value, "m", unit).toPrecision(6)))
        : form.target,
  };
}
