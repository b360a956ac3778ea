/** What tells made from missed without exception, named: levels of a category and ends of a number. */
import { say, listOf, type Said } from "../language/said";
import type { Driver } from "../../statistics/fit/designMatrix";
import type { LogColumn } from "../log/trialLog";
import { counted, inSentence, significant, withUnit } from "../language/wording";

/** One part for each driver that separates by itself; empty where only several together do. */
export function separators(drivers: readonly Driver[], columns: readonly LogColumn[], made: ArrayLike<number>): Said[] {
  return drivers.flatMap((driver, index) => {
    const column = columns[index];
    if (!column) return [];
    return driver.kind === "category" ? levelParts(driver, column, made) : numberParts(driver.values, column, made);
  });
}

function levelParts(
  { values, levels }: Extract<Driver, { kind: "category" }>,
  { heading }: LogColumn,
  made: ArrayLike<number>,
): string[] {
  const counts = levels.map(() => ({ made: 0, shots: 0 }));
  for (let row = 0; row < values.length; row++) {
    const count = counts[values[row] ?? -1];
    if (!count) continue;
    count.shots++;
    count.made += made[row] ?? 0;
  }
  return levels.flatMap((level, place) => {
    const { made: good = 0, shots = 0 } = counts[place] ?? {};
    if (shots === 0 || (good > 0 && good < shots)) return [];
    return [`${inSentence(heading)} "${level}" (${good === 0 ? "none" : "all"} of ${counted(shots, "shot")} made)`];
  });
}

/** A place along a number with all made on its one side and all missed on the other. */
function numberParts(values: ArrayLike<number>, { heading }: LogColumn, made: ArrayLike<number>): Said[] {
  const of = (outcome: number) => Array.from(values).filter((_, row) => made[row] === outcome);
  const [good, bad] = [of(1), of(0)];
  if (good.length === 0 || bad.length === 0) return [];
  const most = (list: readonly number[]) => list.reduce((a, b) => Math.max(a, b), -Infinity);
  const least = (list: readonly number[]) => list.reduce((a, b) => Math.min(a, b), Infinity);
  const said = (above: string, below: string, at: number, from: number) => [
    say`${inSentence(heading)} (all shots at ${withUnit(significant(from, 4), heading.unit)} or more ${above}, all at ${withUnit(significant(at, 4), heading.unit)} or less ${below})`,
  ];
  if (most(bad) < least(good)) return said("made", "missed", most(bad), least(good));
  if (most(good) < least(bad)) return said("missed", "made", most(good), least(bad));
  return [];
}

/** Why the plain fit has no finite answer. */
export function separationSentence(parts: readonly Said[]): Said {
  const what =
    parts.length > 0
      ? say`These tell made from missed without exception: ${listOf(parts)}. So`
      : "Several drivers together, none by itself, tell made from missed without exception in these rows, so";
  return say`${what} the plain fit has no finite answer; a penalised likelihood after Firth (1993) is given in its place.`;
}
