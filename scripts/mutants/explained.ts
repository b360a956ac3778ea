/** Why a fault that no test notices is let live. */
import type { Drawn } from "./draw";

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
const EXPLAINED: readonly Explained[] = [
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
  {
    file: "src/workbook/file/read/csv.ts",
    line: "bytes[from] === MINUS ? from + 1 : from",
    from: "+",
    to: "-",
    kind: "equivalent",
    why: "A field with a minus sign is left to the second look, see above.",
  },
  {
    file: "src/workbook/file/package/xmlScan.ts",
    line: "if (stop >= 0 && xml.charCodeAt(stop + 1) === 47)",
    from: "0",
    to: "1",
    kind: "equivalent",
    why: "What is looked for stands behind a tag, so never at the very beginning of the text.",
  },
  {
    file: "src/workbook/file/package/xmlScan.ts",
    line: "if (stop >= 0 && xml.charCodeAt(stop + 1) === 47)",
    from: ">=",
    to: ">",
    kind: "equivalent",
    why: "What is looked for stands behind a tag, so never at the very beginning of the text.",
  },
  {
    file: "src/statistics/fit/nonlinearFit.ts",
    line: "const length = Math.max(",
    from: "-",
    to: "+",
    kind: "harmless",
    why: "One of four signs that the search has ended. Where steps are too short for it, squares fall too little for the next: the same place, perhaps a round later.",
  },
  {
    file: "src/bank/cushion.ts",
    line: "!Number.isFinite(vx + wx + wy + wz)",
    from: "+",
    to: "-",
    kind: "equivalent",
    why: "A sum and a difference are finite alike, short of speeds of 1e308 m/s: where one part is not, neither is.",
  },
  {
    file: "src/experiment/log/outsideTable.ts",
    line: "for (let row = area.row + area.rows, last = row - 1; row < end; row++)",
    from: "<",
    to: "<=",
    kind: "equivalent",
    why: "The row behind the sheet's last is blank, and blank rows are passed over.",
  },
  {
    file: "src/statistics/errors/restrictedLikelihood.ts",
    line: "10 ** (-9 + (22 * i) / steps)",
    from: "9",
    to: "10",
    kind: "harmless",
    why: "Where the valley is first looked for, among 45 places over 22 powers of ten; its bottom is found to the last digits from either.",
  },
  {
    file: "src/statistics/errors/robustErrors.ts",
    line: "if (rest < 1e-10) lone.push(across)",
    from: "<",
    to: "<=",
    kind: "harmless",
    why: "Differs for a rest of exactly 1e-10, where rounding decides anyway.",
  },
  {
    file: "src/statistics/measure/proportion.ts",
    line: "const FEW = 1e5",
    from: "1e5",
    to: "100001",
    kind: "harmless",
    why: "Differs for 100,001 successes of more than 1e10 tries, where both laws give the same interval to the digits that either has.",
  },
];

/** @returns undefined for a fault that nobody has looked at yet */
export function explained({ mutant: { file, from, to }, words }: Drawn): Explained | undefined {
  return EXPLAINED.find((one) => one.file === file && one.from === from && one.to === to && words.includes(one.line));
}
