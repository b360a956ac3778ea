/** The claims of a sheet as they are judged now. */
import { useMemo } from "react";
import type { ReachChoice } from "../../experiment/attempts/reachChoice";
import { standings } from "../../experiment/evidence/evidence";
import { claimsSheetOf, FIRST_EVIDENCE, rulesOf, type EvidenceChoice } from "../../experiment/evidence/evidenceChoice";
import { claimsLog, readClaims } from "../../experiment/evidence/readClaims";
import { findTrialLogs } from "../../experiment/log/trialLog";
import type { MeasureForm } from "../../experiment/measure/measureForm";
import { unitOf } from "../../experiment/shot/shotSettings";
import type { Port, SheetSummary } from "../../workbook/port";
import { useSheet } from "../frame/useSheet";

export function useClaims(
  port: Port,
  sheets: readonly SheetSummary[],
  kept: EvidenceChoice | undefined,
  measure: MeasureForm | undefined,
  reach: ReachChoice | undefined,
  confidence: number | undefined,
) {
  const choice = kept ?? FIRST_EVIDENCE;
  const sheet = choice.sheet ?? claimsSheetOf(choice, sheets);
  const data = useSheet(port, sheet);
  const { rules } = useMemo(() => rulesOf(choice, measure, confidence), [choice, measure, confidence]);
  const log = useMemo(() => {
    if (!data) return undefined;
    const logs = findTrialLogs(data);
    return claimsLog(logs) ?? logs[0];
  }, [data]);
  const claims = useMemo(() => (log ? readClaims(log, rules, reach) : []), [log, rules, reach]);
  const sides = useMemo(() => standings(claims, choice.certainty), [claims, choice.certainty]);
  const small = unitOf("small", choice.units);
  const target = measure && measure.target / small.size;
  return { choice, sheet, data, rules, log, claims, sides, small, target };
}

export type ShownClaims = ReturnType<typeof useClaims>;
