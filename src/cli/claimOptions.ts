/** What is typed behind bendbook gather --claims, read. */
import { parseArgs } from "node:util";
import type { EvidenceRules } from "../experiment/evidence/evidence";
import { FIRST_EVIDENCE, rulesOf } from "../experiment/evidence/evidenceChoice";
import { unitOf } from "../experiment/shot/shotSettings";
import { mayBeWritten, oneFolder } from "./gatherFrom";
import { optionConfidence, optionNumber, withNegatives } from "./options";
import { UsageError } from "./usage";

export interface ClaimOptions extends Judging {
  readonly folder: string;
  readonly out: string;
  readonly title: string;
  readonly sheet: string | undefined;
  readonly takeIn: boolean;
  readonly json: boolean;
}

/** By what claims are judged. */
interface Judging {
  readonly rules: EvidenceRules;
  readonly certainty: number;
  /** A bend whose chance is asked for, in the unit of the rules. */
  readonly target: number | undefined;
}

const JUDGING = {
  target: { type: "string" },
  tolerance: { type: "string" },
  uncertainty: { type: "string" },
  certainty: { type: "string" },
  confidence: { type: "string" },
} as const;

const OPTIONS = {
  ...JUDGING,
  claims: { type: "boolean" },
  out: { type: "string" },
  title: { type: "string" },
  units: { type: "string" },
  sheet: { type: "string" },
  force: { type: "boolean" },
  "take-in": { type: "boolean" },
  json: { type: "boolean" },
} as const;

/** @throws UsageError, and CommandError where the page cannot be written */
export async function readClaimOptions(args: string[]): Promise<ClaimOptions> {
  const { values, positionals } = parseArgs({ args: withNegatives(args), allowPositionals: true, options: OPTIONS });
  const folder = oneFolder(positionals);
  const out = pageName(values.out);
  const units = unitsOf(values.units);
  await mayBeWritten(out, values.force);
  return {
    folder,
    out,
    title: values.title ?? "Standing of claimed bends",
    sheet: values.sheet,
    ...judgingOf(values, units),
    takeIn: values["take-in"] === true,
    json: values.json === true,
  };
}

function pageName(out: string | undefined): string {
  if (out === undefined || !/\.html?$/i.test(out))
    throw new UsageError(
      `gather --claims needs --out FILE, a name that ends in .html${out === undefined ? "" : `; it is "${out}"`}.`,
    );
  return out;
}

function unitsOf(units = "us"): "us" | "si" {
  if (units !== "us" && units !== "si") throw new UsageError(`--units is "${units}": give us (in) or si (mm).`);
  return units;
}

function judgingOf(
  values: Readonly<Partial<Record<keyof typeof JUDGING, string | undefined>>>,
  units: "us" | "si",
): Judging {
  const { size, name } = unitOf("small", units);
  const length = (option: "target" | "tolerance" | "uncertainty") => {
    const text = values[option];
    return text === undefined
      ? undefined
      : size * optionNumber(option, text, `a length in ${name} above 0`, (value) => value > 0);
  };
  const { rules, certainty } = rulesOf(
    {
      ...FIRST_EVIDENCE,
      units,
      tolerance: length("tolerance") ?? FIRST_EVIDENCE.tolerance,
      uncertainty: length("uncertainty") ?? FIRST_EVIDENCE.uncertainty,
      certainty: certaintyOf(values.certainty),
    },
    undefined,
    optionConfidence(values.confidence),
  );
  const target = length("target");
  return { rules, certainty, target: target === undefined ? undefined : target / size };
}

function certaintyOf(text: string | undefined): number {
  return text === undefined
    ? FIRST_EVIDENCE.certainty
    : optionNumber("certainty", text, "a share above 0.5 and below 1", (value) => value > 0.5 && value < 1);
}
