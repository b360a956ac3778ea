/** Asks a process of its own to run tests, and ends it when it takes too long. */
import { spawn, type ChildProcess } from "node:child_process";
import { join } from "node:path";
import type { Ask, Told } from "./host";

export interface Ran {
  readonly passed: boolean;
  /** The first test that failed, or that time ran out. */
  readonly failure?: string;
  readonly seconds: number;
  /** Whether time ran out. */
  readonly late?: true;
}

export class Runner {
  private host: ChildProcess | undefined;

  /** @param seconds after which the test counts as failed and the process is ended */
  async run(ask: Ask, seconds: number): Promise<Ran> {
    const host = (this.host ??= await this.start());
    const began = performance.now();
    const answer = await new Promise<Told | undefined>((resolve) => {
      const late = setTimeout(() => resolve(undefined), seconds * 1000);
      host.once("message", (message) => {
        clearTimeout(late);
        resolve(message as Told);
      });
      host.send(ask);
    });
    const took = (performance.now() - began) / 1000;
    if (answer && "passed" in answer) return { ...answer, seconds: took };
    this.end();
    return { passed: false, failure: `no end within ${Math.round(seconds)} s`, seconds: took, late: true };
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
    if (pid !== undefined) process.kill(-pid, "SIGKILL");
  }
}
