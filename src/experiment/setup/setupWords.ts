/** The set-up in words: the line above it, and what of it a bend short waits for. */
import { say, type Said } from "../language/said";
import { SETUP_ITEMS, SETUP_NAMES, type Setup, type SetupName } from "./setup";
import { isDefault, sheetUnit } from "./setupSheet";
import { convertUnit } from "../language/unitConversion";
import { counted, significant, withUnit } from "../language/wording";

/** A value as the panel shows it. @example toText(shownItem("length", 2.54, "us")) === "100 in" */
export function shownItem(name: SetupName, value: number, units: Setup["units"]): Said {
  const { kind } = SETUP_ITEMS[name];
  const unit = kind === "small" && units === "si" ? "mm" : sheetUnit(kind, units);
  return withUnit(
    significant(kind === "ratio" ? value : convertUnit(value, kind === "mass" ? "kg" : "m", unit), 4),
    unit,
  );
}

/** Table, ball, obstacle, ruler and target in one line. */
export function setupLine(setup: Setup): Said {
  const at = (name: SetupName) => shownItem(name, setup[name].value, setup.units);
  return say`Table ${at("length")} by ${at("breadth")}, ball ${at("ballDiameter")}, obstacle ${at("obstacleDiameter")}, ruler to ${at("rulerDivision")}, target ${at("target")}.`;
}

/** How much of it is still what was put there for everybody. */
export function givenSentence(setup: Setup): string {
  const usual = SETUP_NAMES.filter((name) => isDefault(name, setup[name])).length;
  return usual === 0
    ? "All values are yours."
    : `${counted(usual, "value")} of ${SETUP_NAMES.length} ${usual === 1 ? "is" : "are"} still the usual one${usual === 1 ? "" : "s"}, not measured on your table.`;
}
