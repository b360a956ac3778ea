/**
 * Names that hold on one sheet only. Univer keeps one meaning of a name for the whole workbook, so each of these runs
 * under a name of its own, `Ball` of the sheet "Log 2" as `Log_2.Ball`, and goes by its right name in copies.
 */
import type { Book } from "../../book";

export interface ScopedName {
  /** The sheet on which it holds. */
  readonly sheet: string;
  readonly name: string;
  /** What it is called in the running workbook. */
  readonly alias: string;
}

/** The aliases of a Book's sheet-scoped names, the same each time. */
export function scopedNames(names: Book["names"]): ScopedName[] {
  const taken = new Set(names.filter(({ sheet }) => sheet === undefined).map(({ name }) => name.toLowerCase()));
  return names.flatMap(({ sheet, name }) => {
    if (sheet === undefined) return [];
    const plain = `${sheet.replace(/[^\p{L}\p{N}_]/gu, "_").replace(/^(?=\p{N})/u, "_")}.${name}`;
    let alias = plain;
    for (let n = 2; taken.has(alias.toLowerCase()); n++) alias = `${plain}_${n}`;
    taken.add(alias.toLowerCase());
    return [{ sheet, name, alias }];
  });
}

/** The alias of a name as a formula on the sheet means it; undefined when it means a name of the whole workbook. */
export function aliasOn(sheet: string | undefined, name: string, scoped: readonly ScopedName[]): string | undefined {
  if (sheet === undefined || scoped.length === 0) return undefined;
  return scoped.find((one) => alike(one.name, name) && alike(one.sheet, sheet))?.alias;
}

export function alike(a: string, b: string): boolean {
  return a.toLowerCase() === b.toLowerCase();
}
