/** Where `npm run evidence -- outside` asks for it, how far each number that is compared agrees is written down. */
import { appendFileSync } from "node:fs";
import { expect } from "vitest";

/** A line for a test and the digits to which one of its numbers agrees. */
export function noteAgreement(digits: number): void {
  const file = process.env["BENDBOOK_AGREEMENT"];
  if (file === undefined) return;
  const { testPath = "", currentTestName = "" } = expect.getState();
  appendFileSync(file, `${JSON.stringify({ testPath, currentTestName, digits })}\n`);
}
