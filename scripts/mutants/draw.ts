/** Which faults are tried: drawn by a number made of each fault's own words, so that other lines may change. */
import { createHash } from "node:crypto";
import type { Mutant } from "./mutate";

/** A fault with what names it as long as its line stands. */
export interface Drawn {
  readonly key: string;
  readonly mutant: Mutant;
  /** The line that it stands in. */
  readonly words: string;
}

/** @param textOf a source's text, by its path */
export function keyed(mutants: readonly Mutant[], textOf: (file: string) => string): Drawn[] {
  const times = new Map<string, number>();
  return mutants.map((mutant) => {
    const words = textOf(mutant.file).split("\n")[mutant.line - 1]?.trim() ?? "";
    const change = `${mutant.from} → ${mutant.to}`.replace(/\s+/g, " ");
    const same = `${mutant.file} | ${words} | ${change}`;
    const nth = (times.get(same) ?? 0) + 1;
    times.set(same, nth);
    return { key: nth === 1 ? same : `${same} | ${nth}`, mutant, words };
  });
}

/** The first of all in an order that the seed makes: a smaller sample is the beginning of a larger one. */
export function draw(all: readonly Drawn[], seed: number, count: number): Drawn[] {
  const place = ({ key }: Drawn) => createHash("sha256").update(`${seed} ${key}`).digest("hex");
  return all
    .map((drawn) => ({ drawn, at: place(drawn) }))
    .sort((a, b) => (a.at < b.at ? -1 : 1))
    .slice(0, count)
    .map(({ drawn }) => drawn);
}
