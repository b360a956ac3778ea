/**
 * Keeps recalculation linear.
 *
 * While it calculates, Univer keeps for every column an index value → rows, which equality look-ups read. Each result
 * is entered with "forget what this row held before", and as shipped that is a search through all values of the
 * column: 10,000 distinct results cost 10,000 × 10,000 / 2 look-ups. Here the index also knows row → value, so that
 * forgetting is one step. Which rows are known at all (the intervals) stays with Univer.
 */
import { isErrorCode } from "../formula/errorCodes";
import type { UniverKit } from "../../../hosts/embedded/univerKit";

type Index = UniverKit["CELL_INVERTED_INDEX_CACHE"];
type Key = string | number | boolean | symbol;
type Positions = Map<Key, Set<number>>;

interface Column {
  readonly rowsOf: Positions;
  readonly keyAt: Map<number, Key>;
}

const linear = new WeakSet<Index>();

/** Replaces the store behind Univer's index by one that is searchable both ways; doing it twice changes nothing. */
export function makeIndexLinear(kit: Pick<UniverKit, "CELL_INVERTED_INDEX_CACHE">): void {
  const index = kit.CELL_INVERTED_INDEX_CACHE;
  if (linear.has(index)) return;
  linear.add(index);

  const columns = new Map<string, Column>();
  const place = (unit: string, sheet: string, column: number) => `${column}\n${sheet}\n${unit}`;
  const blank = blankKey(index);
  const clearIntervals = index.clear.bind(index);

  index.set = (unit, sheet, column, value, row, replaces = false) => {
    if (!replaces && !index.shouldContinueBuildingCache(unit, sheet, column, row)) return;
    const name = place(unit, sheet, column);
    let known = columns.get(name);
    if (!known) columns.set(name, (known = { rowsOf: new Map(), keyAt: new Map() }));
    const key = keyOf(value, blank);
    const before = known.keyAt.get(row);
    if (before === key) return;
    const left = before === undefined ? undefined : known.rowsOf.get(before);
    if (before !== undefined && left) {
      left.delete(row);
      if (left.size === 0) known.rowsOf.delete(before);
    }
    known.keyAt.set(row, key);
    const rows = known.rowsOf.get(key);
    if (rows) rows.add(row);
    else known.rowsOf.set(key, new Set([row]));
  };

  index.getCellValuePositions = (unit, sheet, column) => columns.get(place(unit, sheet, column))?.rowsOf;

  index.getCellPositions = (unit, sheet, column, value, rowsInCache) => {
    const known = columns.get(place(unit, sheet, column));
    if (!known) return undefined;
    const key = keyOf(value, blank);
    if (typeof key === "string" && isErrorCode(key)) return { errorType: key as never, matchingRows: [] };
    // A blank cell equals 0 and equals empty text, as in every comparison of a spreadsheet; 0 and empty text differ.
    const keys = key === 0 || key === "" ? [key, blank] : key === blank ? [0, "", blank] : [key];
    const matchingRows: number[] = [];
    for (const one of keys) {
      for (const row of known.rowsOf.get(one) ?? []) {
        if (rowsInCache.some(([first, last]) => row >= (first as number) && row <= (last as number)))
          matchingRows.push(row);
      }
    }
    return { errorType: null, matchingRows };
  };

  index.clear = () => {
    columns.clear();
    clearIntervals();
  };
}

/**
 * Values that a look-up takes for the same have the same key: text in any case, a number and its plain decimal text.
 */
function keyOf(value: string | number | boolean | null | undefined, blank: symbol): Key {
  if (value === null || value === undefined) return blank;
  if (typeof value === "number") return value === 0 ? 0 : value;
  if (typeof value === "boolean" || isErrorCode(value)) return value;
  const number = Number(value);
  return value.trim() !== "" && Number.isFinite(number) && String(number) === value ? number : value.toLowerCase();
}

/** The symbol under which Univer's readers expect blanks; it is not exported, so the shipped store is asked for it. */
function blankKey(index: Index): symbol {
  const unit = "blank key";
  index.set(unit, unit, 0, null, 0, true);
  const key = index.getCellValuePositions(unit, unit, 0)?.keys().next().value;
  index.clear();
  return typeof key === "symbol" ? key : Symbol("blank");
}
