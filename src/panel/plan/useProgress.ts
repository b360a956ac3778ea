/** How far the plan on its sheet is. */
import { useMemo } from "react";
import { PlanProblem } from "../../experiment/plan/plan";
import { planProgress, type PlanProgress } from "../../experiment/plan/planSheet";
import type { Port } from "../../workbook/port";
import { useSheet } from "../frame/useSheet";

export interface ShownProgress {
  /** Undefined where there is no plan on a sheet, or it cannot be read as one. */
  readonly going: PlanProgress | undefined;
  /** Why it cannot be read. */
  readonly problem: string | undefined;
  /** The sheet was there and is not any more. */
  readonly gone: boolean;
}

export function useProgress(port: Port, sheet: string | undefined): ShownProgress {
  const data = useSheet(port, sheet);
  return useMemo(() => {
    const gone = sheet !== undefined && data === null;
    if (!data) return { going: undefined, problem: undefined, gone };
    try {
      return { going: planProgress(data), problem: undefined, gone };
    } catch (problem) {
      if (problem instanceof PlanProblem) return { going: undefined, problem: problem.message, gone };
      throw problem;
    }
  }, [data, sheet]);
}
