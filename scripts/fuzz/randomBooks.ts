/** Workbooks and edits at random, all from a seed. */
import type { Area, Book, BookCell, BookSheet, CellValue } from "../../src/workbook/book";
import { seededRandom } from "../samples/random";

/** What a seed gives, piece by piece. */
export class Chance {
  private readonly random;

  constructor(seed: number) {
    this.random = seededRandom(1 + (seed % 2_147_483_646));
    // Seeds beside each other begin alike.
    for (let i = 0; i < 10; i++) this.random.uniform();
  }

  /** A whole number from 0, below `limit`. */
  below(limit: number): number {
    return Math.min(limit - 1, Math.floor(this.random.uniform() * limit));
  }

  /** True once in `times`. */
  once(times: number): boolean {
    return this.below(times) === 0;
  }

  pick<T>(from: readonly T[]): T {
    return from[this.below(from.length)] as T;
  }

  number(): number {
    const plain = this.random.normal() * 10 ** (this.below(12) - 4);
    return this.pick([Math.round(plain), plain, this.below(2000) / 16, 0, 1e-7 * this.below(99), 1e21]);
  }
}

const WORDS = [
  "worn",
  "1 1/8",
  '3/16"',
  "Straße",
  "été, 20 °C",
  "a & b < c > d",
  "  spaced  ",
  "two\nlines",
  "'quoted'",
  '"',
  "=1+1",
  "007",
  "TRUE",
  "#N/A",
  "]]>",
  "東京",
  "🎱",
  "_x000D_",
  "x".repeat(300),
];
const ERRORS = ["#N/A", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!"];
const FORMULAS = [
  "A1+B2*2",
  "SUM(A1:C4)",
  "BANK.BEND(A1)",
  'IF(A1="","",BANK.BEND(A1))',
  "'Bo''s log'!B2&\"<&>\"",
  "ROUND(B1/3,2)",
  '"a  b"&" "',
];

export function randomValue(chance: Chance): CellValue {
  switch (chance.below(7)) {
    case 0:
    case 1:
    case 2:
      return chance.number();
    case 3:
    case 4:
      return chance.pick(WORDS);
    case 5:
      return chance.once(2);
    default:
      return { error: chance.pick(ERRORS) };
  }
}

function randomCell(chance: Chance): BookCell | undefined {
  if (chance.once(4)) return undefined;
  const style = chance.once(3) ? { style: chance.below(STYLES.length) } : {};
  if (chance.once(5)) return { value: randomValue(chance), formula: chance.pick(FORMULAS), ...style };
  return { value: randomValue(chance), ...style };
}

const STYLES = [{}, { bold: true }, { format: "0.000" }, { fill: "#102030", color: "#ff0000" }, { wrap: true }];
const NAMES = ["Trials", "Bo's log", "Été & <co>"];

export function randomBook(chance: Chance): Book {
  const sheets = NAMES.slice(0, 1 + chance.below(NAMES.length)).map((name): BookSheet => {
    const rows = Array.from({ length: chance.below(12) }, () =>
      chance.once(6) ? undefined : Array.from({ length: chance.below(8) }, () => randomCell(chance)),
    );
    const merged: Area[] = chance.once(3) ? [{ row: 20, column: chance.below(5), rows: 2, columns: 3 }] : [];
    return {
      name,
      rows,
      merged,
      hiddenRows: chance.once(3) ? [1 + chance.below(5)] : [],
      tables: [],
      validations: chance.once(3)
        ? [{ areas: [{ row: 1, column: 0, rows: 5, columns: 1 }], choices: ["new", "worn"] }]
        : [],
      columnWidths: chance.once(2) ? [12, undefined, 30] : [],
      ...(chance.once(3) ? { frozenRows: 1 } : {}),
    };
  });
  return { sheets, styles: STYLES, names: [{ name: "Limits", reference: "Trials!$A$2:$A$4" }] };
}

/** The book after some cells got another value or formula, or were emptied. */
export function edited(book: Book, chance: Chance): Book {
  const sheets = book.sheets.map((sheet) => {
    const rows = [...sheet.rows];
    for (let times = chance.below(6); times > 0; times--) {
      const [r, c] = [chance.below(14), chance.below(9)];
      const line = [...(rows[r] ?? [])];
      const before = line[c];
      const look = before?.style === undefined ? {} : { style: before.style };
      const now = chance.once(5) ? { value: null } : { value: randomValue(chance) };
      line[c] = {
        ...now,
        ...look,
        ...(chance.once(6) && now.value !== null ? { formula: chance.pick(FORMULAS) } : {}),
      };
      rows[r] = line;
    }
    return { ...sheet, rows };
  });
  return { ...book, sheets };
}
