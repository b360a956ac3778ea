/** The claims of a sheet: a table of claims, or a log of attempts of which some are claimed. */
import type { ReachChoice } from "../attempts/reachChoice";
import { attemptColumns } from "../log/attemptLog";
import type { TrialLog } from "../log/trialLog";
import { attemptClaims } from "./attemptClaims";
import { claimColumns, claimsOf, type Claim, type EvidenceRules } from "./evidence";

/** The log of a sheet that holds claims: a table of claims before a log of attempts; undefined where neither is. */
export function claimsLog(logs: readonly TrialLog[]): TrialLog | undefined {
  return logs.find((log) => isTableOfClaims(log)) ?? logs.find((log) => attemptColumns(log) !== undefined);
}

/** @param choice how a log of attempts is asked, as it is kept with the workbook */
export function readClaims(log: TrialLog, rules: EvidenceRules, choice?: ReachChoice): Claim[] {
  return isTableOfClaims(log) ? claimsOf(log, rules) : attemptClaims(log, rules, choice);
}

function isTableOfClaims(log: TrialLog): boolean {
  return attemptColumns(log) === undefined && claimColumns(log) !== undefined;
}
