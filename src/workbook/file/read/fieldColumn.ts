/** A column of fields as they come, each kept once where the same few come again and again. */
import type { CellValue } from "../../book";
import type { CellColumn } from "../../columnSheet";

/** Different fields that are remembered: a log says the same few things again and again. */
const MOST_REMEMBERED = 4096;
/** Slots of the remembered fields; a power of two, so that a hash is cut with one mask. */
const SLOTS = 4 * MOST_REMEMBERED;

export class FieldColumn {
  private readonly different: CellValue[] = [null];
  private places: Uint32Array;
  private remembered = 0;
  /** By slot: place of the field's value, 0 where the slot is free, and where the field's bytes stand. */
  private readonly slotPlaces = new Uint32Array(SLOTS);
  private readonly slotFrom = new Uint32Array(SLOTS);
  private readonly slotTo = new Uint32Array(SLOTS);

  /**
   * @param read the value of the field that stands there; undoubled quotes are its business
   * @param likelyRows room for so many rows from the start: each move to a larger place leaves the former one behind
   */
  constructor(
    private readonly bytes: Uint8Array,
    private readonly read: (from: number, to: number, doubled: boolean) => CellValue,
    likelyRows: number,
  ) {
    this.places = new Uint32Array(likelyRows);
  }

  put(row: number, from: number, to: number, doubled: boolean): void {
    if (row >= this.places.length) {
      const more = new Uint32Array(row + 1 + (row >> 2));
      more.set(this.places);
      this.places = more;
    }
    // The same bytes mean something else where doubled quotes stand for one.
    this.places[row] = doubled ? this.add(from, to, doubled) : this.placeOf(from, to);
  }

  /** The column, of so many rows. */
  done(rows: number): CellColumn {
    const { places, different } = this;
    if (rows <= places.length) return { different, places: places.subarray(0, rows) };
    const all = new Uint32Array(rows);
    all.set(places);
    return { different, places: all };
  }

  private placeOf(from: number, to: number): number {
    const { bytes } = this;
    let hash = 0x811c9dc5;
    for (let at = from; at < to; at++) hash = Math.imul(hash ^ (bytes[at] ?? 0), 0x01000193);
    for (let slot = (hash ^ (hash >>> 15)) & (SLOTS - 1); ; slot = (slot + 1) & (SLOTS - 1)) {
      const place = this.slotPlaces[slot] ?? 0;
      if (place > 0) {
        if (this.isAlike(slot, from, to)) return place;
        continue;
      }
      const added = this.add(from, to, false);
      if (this.remembered < MOST_REMEMBERED) {
        this.remembered++;
        this.slotPlaces[slot] = added;
        this.slotFrom[slot] = from;
        this.slotTo[slot] = to;
      }
      return added;
    }
  }

  private isAlike(slot: number, from: number, to: number): boolean {
    const { bytes } = this;
    const first = this.slotFrom[slot] ?? 0;
    const length = to - from;
    if ((this.slotTo[slot] ?? 0) - first !== length) return false;
    for (let i = 0; i < length; i++) if (bytes[first + i] !== bytes[from + i]) return false;
    return true;
  }

  private add(from: number, to: number, doubled: boolean): number {
    return this.different.push(this.read(from, to, doubled)) - 1;
  }
}
