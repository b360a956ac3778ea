/** A driver more in the panel at 100,000 rows; what is measured stands in changedQuestionRun.ts. */
import { asShipped } from "./asShipped";
import { oursAtMost, type Measurement } from "./measure";

export async function changedQuestionBench(): Promise<Measurement[]> {
  const { times, scratch } = await asShipped<{ times: number[]; scratch: number }>("changedQuestionRun");
  const sorted = [...times].sort((a, b) => a - b);
  return [
    {
      name: `add a driver in the panel at 100,000 rows, median of ${times.length}, processor time`,
      ours: sorted[times.length >> 1],
      reference: "the same question from scratch",
      referenceTime: scratch,
      goal: oursAtMost(100),
      why: "The new column is read and checked, and all rows go once more through its products with the others, the residuals and the sessions' own sums.",
    },
  ];
}
