/** Asks a process of its own to run tests, and ends it when it takes too long. */
import { spawn, type ChildProcess } from "node:child_process";
import { join } from "node:path";
import type { Ask, Told } from "./host";
import { processorSeconds } from "./processorTime";

export interface Ran {
  readonly passed: boolean;
  /** The first test that failed, or that time ran out. */
  readonly failure?: string;
  /** Of processor time: what others do on the machine meanwhile does not count. */
  readonly seconds: number;
  /** Whether time ran out. */
  readonly late?: true;
}

/** How often the time is looked at, in ms. */
const LOOK = 1000;
/** Who does this little for this long waits for what never comes, in seconds. */
const IDLE = { work: 0.1, during: 90 };

export class Runner {
  private host: ChildProcess | undefined;

  /** @param limit seconds of processor time after which the test counts as failed and the process is ended */
  async run(ask: Ask, limit: number): Promise<Ran> {
    const host = (this.host ??= await this.start());
    const began = spentBy(host);
    let stops: string | undefined;
    let last = { spent: began, at: performance.now() };
    const answer = await new Promise<Told | undefined>((resolve) => {
      const watch = setInterval(() => {
        const [spent, at] = [spentBy(host), performance.now()];
        if (spent - began > limit) stops = `no end within ${Math.round(limit)} s of processor time`;
        else if (spent - last.spent > IDLE.work) last = { spent, at };
        else if (at - last.at > IDLE.during * 1000) stops = "waits for what does not come";
        if (stops !== undefined) settle(undefined);
      }, LOOK);
      const settle = (told: Told | undefined) => {
        clearInterval(watch);
        host.removeAllListeners();
        resolve(told);
      };
      host.once("message", (message) => settle(message as Told));
      host.once("exit", () => settle(undefined));
      host.send(ask);
    });
    if (answer && "passed" in answer) return { ...answer, seconds: spentBy(host) - began };
    this.end();
    return { passed: false, failure: stops ?? "the process ended", seconds: last.spent - began, late: true };
  }

  private async start(): Promise<ChildProcess> {
    const host = spawn(process.execPath, ["--import", "tsx", join(import.meta.dirname, "host.ts")], {
      stdio: ["ignore", "ignore", "inherit", "ipc"],
      // A group of its own, so that the runner's workers end with it.
      detached: true,
    });
    await new Promise((ready) => host.once("message", ready));
    return host;
  }

  end(): void {
    const pid = this.host?.pid;
    this.host = undefined;
    if (pid !== undefined) endGroup(pid);
  }
}

function spentBy({ pid }: ChildProcess): number {
  return pid === undefined ? 0 : processorSeconds(pid);
}

function endGroup(pid: number): void {
  try {
    process.kill(-pid, "SIGKILL");
  } catch {
    // It has ended by itself.
  }
}
