/** The worked evening of docs/evening.md: what it quotes is what the program says of these attempts. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { EVENING_ATTEMPTS, EVENING_MODEL, EVENING_TARGET, eveningOutcomes } from "../scripts/samples/evening";
import { sheetOf } from "../scripts/evidence/sheetOf";
import { targetSentence } from "../src/experiment/attempts/targetWords";
import type { Outcome } from "../src/experiment/log/outcome";
import { findTrialLogs } from "../src/experiment/log/trialLog";
import { attemptHeadings } from "../src/experiment/shoot/attemptSheet";
import { shootLog } from "../src/experiment/shoot/shootLog";
import { proposedGap, sessionCounts, sessionReach, stepOf } from "../src/experiment/shoot/shootNow";
import { answerLine, gapText } from "../src/experiment/shoot/shootWords";
import { toText } from "../src/experiment/language/said";

const TODAY = 46353; // 2026-11-27

/** The log after these attempts, one session. */
function logAfter(attempts: readonly (readonly [gap: number, outcome: Outcome])[]) {
  const body = attempts.map(([gap, outcome], i) => [i + 1, TODAY, "S1", null, null, null, gap, 1.125 - gap, outcome]);
  // A new log has its trials numbered.
  const data = sheetOf([attemptHeadings("us"), ...body, [attempts.length + 1]]);
  const shoot = shootLog(findTrialLogs(data)[0]!, data);
  if (!shoot || "problem" in shoot) throw new Error("it is a log of attempts");
  return shoot;
}

it("says what the page of the worked evening quotes", () => {
  const draw = eveningOutcomes();
  const attempts: [number, Outcome][] = [];
  const gaps: string[] = [];
  for (let i = 0; i < EVENING_ATTEMPTS; i++) {
    const { gap } = proposedGap(
      logAfter(attempts),
      attempts.map((_, at) => at),
      stepOf("in", ""),
    );
    gaps.push(toText(gapText(gap, "in")));
    attempts.push([gap, draw(gap)]);
  }
  const shoot = logAfter(attempts);
  const answer = sessionReach(shoot, shoot.shot)!;
  const page = readFileSync(join(import.meta.dirname, "../docs/evening.md"), "utf8");
  for (const quoted of [
    EVENING_MODEL,
    gaps.slice(0, 6).join(", "),
    toText(answerLine(answer)),
    toText(sessionCounts(shoot, answer, "S1")),
    toText(targetSentence(answer, EVENING_TARGET, "")!),
  ])
    expect(page).toContain(quoted);
});
