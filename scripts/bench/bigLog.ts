/** A log of many rows, 15 columns each, three of them BANK formulas: what a club writes in years, seeded. */
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { makeBook, type Draft } from "../samples/book";
import { seededRandom } from "./measure";

const HEADINGS = [
  "Trial",
  "Session",
  "Table",
  "Cloth",
  "Humidity (%)",
  "Temperature (°C)",
  "Speed (mph)",
  "Spin",
  "Angle (°)",
  "Gap (in)",
  "Bend (in)",
  "Clearance (in)",
  "Dew point (°C)",
  "Made",
  "Remarks",
];

/** The workbook as a file; its formulas hold no value yet. */
export async function bigLog(rows: number): Promise<Uint8Array> {
  const random = seededRandom(16);
  const lines: Draft[][] = [HEADINGS];
  for (let i = 1; i <= rows; i++) {
    const r = i + 1;
    lines.push([
      i,
      `S${Math.ceil(i / 50)}`,
      `T${1 + (i % 4)}`,
      i % 3 ? "new" : "worn",
      Math.round(300 + 300 * random.uniform()) / 10,
      Math.round(180 + 80 * random.uniform()) / 10,
      Math.round(400 + 600 * random.uniform()) / 100,
      Math.round(20 * random.uniform()) / 10,
      20,
      Math.round(random.uniform() * 16) / 8,
      `=BANK.BEND(J${r})`,
      `=BANK.CLEARANCE(K${r},J${r})`,
      `=BANK.DEWPOINT(F${r},E${r},"si")`,
      i % 3 ? "yes" : "no",
      null,
    ]);
  }
  const { bytes } = await saveCopy(null, makeBook([{ name: "Log", widths: [], rows: lines }]));
  return bytes;
}
