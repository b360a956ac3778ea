/**
 * What the disk refuses is told in a sentence, what a command leaves when it is stopped is nothing, and no heading
 * commands a terminal.
 */
import { spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { commandLine as inFolder } from "./commandLine";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-disk-"));
  writeFileSync(join(folder, "log.csv"), "Bend (in),Speed (mph)\n0.5,8\n0.6,9\n0.65,10\n0.8,12\n");
  mkdirSync(join(folder, "halls"));
  writeFileSync(
    join(folder, "halls", "log.csv"),
    `Bend (in),Speed (mph)\n${Array.from({ length: 60_000 }, (_, i) => `${(i % 97) / 100},${5 + (i % 13)}`).join("\n")}\n`,
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const commandLine = inFolder(() => folder);

const regress = (file: string) => commandLine("regress", file, "--response", "Bend (in)", "--driver", "Speed (mph)");
const gather = (out: string) => commandLine("gather", "halls", "--out", out, "--force");

describe("a fault of the disk", () => {
  it.each<[string, () => { status: number | null; err: string }, RegExp]>([
    ["a full disk", () => gather("/dev/full/set.csv"), /\/dev\/full/],
    [
      "a link that leads in a circle",
      () => (symlinkSync("round.csv", join(folder, "round.csv")), regress("round.csv")),
      /round\.csv is a link that leads in a circle\. Give the file's own path\./,
    ],
    [
      "a name too long",
      () => regress(`${"x".repeat(300)}.csv`),
      /The name of x+ … x+\.csv is too long for this disk\. Give a shorter one\./,
    ],
    ["a name too long to write", () => gather(`${"x".repeat(300)}.csv`), /is too long for this disk/],
    ["a folder in place of a file", () => regress("halls"), /halls is a folder, not a file\./],
    ["a path through a file", () => regress("log.csv/more.csv"), /leads through a file as if it were a folder/],
    ["a folder that is not there", () => gather("nowhere/set.csv"), /There is no folder for nowhere\/set\.csv/],
  ])("such as %s is a sentence", (_, run, words) => {
    const { status, err } = run();
    expect(err).toMatch(words);
    expect(err).not.toMatch(/^\s+at |node:|Error:/m);
    expect(status).toBe(1);
  });

  // A disk of its own, so small that the set does not fit; only where one may be made.
  const small =
    process.platform === "linux" && process.getuid?.() === 0
      ? join(tmpdir(), `bendbook-small-${process.pid}`)
      : undefined;
  const made =
    small !== undefined &&
    (mkdirSync(small), spawnSync("mount", ["-t", "tmpfs", "-o", "size=64k", "tmpfs", small]).status === 0);
  afterAll(() => {
    if (made) spawnSync("umount", [small!]);
    if (small) rmSync(small, { recursive: true, force: true });
  });
  it.runIf(made).each(["csv", "xlsx", "parquet"])(
    "such as a disk that fills up while a .%s is written is a sentence, and leaves nothing",
    (form) => {
      const { status, err } = gather(join(small!, `set.${form}`));
      expect(err).toContain(
        `The disk is full: ${join(small!, `set.${form}`)} was not written. Make room, or choose another place.`,
      );
      expect(err).not.toMatch(/^\s+at /m);
      expect(status).toBe(1);
      expect(readdirSync(small!)).toEqual([]);
    },
  );
});

describe("a command that is stopped", () => {
  /** Where the command puts rows aside: a folder of its own, since other tests gather at the same time. */
  const aside = () => join(folder, "aside");
  beforeAll(() => void mkdirSync(aside()));

  /** Starts gathering and sends the signal once the part of the set is there. */
  async function stopped(signal: "SIGINT" | "SIGTERM" | "SIGKILL"): Promise<string[]> {
    const child = spawn(
      process.execPath,
      [join(import.meta.dirname, "../../bin/bendbook.js"), "gather", "halls", "--out", "set.xlsx"],
      { cwd: folder, stdio: "ignore", env: { ...process.env, TMPDIR: aside(), TEMP: aside() } },
    );
    const part = () => readdirSync(folder).filter((name) => name.endsWith(".part"));
    while (part().length === 0 && child.exitCode === null) await new Promise((resolve) => setTimeout(resolve, 2));
    child.kill(signal);
    await once(child, "exit");
    return part();
  }

  it.each(["SIGINT", "SIGTERM"] as const)("by %s leaves no part of a file", async (signal) => {
    expect(await stopped(signal)).toEqual([]);
    expect(readdirSync(aside())).toEqual([]);
  });

  it("outright leaves a part that the next one takes away", async () => {
    expect(await stopped("SIGKILL")).toHaveLength(1);
    expect(gather("other.csv").status).toBe(0);
    expect(readdirSync(folder).filter((name) => name.endsWith(".part"))).toEqual([]);
  });
});

describe("control characters", () => {
  // ESC, CSI in one character, BEL, carriage return.
  const heading = "Gap\u001b[2J\u009b31m\u0007\rSpeed";
  it.each(["plain", "JSON"])("in headings and names reach nobody's terminal raw, in %s", (form) => {
    writeFileSync(join(folder, "escape.csv"), `Bend (in),"${heading}"\n0.5,8\n0.6,9\n0.65,10\n0.8,12\n`);
    const { out, err } = commandLine(
      "regress",
      "escape.csv",
      "--response",
      "Bend (in)",
      "--driver",
      "nothing",
      ...(form === "JSON" ? ["--json"] : []),
    );
    expect(out + err).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/);
    expect(err).toContain("Gap\\u001b[2J\\u009b31m\\u0007");
  });
});
