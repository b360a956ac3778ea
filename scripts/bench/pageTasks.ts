/**
 * The tasks of a page's main thread while something is done to it: how long the longest took and all together, in
 * processor time of that thread, which other work on the machine does not lengthen.
 */
import type { Browser, Page } from "playwright-core";

export interface Tasks {
  /** In ms of processor time. */
  readonly longest: number;
  readonly total: number;
}

interface TraceEvent {
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  readonly ph: string;
  /** Processor time of the thread, in µs. */
  readonly tdur?: number;
  readonly args?: { readonly name?: string; readonly data?: { readonly type?: string } };
}

/** Does something to the page and says what that cost its main thread. */
export async function tasksOf(browser: Browser, page: Page, act: () => Promise<unknown>): Promise<Tasks> {
  await browser.startTracing(page, { categories: ["toplevel", "devtools.timeline", "__metadata"] });
  await act();
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: TraceEvent[] };
  const mains = new Set(
    traceEvents
      .filter(({ name, args }) => name === "thread_name" && args?.name === "CrRendererMain")
      .map(({ pid, tid }) => `${pid} ${tid}`),
  );
  const tasks = traceEvents
    .filter(({ name, pid, tid, ph }) => /RunTask$/.test(name) && ph === "X" && mains.has(`${pid} ${tid}`))
    .map(({ tdur = 0 }) => tdur / 1000);
  if (tasks.length === 0) throw new Error("The browser's trace shows no task of the page's main thread.");
  return { longest: Math.max(...tasks), total: tasks.reduce((total, one) => total + one, 0) };
}
