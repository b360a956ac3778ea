/**
 * Writes src/functions/functions.json from the comments in functions.ts, and signatures.json, which is the same without
 * its texts; fails when the generator has any complaint.
 */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { generateCustomFunctionsMetadata } from "custom-functions-metadata";
import { manifestPort, readManifest } from "./manifest";

export async function functionsMetadata(): Promise<string> {
  const result = await generateCustomFunctionsMetadata(
    fileURLToPath(new URL("../src/functions/functions.ts", import.meta.url)),
  );
  if (result.errors.length > 0) throw new Error(`functions.ts: ${result.errors.join("; ")}`);
  const generated = JSON.parse(result.metadataJson) as { functions: { name: string }[] };
  const help = `https://localhost:${manifestPort(readManifest())}/functions.html`;
  // Without the second Excel answers for a function as soon as one cell of a range holds an error, and by the first an
  // Excel with data types hands over a blank as a blank; the generator can say neither.
  const metadata = {
    allowCustomDataForDataTypeAny: true,
    allowErrorForDataTypeAny: true,
    ...generated,
    functions: generated.functions.map((one) => ({ ...one, helpUrl: `${help}#BANK.${one.name}` })),
  };
  return `${JSON.stringify(metadata, null, 2)}\n`;
}

/** What Excel asks for and no call does. */
const UNCALLED: ReadonlySet<string> = new Set(["description", "helpUrl", "result", "type"]);

/** What a call needs of functions.json: Excel has its texts from there, so the script of the functions carries none. */
export function functionSignatures(metadata: string): string {
  const { functions } = JSON.parse(metadata, (key, value) => (UNCALLED.has(key) ? undefined : value));
  return `${JSON.stringify({ functions }, null, 2)}\n`;
}

// Tests import this file too; only scripts/run.mjs starts it.
if (/[\\/]run\.mjs$/.test(process.argv[1] ?? "")) {
  const metadata = await functionsMetadata();
  writeFileSync(new URL("../src/functions/functions.json", import.meta.url), metadata);
  writeFileSync(new URL("../src/functions/signatures.json", import.meta.url), functionSignatures(metadata));
}
