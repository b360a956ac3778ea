/** How hard a row pulls, in words. */
import { say, type Said } from "../language/said";
import type { RowInfluence } from "../../statistics/checks/influence";
import { significant } from "../language/wording";

export function pullText({ distance, studentised }: RowInfluence): Said {
  const pull = Number.isFinite(distance)
    ? say`Cook's distance ${significant(distance, 2)}`
    : "alone determines a coefficient";
  return say`${pull}${studentised === null ? "" : say`, residual ${significant(studentised, 2)} of its standard errors`}`;
}
