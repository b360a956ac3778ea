/**
 * A log of 100,000 rows with 300,000 BANK formulas in a real browser: opening, one edit, memory, and how the work grows
 * from a fourth of it.
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { startBench } from "../../tests/browser/workbenchPage";
import { bigLog } from "./bigLog";
import { oursAtMost, ratioAtMost, type Measurement, sized } from "./measure";
import { tasksOf, type Tasks } from "./pageTasks";

const ROWS = sized(100_000);
const PATIENCE = { timeout: 600_000 };
/** What goes on after an edit until the page rests, in ms: the workbook is kept whole. */
const REST_MS = 10_000;

interface Opened {
  readonly opening: Tasks;
  /** By the clock, in ms. */
  readonly clock: number;
  readonly edit: Tasks;
  /** In ms of the clock, from the key that enters the gap until its bend is another. */
  readonly result: number;
  /** Heap of the page after opening, in MB. */
  readonly heap: number;
}

/** Enters a gap in the first row and waits for the next picture: its bend is computed before that. */
async function edited(page: Page): Promise<number> {
  const box = page.locator("#grid [data-u-comp=defined-name] input");
  await box.fill("J2");
  await box.press("Enter");
  await page.keyboard.type("1.5");
  const began = performance.now();
  await page.keyboard.press("Enter");
  await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve))));
  return performance.now() - began;
}

async function opened(rows: number): Promise<Opened> {
  const folder = mkdtempSync(join(tmpdir(), "bendbook-bench-"));
  const file = join(folder, "log.xlsx");
  writeFileSync(file, await bigLog(rows));
  const bench = await startBench(file);
  try {
    const page = await bench.browser.newPage({ viewport: { width: 1400, height: 900 } });
    const session = await page.context().newCDPSession(page);
    await session.send("Performance.enable");
    const began = performance.now();
    let clock = 0;
    const opening = await tasksOf(bench.browser, page, async () => {
      await page.goto(bench.address, PATIENCE);
      await page.waitForSelector("body[data-ready]", PATIENCE);
      clock = performance.now() - began;
      await page.waitForTimeout(REST_MS);
    });
    const { metrics } = await session.send("Performance.getMetrics");
    let result = 0;
    const edit = await tasksOf(bench.browser, page, async () => {
      result = await edited(page);
      await page.waitForTimeout(REST_MS);
    });
    const heap = (metrics.find(({ name }) => name === "JSHeapUsedSize")?.value ?? NaN) / 1e6;
    return { opening, clock, edit, result, heap };
  } finally {
    await bench.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

export async function bigLogPageBench(): Promise<Measurement[]> {
  const fourth = await opened(ROWS / 4);
  const whole = await opened(ROWS);
  const log = `a log of ${ROWS.toLocaleString("en")} rows with ${(3 * ROWS).toLocaleString("en")} formulas`;
  const reference = "the same, a fourth of it";
  const library =
    "What is left is the grid library's: building its services and toolbar with the workbook, and once more after its first drawing, are one task each (src/workbook/embedded/README.md).";
  return [
    {
      name: `open ${log} in the page, processor time of its main thread`,
      ours: whole.opening.total,
      reference,
      referenceTime: fourth.opening.total,
      goal: ratioAtMost(4.4),
    },
    {
      name: `open ${log} in the page, time by the clock`,
      ours: whole.clock,
      reference,
      referenceTime: fourth.clock,
      goal: oursAtMost(40_000),
    },
    {
      name: `longest task of the page's main thread, opening ${log}, processor time`,
      ours: whole.opening.longest,
      reference,
      referenceTime: fourth.opening.longest,
      goal: oursAtMost(200),
      why: library,
    },
    {
      name: `one edit in ${log}, from the key to the next picture`,
      ours: whole.result,
      reference,
      referenceTime: fourth.result,
      goal: oursAtMost(500),
    },
    {
      name: `longest task of the page's main thread, one edit in ${log} and keeping it, processor time`,
      ours: whole.edit.longest,
      reference,
      referenceTime: fourth.edit.longest,
      goal: oursAtMost(200),
      why: library,
    },
    {
      name: `heap of the page with ${log} open`,
      ours: whole.heap,
      unit: "MB",
      reference,
      referenceTime: fourth.heap,
      goal: oursAtMost(1000),
    },
  ];
}
