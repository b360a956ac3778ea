/** How strictly claims are judged and where they stand, as it is kept with the workbook. May import: experiment/evidence.ts. */
import { FIRST_RULES } from "../../experiment/evidence";

export interface EvidenceChoice {
  readonly sheet?: string;
  readonly units: "us" | "si";
  /** Metres. */
  readonly tolerance: number;
  readonly uncertainty: number;
  readonly certainty: number;
}

export const INCH = 0.0254;
export const FIRST_EVIDENCE: EvidenceChoice = { units: "us", tolerance: FIRST_RULES.tolerance * INCH, uncertainty: FIRST_RULES.uncertainty * INCH, certainty: 0.95 };

/** Reads a kept choice; what is missing or of the wrong kind is the usual. */
export function parseEvidence(raw: unknown): EvidenceChoice {
  const given = typeof raw === "object" && raw !== null ? (raw as Record<string, unknown>) : {};
  const number = (name: "tolerance" | "uncertainty" | "certainty") => (typeof given[name] === "number" && given[name] > 0 ? given[name] : FIRST_EVIDENCE[name]);
  return { ...(typeof given.sheet === "string" ? { sheet: given.sheet } : {}), units: given.units === "si" ? "si" : "us", tolerance: number("tolerance"), uncertainty: number("uncertainty"), certainty: Math.min(0.9999, Math.max(0.5001, number("certainty"))) };
}
