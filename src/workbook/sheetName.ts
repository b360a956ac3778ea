/**
 * Names a new sheet may have.
 * A spreadsheet refuses a name that is empty, longer than 31 characters, holds one of : \ / ? * [ ], begins or ends
 * with an apostrophe, is "History", or differs from another sheet's name only in case.
 */

const LONGEST = 31;

/**
 * The nearest permitted name to the wanted one that no other sheet has: forbidden characters become "-", long names
 * are cut, and " 2", " 3" … is added when the name is taken.
 *
 * @example freeSheetName("Bend: cloth/humidity", []) // "Bend- cloth-humidity"
 * @example freeSheetName("Results", ["results"]) // "Results 2"
 */
export function freeSheetName(wanted: string, taken: readonly string[]): string {
  const used = new Set(taken.map((name) => name.toLowerCase()));
  const base = permitted(wanted);
  if (!used.has(base.toLowerCase())) return base;
  for (let n = 2; ; n++) {
    const tail = ` ${n}`;
    const name = cut(base, LONGEST - tail.length) + tail;
    if (!used.has(name.toLowerCase())) return name;
  }
}

/** The sheet of a file that has no sheets of its own. @example sheetNameOfFile("logs/May.csv") === "May" */
export function sheetNameOfFile(path: string): string {
  return freeSheetName(path.replace(/^.*[\\/]/, "").replace(/\.\w{1,8}$/, ""), []);
}

/**
 * Whether a sheet's name is the wanted one or one that freeSheetName makes of it.
 * @example isNumbered("Shots 2", "Shots") === true
 * @example isNumbered("Shots of Ann", "Shots") === false
 */
export function isNumbered(name: string, wanted: string): boolean {
  const base = permitted(wanted).toLowerCase();
  const tail = / [2-9]$| [1-9]\d+$/.exec(name)?.[0] ?? "";
  const lower = name.toLowerCase();
  return lower === base || (tail !== "" && lower === cut(base, LONGEST - tail.length) + tail);
}

function permitted(wanted: string): string {
  const plain = wanted
    .replace(/[:\\/?*[\]]/g, "-")
    .replace(/[\u0000-\u001f\u007f\ufffe\uffff]/g, " ")
    .replace(/(^|[^\ud800-\udbff])[\udc00-\udfff]|[\ud800-\udbff](?![\udc00-\udfff])/g, "$1");
  const name = cut(plain.replace(/^['\s]+/, ""), LONGEST).replace(/['\s]+$/, "");
  if (name === "") return "Sheet";
  return name.toLowerCase() === "history" ? `${name}-` : name;
}

/** The first `length` UTF-16 units, without splitting a surrogate pair. */
function cut(text: string, length: number): string {
  const short = text.slice(0, length);
  return /[\ud800-\udbff]$/.test(short) && short.length < text.length ? short.slice(0, -1) : short;
}
