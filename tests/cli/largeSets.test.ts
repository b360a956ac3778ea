/** Sets that a database holds: gathered Parquet in an analysis engine, and the answer from sums that it takes. */
import { DuckDBInstance, type DuckDBConnection } from "@duckdb/node-api";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { seededRandom } from "../../scripts/samples/random";
import { commandLine } from "./commandLine";

const PAGE = readFileSync(join(import.meta.dirname, "../../docs/large-sets.md"), "utf8");
const SQL = /```sql\n([^]*?)```/.exec(PAGE)?.[1] ?? "";
const QUESTION = ["--response", "Bend (in)", "--driver", "Humidity (%)", "--driver", "Speed (mph)"];

let folder: string;
let database: DuckDBConnection;
const bendbook = commandLine(() => folder);
const json = (...args: string[]) => {
  const { status, out, err } = bendbook(...args, "--json");
  expect(err).toBe("");
  expect(status).toBe(0);
  return JSON.parse(out);
};

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-sets-"));
  mkdirSync(join(folder, "halls"));
  const random = seededRandom(16);
  for (const hall of ["north", "south"]) {
    const lines = ["Trial,Date,Cloth,Humidity (%),Speed (mph),Bend (in)"];
    for (let i = 1; i <= 300; i++) {
      const [humidity, speed] = [Math.round(30 + 30 * random.uniform()), (4 + 8 * random.uniform()).toFixed(2)];
      const bend = 1 - 0.006 * humidity + 0.02 * Number(speed) + (i % 2 ? 0.1 : 0) + 0.08 * random.normal();
      // Some shots were not read: a blank is no 0, here or in SQL.
      lines.push(
        `${i},2026-02-${String(1 + (i % 20)).padStart(2, "0")},${i % 2 ? "new" : "worn"},${humidity},${speed},${i % 50 ? bend.toFixed(4) : ""}`,
      );
    }
    writeFileSync(join(folder, "halls", `${hall}.csv`), `${lines.join("\n")}\n`);
  }
  json("gather", "halls", "--out", "trials.parquet");
  database = await (await DuckDBInstance.create()).connect();
  await database.run(`CREATE VIEW trials AS SELECT * FROM '${join(folder, "trials.parquet").replace(/'/g, "''")}'`);
});
afterAll(() => {
  database.closeSync();
  rmSync(folder, { recursive: true, force: true });
});

const rowsOf = async (sql: string) => (await database.runAndReadAll(sql)).getRowObjectsJson();

/** Numbers agree to ten digits; of sums of 600 rows in another order 13 are to be expected. */
function expectAlike(ours: unknown, wanted: unknown, path = ""): void {
  if (typeof wanted === "number") {
    expect(typeof ours, path).toBe("number");
    expect(Math.abs(Number(ours) - wanted), path).toBeLessThanOrEqual(1e-10 * Math.abs(wanted));
  } else if (wanted !== null && typeof wanted === "object")
    for (const [key, value] of Object.entries(wanted))
      expectAlike((ours as Record<string, unknown>)[key], value, `${path}.${key}`);
  else expect(ours, path).toBe(wanted);
}

describe("a gathered set in an analysis engine", () => {
  it("has the columns, kinds and rows that were gathered", async () => {
    const kinds = await rowsOf("DESCRIBE trials");
    expect(Object.fromEntries(kinds.map((one) => [one["column_name"], one["column_type"]]))).toMatchObject({
      Origin: "VARCHAR",
      "Origin row": "DOUBLE",
      Cloth: "VARCHAR",
      "Humidity (%)": "DOUBLE",
      "Bend (in)": "DOUBLE",
      Date: expect.stringMatching(/^TIMESTAMP/),
    });
    const [counts] = await rowsOf(
      `SELECT COUNT(*)::INT AS n, COUNT("Bend (in)")::INT AS bends, MIN("Date")::VARCHAR AS first, SUM(CASE WHEN "Origin" = 'south.csv' THEN 1 ELSE 0 END)::INT AS south FROM trials`,
    );
    expect(counts).toMatchObject({ n: 600, bends: 588, south: 300 });
    expect(String(counts?.["first"])).toMatch(/^2026-02-01/);
  });
});

