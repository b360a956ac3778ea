import { BehaviorSubject } from "rxjs";
import { describe, expect, it } from "vitest";
import { wholeCalculation, type SessionState } from "../../../../src/workbook/embedded/mended/wholeCalculation";
import { demonstration } from "../../../../scripts/samples/demonstration";
import { createEngine } from "../../../../src/workbook/embedded/engine";

class FakeSession {
  readonly state$ = new BehaviorSubject<SessionState>({
    id: 0,
    completed: false,
    stopped: false,
    resultApplied: false,
  });
  get state() {
    return this.state$.value;
  }
  say(part: Partial<SessionState>): void {
    this.state$.next({ ...this.state, ...part });
  }
}
const later = (work: () => void, ms = 5) => setTimeout(work, ms);

describe("a whole calculation", () => {
  it("ends when its results stand in the cells, not before", async () => {
    const session = new FakeSession();
    let applied = false;
    await wholeCalculation(
      session,
      () => {
        session.say({ id: 1, completed: true });
        later(() => {
          applied = true;
          session.say({ resultApplied: true });
        });
      },
      1000,
    );
    expect(applied).toBe(true);
  });

  it("asks again when another start cut it short, even when that other one ended well", async () => {
    const session = new FakeSession();
    let starts = 0;
    await wholeCalculation(
      session,
      () => {
        starts++;
        session.say({ id: session.state.id + 1, completed: false, stopped: false, resultApplied: false });
        if (starts === 1) {
          later(() => session.say({ completed: true, stopped: true, resultApplied: true }));
          later(
            () => session.say({ id: session.state.id + 1, completed: true, stopped: false, resultApplied: true }),
            15,
          );
        } else later(() => session.say({ completed: true, resultApplied: true }));
      },
      2000,
    );
    expect(starts).toBe(2);
  });

  it("asks again when a run goes silent for good", async () => {
    const session = new FakeSession();
    let starts = 0;
    await wholeCalculation(
      session,
      () => {
        starts++;
        session.say({ id: session.state.id + 1, completed: false, resultApplied: false });
        if (starts > 1) later(() => session.say({ completed: true, resultApplied: true }));
      },
      60_000,
    );
    expect(starts).toBe(2);
  });

  it("gives up with a message when nothing ends", async () => {
    const session = new FakeSession();
    await expect(wholeCalculation(session, () => session.say({ id: 1 }), 50)).rejects.toThrow("did not end within");
  });

  it("finds every spill of the demonstration each time it is opened", async () => {
    for (let run = 0; run < 6; run++) {
      const engine = await createEngine(demonstration());
      const answers = engine.live.book().sheets.find(({ name }) => name === "Answers")!;
      expect(answers.rows.flatMap((row) => row ?? []).filter((cell) => cell?.spilled).length).toBe(63);
      engine.dispose();
    }
  });
});
