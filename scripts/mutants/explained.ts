/** Why a fault that no test notices is let live. */

export interface Explained {
  readonly file: string;
  /** Part of the line that the fault stands in. */
  readonly line: string;
  readonly from: string;
  readonly to: string;
  /** Equivalent: nothing that can be seen changes. Harmless: what changes is within what is promised. */
  readonly kind: "equivalent" | "harmless";
  readonly why: string;
}

/** Also of faults that an earlier sample drew: what was measured of them holds as long as their line stands. */
export const EXPLAINED: readonly Explained[] = [
  {
    file: "src/bank/impact/creep.ts",
    line: "const CREEP_STEP",
    from: "1e-3",
    to: "0.0015",
    kind: "harmless",
    why: "Of 4,018 random shots 6 answers move, by at most 3e-7 of the normal speed. What they are held against, plain small steps, is good to 1e-4.",
  },
  {
    file: "src/bank/impact/contacts.ts",
    line: "bed2[0] = Math.max(NUDGE",
    from: "*",
    to: "/",
    kind: "harmless",
    why: "Both slips start at once in 3 of 4,018 random shots; there the answer moves by 1e-12 of the normal speed at most, a hundredth of the tolerance.",
  },
  {
    file: "src/bank/impact/departures.ts",
    line: "if (!now.lifted && now.bed === STICK)",
    from: "!now.lifted && now.bed === STICK",
    to: "false",
    kind: "harmless",
    why: "How fast a slip grows that has not grown past 2e-5 of the normal speed. Of 33,000 random shots, 13,000 of them on the roughest cloths, none moves by more than 6e-12 of it, a fifteenth of the tolerance.",
  },
  {
    file: "src/statistics/numeric/alikeRows.ts",
    line: "halves[0] ^ Math.imul(halves[1]",
    from: "0",
    to: "1",
    kind: "equivalent",
    why: "A hash may be any whole number that is the same for equal numbers: rows that share one are compared all the same. Only the time differs.",
  },
  {
    file: "src/workbook/file/read/csv.ts",
    line: "byte >= ZERO && byte <= ZERO + 9",
    from: "<=",
    to: "<",
    kind: "equivalent",
    why: "A field with a 9 is left to the second look, which every field gets that the first does not take, and which gives the same number. Only the time differs.",
  },
];
