/** Gathering of many files into one set, in a process whose memory is held down: how the time grows with the rows. */
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { best, ratioAtMost, seededRandom, type Measurement, sized } from "./measure";

const ROWS = sized(8400);
/** Heap of the process, in MB: a million rows of twelve cells would need several times this. */
const HEAP = 512;
const program = join(import.meta.dirname, "../../bin/bendbook.js");

function halls(folder: string, files: number): void {
  mkdirSync(folder);
  const random = seededRandom(7);
  for (let f = 0; f < files; f++) {
    const metric = f % 3 === 0;
    const lines = [
      `Trial,Session,Table,Cloth,Humidity (%),Speed (${metric ? "m/s" : "mph"}),Spin,Angle (°),Bend (${metric ? "mm" : "in"}),Made,Date,Remarks`,
    ];
    for (let i = 1; i <= ROWS; i++) {
      const bend = 0.6 + 0.2 * random.normal();
      lines.push(
        `${i},S${Math.ceil(i / 20)},T${f},${i % 2 ? "worn" : "new"},${Math.round(30 + 30 * random.uniform())},${(2 + 5 * random.uniform()).toFixed(2)},${random.uniform().toFixed(2)},20,${((metric ? 25.4 : 1) * bend).toFixed(4)},${i % 3 ? "yes" : "no"},2026-02-02,`,
      );
    }
    writeFileSync(join(folder, `hall${String(f).padStart(3, "0")}.csv`), `${lines.join("\n")}\n`);
  }
}

export async function gatheringBench(): Promise<Measurement[]> {
  const folder = mkdtempSync(join(tmpdir(), "bendbook-bench-"));
  try {
    const gather = (files: number) => {
      const halls = `halls${files}`;
      const { status, stderr } = spawnSync(
        process.execPath,
        [`--max-old-space-size=${HEAP}`, program, "gather", halls, "--out", `${halls}.parquet`, "--force"],
        { cwd: folder, encoding: "utf8" },
      );
      if (status !== 0) throw new Error(`gathering failed: ${stderr}`);
    };
    halls(join(folder, "halls120"), 120);
    halls(join(folder, "halls30"), 30);
    return [
      {
        name: `gather 120 files, ${(120 * ROWS).toLocaleString("en")} rows, into Parquet in a heap of ${HEAP} MB`,
        ours: await best(1, () => gather(120)),
        reference: "the same, 30 files",
        referenceTime: await best(1, () => gather(30)),
        goal: ratioAtMost(4.4),
      },
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
