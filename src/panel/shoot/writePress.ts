/** What becomes of one press in the sheet as it is at that moment: written, taken back, given a bend. */
import type { Pressed, ShootForm } from "../../experiment/shoot/shootForm";
import { shootLog, type ShootLog } from "../../experiment/shoot/shootLog";
import { pressCells, type Press } from "../../experiment/shoot/shootRow";
import { areasOf, filledBefore, staysBecause } from "../../experiment/shoot/takeBack";
import type { TrialLog } from "../../experiment/log/trialLog";
import { cellAddress } from "../../workbook/address";
import type { Port, SheetData } from "../../workbook/port";

/** The log that takes presses, and what is chosen for them. */
export interface PressPlace {
  readonly port: Port;
  readonly sheet: string;
  readonly form: ShootForm;
  readLog(data: SheetData): TrialLog | undefined;
  onForm(change: (before: ShootForm) => Partial<ShootForm>): void;
}

/** The log as it stands in the sheet now. */
export async function fresh({ port, sheet, readLog }: PressPlace): Promise<ShootLog> {
  const data = await port.read(sheet);
  const log = readLog(data);
  const shoot = log && shootLog(log, data);
  if (!shoot) throw new Error(`The sheet "${sheet}" holds no log of attempts now.`);
  if ("problem" in shoot) throw new Error(shoot.problem);
  return shoot;
}

/** @throws Error saying why the press is not in the log */
export async function write(asked: PressPlace, press: Press): Promise<Pressed> {
  const shoot = await fresh(asked);
  const cells = pressCells(shoot, press);
  if ("problem" in cells) throw new Error(cells.problem);
  const { sheet } = shoot.log;
  const { row } = shoot.open;
  const beside = filledBefore(shoot);
  const done = await asked.port.fillRow({ sheet, row, cells });
  if ("filled" in done)
    throw new Error(
      `${cellAddress(row, done.filled)} holds something already, perhaps a formula: an attempt overwrites nothing. Clear it, then try again.`,
    );
  const written = new Set(done.written);
  return {
    sheet,
    row,
    cells: cells.flatMap(({ column, value }) =>
      written.has(column) && (typeof value === "number" || typeof value === "string") ? [[column, value] as const] : [],
    ),
    beside,
  };
}

/** Takes the last attempt back, if it still is as it was pressed in. @returns its sheet row */
export async function clearLast({ port, onForm, form }: PressPlace, shoot: ShootLog): Promise<number> {
  const pressed = form.pressed.at(-1);
  if (!pressed) throw new Error("No press is remembered that could be taken back: clear the row in the sheet.");
  onForm((before) => ({ pressed: before.pressed.filter((one) => one !== pressed) }));
  const reason = staysBecause(shoot, pressed);
  if (reason !== undefined) throw new Error(reason);
  for (const area of areasOf(pressed)) await port.clearCells(pressed.sheet, area);
  return pressed.row;
}

/** Puts a bend that was seen into the row of the last attempt. @returns the cell's address */
export async function fillBend({ port, onForm }: PressPlace, shoot: ShootLog, bend: number): Promise<string> {
  const { measured } = shoot.places;
  const row = shoot.log.rows[shoot.shot.at(-1) ?? NaN];
  if (!measured || row === undefined) throw new Error("There is no attempt yet that it could belong to.");
  const { sheet } = shoot.log;
  const done = await port.fillRow({ sheet, row, cells: [{ column: measured.column, value: bend }] });
  const address = cellAddress(row, measured.column);
  if ("filled" in done) throw new Error(`${address} holds something already: mend it in the sheet.`);
  const filled = [measured.column, bend] as const;
  onForm(({ pressed }) => ({
    pressed: pressed.map((one) =>
      one.row === row && one.sheet === sheet ? { ...one, cells: [...one.cells, filled] } : one,
    ),
  }));
  return address;
}
