/**
 * The demonstration in a real browser: how long opening takes to a computed grid and the panel's first answer, and the
 * longest task that opening, typing and another view cost the page's main thread.
 */
import type { Page } from "playwright-core";
import { HELP } from "../../src/panel/frame/help";
import { openBench, showView, startBench, type Bench } from "../../tests/browser/workbenchPage";
import { best, oursAtMost, ratioAtMost, type Measurement } from "./measure";
import { tasksOf, type Tasks } from "./pageTasks";

/** What goes on after something was done, until the page rests, in ms. */
const REST_MS = 2_000;
const VIEWS = (["start", "analysis", "setup", "plan"] as const).map((view) => HELP[view].name);

async function typing(page: Page): Promise<void> {
  await page.mouse.click(300, 400);
  await page.keyboard.type("1.25", { delay: 50 });
  await page.keyboard.press("Enter");
  await page.waitForTimeout(REST_MS);
}

/** What is known of goals that are missed. */
const CLOCK_WHY =
  "Each opening is that of a fresh profile, so the grid library and the panel are compiled anew. Tried: files of their own for both, fetched while the server is asked what to open; it is compiling and first running them that is left.";
const TYPING_WHY =
  "Enter: the grid library closes its editor, submits and moves the selection within one event. Cut in two, the next key could land in the cell just left. Its search of texts for numbers is remembered, and its row of buttons drawn only when there are others. Tried: the buttons' looks a task later, without a gain that could be told from chance.";

async function view(page: Page, name: string): Promise<void> {
  await showView(page, name);
  await page.waitForTimeout(REST_MS);
}

/** What is measured of one page. */
interface PageTasks {
  readonly opening: Tasks;
  readonly typed: Tasks;
  /** The view that costs most. */
  readonly view: Tasks;
}

const longer = (one: Tasks, other: Tasks) => (other.longest > one.longest ? other : one);

async function tasksOfPage(bench: Bench): Promise<PageTasks> {
  const page = await bench.browser.newPage({ viewport: { width: 1400, height: 900 } });
  try {
    const opening = await tasksOf(bench.browser, page, async () => {
      await page.goto(`${bench.address}?open=demonstration`);
      await page.waitForSelector("[data-part=line]");
      await page.waitForTimeout(REST_MS);
    });
    const typed = await tasksOf(bench.browser, page, () => typing(page));
    const views: Tasks[] = [];
    for (const name of VIEWS) views.push(await tasksOf(bench.browser, page, () => view(page, name)));
    return { opening, typed, view: views.reduce(longer) };
  } finally {
    await page.close();
  }
}

/** How many fresh pages the longest tasks are the middle of: one alone may be any of half to twice as long. */
const PAGES = 3;

async function tasks(bench: Bench): Promise<Measurement[]> {
  const pages: PageTasks[] = [];
  for (let i = 0; i < PAGES; i++) pages.push(await tasksOfPage(bench));
  const middle = (of: (page: PageTasks) => Tasks) =>
    pages.map(of).sort((one, other) => one.longest - other.longest)[Math.floor(PAGES / 2)]!;
  const measured = (what: string, goal: number, { longest, total }: Tasks, why?: string): Measurement => ({
    name: `longest task of the page's main thread, ${what}, processor time, median of ${PAGES} pages`,
    ours: longest,
    reference: "all tasks of the same time",
    referenceTime: total,
    goal: oursAtMost(goal),
    ...(why === undefined ? {} : { why }),
  });
  return [
    measured(
      "opening the demonstration",
      400,
      middle(({ opening }) => opening),
    ),
    measured(
      "typing into it",
      50,
      middle(({ typed }) => typed),
      TYPING_WHY,
    ),
    measured(
      `going through ${VIEWS.length} views`,
      100,
      middle(({ view: shown }) => shown),
    ),
  ];
}

export async function openingBench(): Promise<Measurement[]> {
  const bench = await startBench();
  try {
    const open = async () => {
      const { page } = await openBench(bench);
      await page.waitForSelector("[data-part=line]");
      await page.close();
    };
    const empty = async () => {
      const page = await bench.browser.newPage();
      await page.goto(`${bench.address}icon-32.png`);
      await page.close();
    };
    const ours = await best(3, open);
    const referenceTime = await best(3, empty);
    return [
      {
        name: "open the demonstration to grid and answer",
        ours,
        reference: "opening a page with one icon",
        referenceTime,
        goal: ratioAtMost(100),
      },
      {
        name: "open the demonstration, time by the clock",
        ours,
        reference: "opening a page with one icon",
        referenceTime,
        goal: oursAtMost(2000),
        why: CLOCK_WHY,
      },
      ...(await tasks(bench)),
    ];
  } finally {
    await bench.close();
  }
}
