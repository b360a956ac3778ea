/** bendbook gather --claims: the claims of many workbooks as one standing, published as a page. */
import { say, toText } from "../experiment/language/said";
import { basename, join } from "node:path";
import { parseArgs } from "node:util";
import { chanceReached, triesText } from "../experiment/evidence/claimWords";
import { marksClaims } from "../experiment/evidence/attemptClaims";
import { FIRST_EVIDENCE, rulesOf } from "../experiment/evidence/evidenceChoice";
import { reasonOf, standings, type EvidenceRules } from "../experiment/evidence/evidence";
import { claimsLog, readClaims } from "../experiment/evidence/readClaims";
import { standingPage, type GatheredClaim, type StandingPage } from "../experiment/evidence/standingPage";
import { counted } from "../experiment/language/wording";
import { attemptColumns } from "../experiment/log/attemptLog";
import { unitOf } from "../experiment/shot/shotSettings";
import { UnknownColumn } from "../experiment/question/rowCheck";
import { canBeWritten, fileExists, filesBelow, samePath, writeBeside } from "../workbook/file/package/disk";
import { FileProblem } from "../workbook/file/package/fileProblem";
import { optionConfidence, optionNumber, withNegatives } from "./options";
import { ownLogs } from "./ownLogs";
import { openFile, recomputed } from "./readLog";
import { CommandError, UsageError, type Voices } from "./usage";

interface ClaimOptions {
  readonly folder: string;
  readonly out: string;
  readonly title: string;
  readonly sheet: string | undefined;
  readonly rules: EvidenceRules;
  readonly certainty: number;
  readonly target: number | undefined;
  readonly takeIn: boolean;
  readonly json: boolean;
}

/** Gathers, writes the page and tells. @returns the exit code */
export async function gatherClaimsCommand(args: string[], { print, progress }: Voices): Promise<number> {
  const options = await readOptions(args);
  const files = (await filesBelow(options.folder, /\.(xlsx|xlsm|csv)$/i)).filter(
    (path) => !samePath(join(options.folder, path), options.out),
  );
  if (files.length === 0) throw new CommandError(`${options.folder} holds no .xlsx or .csv files.`);
  const claims: GatheredClaim[] = [];
  const notGathered: string[] = [];
  for (const [f, file] of files.entries()) {
    const found = await claimsIn(file, options);
    claims.push(...found.claims);
    notGathered.push(...found.notGathered);
    progress(`${f + 1} of ${files.length} files read, ${counted(claims.length, "claim")}`);
  }
  if (claims.length === 0)
    throw new CommandError(
      `no file of ${options.folder} holds claims:\n${notGathered.map((one) => `  ${one}`).join("\n")}`,
    );
  const { title, rules, certainty, target, out } = options;
  const page: StandingPage = { title, made: new Date(), rules, certainty, target, claims, notGathered };
  await writeBeside(out, async (handle) => {
    await handle.writeFile(standingPage(page));
  });
  print(options.json ? JSON.stringify(asJson(page, out), null, 2) : asText(page, out));
  return 0;
}

async function readOptions(args: string[]): Promise<ClaimOptions> {
  const { values, positionals } = parseArgs({
    args: withNegatives(args),
    allowPositionals: true,
    options: {
      claims: { type: "boolean" },
      out: { type: "string" },
      title: { type: "string" },
      units: { type: "string" },
      sheet: { type: "string" },
      target: { type: "string" },
      tolerance: { type: "string" },
      uncertainty: { type: "string" },
      certainty: { type: "string" },
      confidence: { type: "string" },
      force: { type: "boolean" },
      "take-in": { type: "boolean" },
      json: { type: "boolean" },
    },
  });
  const [folder, ...others] = positionals;
  if (folder === undefined) throw new UsageError("gather needs the folder that holds the workbooks.");
  if (others.length > 0) throw new UsageError(`gather takes one folder; these were given: ${positionals.join(", ")}.`);
  const { out, units } = values;
  if (out === undefined || !/\.html?$/i.test(out))
    throw new UsageError(
      `gather --claims needs --out FILE, a name that ends in .html${out === undefined ? "" : `; it is "${out}"`}.`,
    );
  if (units !== undefined && units !== "us" && units !== "si")
    throw new UsageError(`--units is "${units}": give us (in) or si (mm).`);
  if (values.force !== true && (await fileExists(out)))
    throw new CommandError(`${out} is there already: give another name, or --force to replace it.`);
  await canBeWritten(out);
  const { size, name } = unitOf("small", units ?? "us");
  const length = (option: "target" | "tolerance" | "uncertainty") => {
    const text = values[option];
    return text === undefined
      ? undefined
      : size * optionNumber(option, text, `a length in ${name} above 0`, (value) => value > 0);
  };
  const { rules, certainty } = rulesOf(
    {
      ...FIRST_EVIDENCE,
      units: units ?? "us",
      tolerance: length("tolerance") ?? FIRST_EVIDENCE.tolerance,
      uncertainty: length("uncertainty") ?? FIRST_EVIDENCE.uncertainty,
      certainty:
        values.certainty === undefined
          ? FIRST_EVIDENCE.certainty
          : optionNumber(
              "certainty",
              values.certainty,
              "a share above 0.5 and below 1",
              (value) => value > 0.5 && value < 1,
            ),
    },
    undefined,
    optionConfidence(values.confidence),
  );
  const target = length("target");
  return {
    folder,
    out,
    title: values.title ?? "Standing of claimed bends",
    sheet: values.sheet,
    rules,
    certainty,
    target: target === undefined ? undefined : target / size,
    takeIn: values["take-in"] === true,
    json: values.json === true,
  };
}

