/**
 * Files of the NIST Statistical Reference Datasets (public domain: works of the United States government) as Debian's
 * package python3-scipy 1.10.1 carries them, byte for byte: data, and the values that NIST certifies to 15 digits.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";

interface NistFile {
  /** Numbers of each line of data. */
  readonly rows: readonly (readonly number[])[];
  readonly F: number;
  readonly rSquared: number;
  readonly sd: number;
  /** Estimate and standard error of each coefficient; none of an analysis of variance. */
  readonly coefficients: readonly (readonly [number, number])[];
}

export function nistFile(name: string): NistFile {
  const text = readFileSync(join(import.meta.dirname, "reference", "nist", `${name}.dat`), "latin1");
  const lines = text.split(/\r?\n/);
  const [, from, to] = /Data\s+\(lines (\d+) to (\d+)\)/.exec(text)!;
  const numbersOf = (line: string) => line.trim().split(/\s+/).map(Number);
  const last = (pattern: RegExp) => numbersOf(pattern.exec(text)![1]!).at(-1)!;
  return {
    rows: lines.slice(Number(from) - 1, Number(to)).map(numbersOf),
    F: last(/^(?:Between|Regression)(.*)$/m),
    rSquared: last(/R-Squared(.*)$/m),
    sd: last(/Standard Deviation\s+([\d.E+-]+)\s*$/m),
    coefficients: [...text.matchAll(/^\s+B\d+\s+(\S+)\s+(\S+)/gm)].map(([, b, se]) => [Number(b), Number(se)]),
  };
}
