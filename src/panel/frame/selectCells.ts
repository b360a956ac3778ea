/** Shows cells to the user. */
import type { Area } from "../../workbook/book";
import type { Port } from "../../workbook/port";
import { messageOf } from "./messageOf";

/**
 * Selects the cells; says why when that fails, and when it works takes back what an earlier attempt said.
 * @param keyboard whether what is typed next goes there, too
 */
export function selectCells(
  port: Port,
  sheet: string,
  area: Area,
  onFailure: (text: string | undefined) => void,
  keyboard = false,
): void {
  port.select(sheet, area, keyboard).then(
    () => onFailure(undefined),
    (problem: unknown) => onFailure(messageOf(problem)),
  );
}
