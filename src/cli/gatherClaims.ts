/** bendbook gather --claims: the claims of many workbooks as one standing, published as a page. */
import { say, toText } from "../experiment/language/said";
import { basename, join } from "node:path";
import { chanceReached, triesText } from "../experiment/evidence/claimWords";
import { marksClaims } from "../experiment/evidence/attemptClaims";
import { reasonOf, standings } from "../experiment/evidence/evidence";
import { claimsLog, readClaims } from "../experiment/evidence/readClaims";
import { standingPage, type GatheredClaim, type StandingPage } from "../experiment/evidence/standingPage";
import { counted } from "../experiment/language/wording";
import { attemptColumns } from "../experiment/log/attemptLog";
import { UnknownColumn } from "../experiment/question/rowCheck";
import { writeBeside } from "../workbook/file/package/disk";
import { FileProblem } from "../workbook/file/package/fileProblem";
import { readClaimOptions, type ClaimOptions } from "./claimOptions";
import { filesToGather } from "./gatherFrom";
import { ownLogs } from "./ownLogs";
import { openFile, recomputed } from "./readLog";
import { CommandError, type Voices } from "./usage";

/** Gathers, writes the page and tells. @returns the exit code */
export async function gatherClaimsCommand(args: string[], { print, progress }: Voices): Promise<number> {
  const options = await readClaimOptions(args);
  const files = await filesToGather(options);
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
