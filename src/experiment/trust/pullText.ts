/** How hard a row pulls, in words. */
import type { RowInfluence } from "../../statistics/checks/influence";
import { significant } from "../language/wording";

export function pullText({ distance, studentised }: RowInfluence): string {
  const pull = Number.isFinite(distance)
    ? `Cook's distance ${significant(distance, 2)}`
    : "alone determines a coefficient";
  return `${pull}${studentised === null ? "" : `, residual ${significant(studentised, 2)} of its standard errors`}`;
}
