/** The command line: processor time and memory of whole commands, beside a Node that does nothing. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { sheetOfRows, type BookCell } from "../../src/workbook/book";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { ensureCommandLine } from "../build.mjs";
import { root } from "../install.mjs";
import { oursAtMost, seededRandom, type Measurement, sized } from "./measure";

interface Used {
  /** Processor time, user and system, in ms: the wall clock tells of other work on the machine too. */
  readonly time: number;
  /** The most memory it held, in MB. */
  readonly memory: number;
}

/** Runs Node with these arguments and says what it used. */
function used(folder: string, args: readonly string[]): Used {
  const told = join(folder, "used.json");
  // Linux lets a process begin with the most that its parent held, so what it held itself is asked of /proc there.
  const hook = `import { existsSync, readFileSync, writeFileSync } from "node:fs"; process.on("exit", () => { const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage(); const own = existsSync("/proc/self/status") && /VmHWM:\\s*(\\d+)/.exec(readFileSync("/proc/self/status", "utf8")); writeFileSync(${JSON.stringify(told)}, JSON.stringify({ time: (userCPUTime + systemCPUTime) / 1000, memory: (own ? Number(own[1]) : maxRSS) / 1024 })); });`;
  const imported = `data:text/javascript,${encodeURIComponent(hook)}`;
  const { status, stderr } = spawnSync(process.execPath, ["--import", imported, ...args], {
    cwd: folder,
    encoding: "utf8",
    maxBuffer: 1 << 30,
  });
  if (status !== 0) throw new Error(`${args.join(" ")} ended with ${status}: ${stderr}`);
  return JSON.parse(readFileSync(told, "utf8")) as Used;
}

const ROWS = sized(500_000);
const SHEET_ROWS = sized(100_000);
const HEADINGS =
  "Trial,Table,Cloth,Humidity (%),Speed (mph),Spin,Angle (°),Gap (in),Obstacle gap (in),Bend (in),Clearance (in),Offset (in),Made,Balls,Remarks";

function longCsv(): string {
  const random = seededRandom(16);
  const lines = ["Trial,Table,Cloth,Humidity (%),Speed (mph),Spin,Bend (in),Made"];
  for (let i = 1; i <= ROWS; i++) {
    const [humidity, speed] = [Math.round(30 + 30 * random.uniform()), (4 + 4 * random.uniform()).toFixed(2)];
    const bend = 0.6 + 0.01 * humidity - 0.05 * Number(speed) + 0.2 * random.normal();
    lines.push(
      `${i},T${i % 7},${i % 2 ? "worn" : "new"},${humidity},${speed},${random.uniform().toFixed(1)},${bend.toFixed(4)},${i % 3 ? "yes" : "no"}`,
    );
  }
  return `${lines.join("\n")}\n`;
}

async function largeSheet(): Promise<Uint8Array> {
  const random = seededRandom(16);
  const rows: BookCell[][] = [HEADINGS.split(",").map((value) => ({ value }))];
  for (let i = 0; i < SHEET_ROWS; i++) {
    const at = i + 2;
    const gap = Math.round(16 * random.uniform()) / 16;
    const plain = [i + 1, `T${i % 3}`, i % 2 ? "new" : "worn", Math.round(30 + 30 * random.uniform())];
    const shot = [Math.round(400 + 400 * random.uniform()) / 100, Math.round(10 * random.uniform()) / 10, 20, gap, 1];
    rows.push([
      ...[...plain, ...shot].map((value) => ({ value })),
      { value: 1.125 - gap, formula: `BANK.BEND(H${at})` },
      { value: null, formula: `BANK.CLEARANCE(J${at},I${at})` },
      { value: null, formula: `BANK.OFFSET(J${at},G${at})` },
      ...[i % 3 ? "yes" : "no", "set 1", "as planned"].map((value) => ({ value })),
    ]);
  }
  return (await saveCopy(null, { sheets: [sheetOfRows("Log", rows)], styles: [], names: [] })).bytes;
}

const CHECKS_WHY =
  "Half of it is reading the file into rows; the rest are looking the rows over, the fits, and the checks of the answer.";

export async function commandLineBench(): Promise<Measurement[]> {
  await ensureCommandLine();
  const folder = mkdtempSync(join(tmpdir(), "bendbook-bench-"));
  const program = join(root, "bin", "bendbook.js");
  const demonstration = join(root, "sample-workbooks", "demonstration.xlsx");
  const least = (args: readonly string[], runs = 3): Used =>
    Array.from({ length: runs }, () => used(folder, args)).reduce((a, b) => (b.time < a.time ? b : a));
  try {
    const nothing = least(["-e", ""]);
    const both = (name: string, found: Used, time: number, memory?: number, why?: string): Measurement[] => [
      {
        name: `${name}: processor time`,
        ours: found.time,
        reference: "Node itself",
        referenceTime: nothing.time,
        goal: oursAtMost(time),
        ...(why === undefined ? {} : { why }),
      },
      ...(memory === undefined
        ? []
        : [
            {
              name: `${name}: memory`,
              ours: found.memory,
              reference: "Node itself",
              referenceTime: nothing.memory,
              unit: "MB",
              goal: oursAtMost(memory),
              ...(why === undefined ? {} : { why }),
            },
          ]),
    ];
    const question = ["--response", "Bend (in)", "--driver", "Humidity (%)"];
    const evaluated = least([program, "evaluate", "BANK.BEND(1/8)"]);
    const regressed = least([program, "regress", demonstration, ...question]);
    writeFileSync(join(folder, "log.csv"), longCsv());
    const csv = least(
      [program, "regress", "log.csv", ...question, "--driver", "Speed (mph)", "--category", "Cloth", "--json"],
      1,
    );
    writeFileSync(join(folder, "log.xlsx"), await largeSheet());
    const xlsx = least([program, "regress", "log.xlsx", ...question, "--json"], 1);
    return [
      ...both("evaluate a formula", evaluated, 700),
      ...both("regress on the demonstration", regressed, 800),
      ...both(`regress on a .csv of ${ROWS.toLocaleString("en")} rows`, csv, 5000, 300, CHECKS_WHY),
      ...both("regress on 100,000 × 15 cells of an .xlsx with 300,000 formulas", xlsx, 10_000, 600, CHECKS_WHY),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
