/**
 * R, run inside the test through webR (R compiled to WebAssembly, from the npm package webr; it makes no network call).
 */
import { WebR } from "webr";
import { noteAgreement } from "./agreement";

export interface R {
  /** Evaluates R code that ends in numbers. */
  numbers(code: string): Promise<number[]>;
  /** Leaves nothing for the next file. */
  close(): Promise<void>;
}

let started: Promise<WebR> | undefined;

async function start(): Promise<WebR> {
  const webR = new WebR({ interactive: false });
  await webR.init();
  return webR;
}

/** The one R of a test worker, for starting it takes seconds; each file finds it empty. */
export async function startR(): Promise<R> {
  const webR = await (started ??= start());
  return {
    numbers: (code) => webR.evalRRaw(code, "number[]"),
    close: () => webR.evalRVoid("rm(list = ls())"),
  };
}

/** A vector as R code, every double in full. */
export function vector(values: ArrayLike<number>): string {
  return `c(${Array.from(values).join(",")})`;
}

/** Digits to which two numbers agree: −log10 of the relative difference, 16 when equal. */
export function digits(value: number, reference: number): number {
  const agree =
    value === reference ? 16 : -Math.log10(Math.abs(value - reference) / (reference === 0 ? 1 : Math.abs(reference)));
  noteAgreement(agree);
  return agree;
}
