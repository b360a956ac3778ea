/** The port from a page of its own to the pane: long texts in pieces, refusals in their words, changes as they come. */
import { describe, expect, it } from "vitest";
import { portAcross, servePort } from "../../src/taskpane/acrossPages";
import type { Port, SheetChange } from "../../src/workbook/port";

function connected(pane: Partial<Port>) {
  const sent: string[] = [];
  const browsed: string[] = [];
  let change: (change: SheetChange) => void = () => undefined;
  let stopped = false;
  const onChange: Port["onChange"] = (listener) => {
    change = listener;
    return () => void (stopped = true);
  };
  let toPage: (piece: string) => void = () => undefined;
  const { take, stop } = servePort(
    { ...pane, onChange } as Port,
    (piece) => {
      sent.push(piece);
      queueMicrotask(() => toPage(piece));
    },
    (address) => browsed.push(address),
  );
  const { port, browse } = portAcross(
    (piece) => queueMicrotask(() => take(piece)),
    (listener) => void (toPage = listener),
  );
  return { port, browse, browsed, sent, stop, stopped: () => stopped, changed: (one: SheetChange) => change(one) };
}

describe("the port of a page of its own", () => {
  it("hands over what is asked and what comes of it, however long, in answers that belong to their questions", async () => {
    const values = Array.from({ length: 5000 }, (_, r) => [r / 3, null, `shot "${r}"`, { error: "#N/A" }]);
    const asked: unknown[] = [];
    const { port, sent } = connected({
      read: async (sheet) => {
        asked.push(sheet);
        return { values } as never;
      },
      addSheet: async ({ name, rows }) => `${name} of ${rows.length} rows`,
    });
    const [read, name] = await Promise.all([
      port.read("Bo's log"),
      port.addSheet({ name: "Plan", rows: values as never }),
    ]);
    expect([asked, read.values, name]).toEqual([["Bo's log"], values, "Plan of 5000 rows"]);
    expect(sent.length).toBeGreaterThan(5);
    for (const piece of sent) expect(piece.length).toBeLessThanOrEqual(30_001);
  });

  it("refuses in the pane's words, tells of changes while it is listened to, and sends addresses to the browser", async () => {
    const { port, browse, browsed, changed, stop, stopped } = connected({
      removeSheet: async () => {
        throw new Error("Excel could not remove the sheet.");
      },
    });
    await expect(port.removeSheet("Plan")).rejects.toThrow("Excel could not remove the sheet.");
    const heard: SheetChange[] = [];
    const quiet = port.onChange((one) => heard.push(one));
    const area = { row: 1, column: 2, rows: 1, columns: 1 };
    changed({ sheet: "Log", area });
    await expect.poll(() => heard).toEqual([{ sheet: "Log", area }]);
    quiet();
    changed({ sheet: "Log" });
    browse("https://hall.example/layout.pdf");
    await expect.poll(() => browsed).toEqual(["https://hall.example/layout.pdf"]);
    expect(heard.length).toBe(1);
    stop();
    expect(stopped()).toBe(true);
  });
});
