/** Readings of a sheet that are answered out of order: the one that was asked for last is shown. */
import { act } from "react";
import { createRoot } from "react-dom/client";
import { expect, it } from "vitest";
import { usePanel } from "../../src/panel/frame/usePanel";
import { useSheet } from "../../src/panel/frame/useSheet";
import type { Port, SheetChange, SheetData } from "../../src/workbook/port";
import { sheetOf } from "../../scripts/evidence/sheetOf";

(globalThis as { IS_REACT_ACT_ENVIRONMENT?: boolean }).IS_REACT_ACT_ENVIRONMENT = true;

const withGap = (value: number): SheetData => sheetOf([["Gap (in)"], [value]]);

/** A port whose readings are answered when the test says so. */
function slowPort() {
  const answers: ((data: SheetData) => void)[] = [];
  let changed: (change: SheetChange) => void = () => {};
  const port = {
    host: "file",
    sheets: async () => [{ name: "Log", hidden: false }],
    activeSheet: async () => "Log",
    read: () => new Promise<SheetData>((resolve) => answers.push(resolve)),
    loadSettings: async () => null,
    onChange: (listener: (change: SheetChange) => void) => {
      changed = listener;
      return () => {};
    },
  } as unknown as Port;
  return { port, answers, change: () => changed({ sheet: "Log" }) };
}

const rest = () => act(() => new Promise((resolve) => setTimeout(resolve, 250)));

it.each<[string, (props: { port: Port }) => string]>([
  ["useSheet", ({ port }) => String(useSheet(port, "Log")?.values[1][0])],
  ["usePanel", ({ port }) => String(usePanel(port).data?.values[1][0])],
])("%s", async (_, Shown) => {
  const { port, answers, change } = slowPort();
  const host = document.createElement("div");
  const root = createRoot(host);
  await act(async () => root.render(<Shown port={port} />));
  await rest();
  change();
  await rest();
  expect(answers).toHaveLength(2);
  await act(async () => answers[1](withGap(2)));
  // What is read is worked out in turns.
  await rest();
  expect(host.textContent).toBe("2");
  await act(async () => answers[0](withGap(1)));
  await rest();
  expect(host.textContent).toBe("2");
  await act(async () => root.unmount());
});
