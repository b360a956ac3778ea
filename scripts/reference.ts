/**
 * npm run reference: makes the stored reference values anew, where R and its packages are installed. Tests read the
 * stored values only.
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";

const root = join(import.meta.dirname, "..");
const folder = join(root, "tests", "outside", "reference");
for (const script of ["sessions.R", "statistics.R", "attempts.R"]) {
  const { status, error } = spawnSync("Rscript", [join(root, "scripts", "reference", script), folder], {
    stdio: "inherit",
  });
  if (error)
    console.error(
      `Rscript could not be started (${error.message}): install R with lme4, lmerTest, pbkrtest, sandwich, clubSandwich, emmeans, car, survival and jsonlite.`,
    );
  if (error || status !== 0) process.exitCode = status ?? 1;
}
