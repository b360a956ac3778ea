/**
 * The accuracy table: what tests/outside compares with publications, certified sets and R, and how far it agreed in a
 * run of just these tests.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join, relative } from "node:path";

interface Noted {
  readonly testPath: string;
  readonly currentTestName: string;
  readonly digits: number;
}

interface Reported {
  readonly testResults: readonly {
    readonly name: string;
    readonly assertionResults: readonly {
      readonly ancestorTitles: readonly string[];
      readonly title: string;
      readonly status: string;
    }[];
  }[];
}

const root = join(import.meta.dirname, "..", "..");

/** Runs the tests. @returns the section, and how many of them failed */
export function outsideSection(): { readonly text: string; readonly failed: number } {
  const folder = mkdtempSync(join(tmpdir(), "bendbook-agreement-"));
  const [noted, reported] = [join(folder, "noted.jsonl"), join(folder, "report.json")];
  spawnSync(
    process.execPath,
    [
      join(root, "node_modules", "vitest", "vitest.mjs"),
      "run",
      "--project",
      "node",
      "tests/outside",
      "--testTimeout=600000",
      "--hookTimeout=600000",
      "--reporter=json",
      `--outputFile=${reported}`,
    ],
    { cwd: root, env: { ...process.env, BENDBOOK_AGREEMENT: noted }, stdio: ["ignore", "ignore", "inherit"] },
  );
  const agreed = existsSync(noted)
    ? readFileSync(noted, "utf8")
        .trim()
        .split("\n")
        .map((line) => JSON.parse(line) as Noted)
    : [];
  const { testResults } = JSON.parse(readFileSync(reported, "utf8")) as Reported;
  rmSync(folder, { recursive: true });
  const rows = [...testResults]
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap(({ name, assertionResults }) => assertionResults.map((one) => rowOf(name, one, agreed)));
  return {
    text: [...LEAD, ...rows.map(({ cells }) => `| ${cells.join(" | ")} |`)].join("\n"),
    failed: rows.filter(({ failed }) => failed).length,
  };
}

const LEAD = [
  "## outside",
  "",
  "What is computed against what stands outside the project: certified sets, publications, R and its packages, and second programs. Expected is equality, to the tolerance that each test justifies; the source of each value stands beside it in the test.",
  "",
  "Numbers: how many were compared by digits; digits: the fewest to which one of them agrees, 16 being equal; where none is counted, the test compares to the digits that the source prints. The last column says whether some value in that file is quoted from memory or is common practice: which one, the file says.",
  "",
  "| file in tests/outside | compared | numbers | digits | held | from memory |",
  "| --- | --- | --- | --- | --- | --- |",
];

function rowOf(
  path: string,
  { ancestorTitles, title, status }: Reported["testResults"][number]["assertionResults"][number],
  agreed: readonly Noted[],
): { readonly cells: readonly string[]; readonly failed: boolean } {
  const full = [...ancestorTitles, title].join(" > ");
  const own = agreed.filter(({ testPath, currentTestName }) => testPath === path && currentTestName === full);
  const fewest = Math.min(...own.map(({ digits }) => digits));
  const failed = status === "failed";
  return {
    failed,
    cells: [
      basename(relative(root, path), ".test.ts"),
      [...ancestorTitles, title].join(": ").replaceAll("|", "\\|"),
      own.length === 0 ? "" : String(own.length),
      own.length === 0 ? "" : fewest.toFixed(1),
      failed ? "no" : status === "passed" ? "yes" : "not run",
      /from memory|common practice/i.test(readFileSync(path, "utf8")) ? "some" : "",
    ],
  };
}