async function claimsIn(
  file: string,
  { folder, sheet, rules, takeIn }: ClaimOptions,
): Promise<{ readonly claims: readonly GatheredClaim[]; readonly notGathered: readonly string[] }> {
  const claims: GatheredClaim[] = [];
  const notGathered: string[] = [];
  try {
    const { book } = await openFile(join(folder, file));
    const now = await recomputed(book);
    for (const { name } of now.sheets.filter((one) => sheet === undefined || one.name === sheet)) {
      const log = claimsLog(await ownLogs(now, name, takeIn));
      if (!log) continue;
      const origin = `${file}, ${name}`;
      if (attemptColumns(log) && !marksClaims(log)) {
        notGathered.push(
          `${origin}: its attempts are not marked. Put a name into a column headed Claim at the attempt that is claimed.`,
        );
        continue;
      }
      const found = readClaims(log, rules);
      if (found.length === 0) notGathered.push(`${origin}: no row is claimed.`);
      claims.push(...found.map((claim) => ({ claim, origin })));
    }
    if (claims.length === 0 && notGathered.length === 0)
      notGathered.push(`${file}: it has no table of claims, and no log of attempts with a column headed Claim.`);
  } catch (problem) {
    if (!(problem instanceof FileProblem) && !(problem instanceof UnknownColumn)) throw problem;
    notGathered.push(`${file}: ${problem.message.replace(`${basename(file)}: `, "")}`);
  }
  return { claims, notGathered };
}

function asJson({ claims, rules, certainty, target, notGathered }: StandingPage, out: string): unknown {
  const sides = standings(
    claims.map(({ claim }) => claim),
    certainty,
  );
  const placed = new Map(sides.flatMap(({ standing }) => standing.map((one) => [one.claim as unknown, one] as const)));
  return {
    out,
    unit: rules.unit,
    certainty,
    target: target ?? null,
    claims: claims.map(({ claim, origin }) => ({
      claim: claim.label,
      shooter: claim.shooter,
      table: claim.table,
      origin,
      row: claim.row + 1,
      bend: claim.bend ?? null,
      shows: claim.shows,
      standardUncertainty: claim.uncertainty,
      stands: claim.stands,
      because: claim.stands ? null : toText(reasonOf(claim) ?? ""),
      place: placed.get(claim)?.rank ?? null,
      tiedWith: placed.get(claim)?.tiedWith ?? [],
      tries: claim.tries ?? null,
      film: claim.film,
      chance: target === undefined || claim.bend === undefined ? null : chanceReached(claim, target),
    })),
    notGathered,
  };
}

function asText({ claims, certainty, notGathered = [] }: StandingPage, out: string): string {
  const sides = standings(
    claims.map(({ claim }) => claim),
    certainty,
  );
  const list = (headline: string, texts: readonly string[]) =>
    texts.length === 0 ? [] : ["", headline, ...texts.map((text) => `  ${text}`)];
  const fallen = claims.filter(({ claim }) => !claim.stands);
  return [
    `${counted(claims.length, "claim")}, ${claims.length - fallen.length} of which stand. Written to ${out}.`,
    ...sides.flatMap(({ side, standing }) =>
      list(
        `Bends ${side}:`,
        standing.map(
          ({ claim, rank, tiedWith }) =>
            `${rank}. ${claim.label}, ${triesText(claim)}${tiedWith.length > 0 ? `; tied with ${tiedWith.join(", ")}` : ""}`,
        ),
      ),
    ),
    ...list(
      "Not standing:",
      fallen.map(({ claim, origin }) =>
        toText(say`${claim.label} (${origin}, row ${claim.row + 1}): ${reasonOf(claim) ?? ""}`),
      ),
    ),
    ...list("Not gathered:", notGathered),
  ].join("\n");
}