describe("the answer from sums", () => {
  it("is the answer from the rows, by the SQL of docs/large-sets.md", async () => {
    await database.run(`COPY (${SQL}) TO '${join(folder, "sums.csv")}' (HEADER)`);
    await database.run(`COPY (${SQL}) TO '${join(folder, "sums.parquet")}' (FORMAT parquet)`);
    // "worn" first, so that it is the level that "new" is compared with.
    await database.run(
      `COPY (SELECT * FROM trials ORDER BY "Cloth" DESC) TO '${join(folder, "worn-first.parquet")}' (FORMAT parquet)`,
    );
    const rows = json("regress", "worn-first.parquet", ...QUESTION, "--category", "Cloth", "--confidence", "0.9");
    for (const file of ["sums.csv", "sums.parquet"]) {
      const sums = json("regress", "--from-sums", file, ...QUESTION, "--driver", "Cloth: new", "--confidence", "0.9");
      expect(sums.rowsUsed).toBe(588);
      for (const key of ["rowsUsed", "terms", "residual", "rSquared", "F"]) expectAlike(sums[key], rows[key], key);
    }
  });

  it("says what of the sums is missing, and what sums cannot answer", () => {
    const without = bendbook("regress", "--from-sums", "sums.csv", "--response", "Bend (in)", "--driver", "Spin");
    expect(without).toMatchObject({ status: 1, err: expect.stringContaining('no column "mean of Spin"') });
    const random = bendbook("regress", "--from-sums", "sums.csv", ...QUESTION, "--random", "Date");
    expect(random).toMatchObject({ status: 2, err: expect.stringContaining("--random needs the rows themselves") });
    expect(bendbook("regress", "--from-sums", "sums.csv", ...QUESTION).out).toContain(
      "Sums say nothing of single rows",
    );
  });

  it("refuses drivers that determine each other", () => {
    const head = ["rows", "mean of y", "mean of a", "mean of b", "y with y", "y with a", "y with b"];
    writeFileSync(
      join(folder, "twice.csv"),
      `${[...head, "a with a", "a with b", "b with b"].join(",")}\n9,1,2,4,8,3,6,5,10,20\n`,
    );
    const { status, err } = bendbook(
      "regress",
      "--from-sums",
      "twice.csv",
      "--response",
      "y",
      "--driver",
      "a",
      "--driver",
      "b",
    );
    expect(status).toBe(1);
    expect(err).toContain("determine each other");
  });
});

describe("Parquet in place of a log", () => {
  it("is read by regress, compare and reach, and whatever is no Parquet is told", () => {
    const compared = json("compare", "trials.parquet", "--response", "Bend (in)", "--among", "Cloth");
    expect(compared.rowsUsed).toBe(588);
    const lines = ["Gap (in),Outcome,Humidity (%)"];
    for (let i = 0; i < 60; i++)
      lines.push(
        `${[0.5, 0.75, 1][i % 3]},${["cleared", "hit obstacle", "made", "hit obstacle"][i % 4]},${40 + (i % 7)}`,
      );
    mkdirSync(join(folder, "attempts"));
    writeFileSync(join(folder, "attempts", "a.csv"), lines.join("\n"));
    json("gather", "attempts", "--out", "attempts.parquet");
    const asked = ["--gap", "Gap (in)", "--outcome", "Outcome"];
    expect(json("reach", "attempts.parquet", ...asked).reach).toEqual(
      json("reach", join("attempts", "a.csv"), ...asked).reach,
    );
    writeFileSync(join(folder, "cut.parquet"), readFileSync(join(folder, "trials.parquet")).subarray(0, 2000));
    expect(bendbook("regress", "cut.parquet", ...QUESTION)).toMatchObject({
      status: 1,
      err: expect.stringContaining("cannot be read as Parquet"),
    });
  });
});
