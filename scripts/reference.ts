/** npm run reference: makes the stored reference values anew, where R and its packages are installed. Tests read the stored values only. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";

const root = join(import.meta.dirname, "..");
const failed = ["sessions.R", "statistics.R"].some((script) => {
  const { status, error } = spawnSync(
    "Rscript",
    [join(root, "scripts", "reference", script), join(root, "tests", "outside", "reference")],
    { stdio: "inherit" },
  );
  if (error)
    console.error(
      `Rscript could not be started (${error.message}): install R with lme4, lmerTest, pbkrtest, sandwich, clubSandwich, emmeans, car and jsonlite.`,
    );
  return error !== undefined || status !== 0;
});
process.exitCode = failed ? 1 : 0;
