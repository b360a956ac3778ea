/**
 * The port's contract, by the shipped pane's own port in a real browser: its bundle, Microsoft's client, and a host
 * with a workbook. Each test gets a workbook and a port of its own in the one page.
 */
import { afterAll, beforeAll } from "vitest";
import type { Port, SheetChange } from "../../src/workbook/port";
import { HostWorkbook } from "../excelHost/workbook";
import { portContract } from "../workbook/portContract";
import { paneServer, type Pane } from "./excelPane";

const server = paneServer();
let pane: Pane;
const listeners = new Map<number, (change: SheetChange) => void>();
let made = 0;

beforeAll(async () => {
  pane = await server.openForAll();
  await pane.page.getByRole("tab").first().waitFor();
  await pane.page.exposeBinding("heardByTest", (_, id: number, change: SheetChange) => listeners.get(id)?.(change));
  await pane.page.evaluate(findPort);
}, 120_000);
afterAll(() => server.close(pane));

interface TestWindow {
  /** A new port, of the class that the pane uses. */
  newPort: () => Port;
  portsOfTest: Port[];
  stopsOfTest: Map<number, () => void>;
  heardByTest(id: number, change: SheetChange): void;
}

/** Finds the port among the properties that the pane's parts were given. Runs in the page. */
function findPort(): void {
  interface Part {
    memoizedProps?: { port?: Port };
    child?: Part;
    sibling?: Part;
  }
  const page = window as unknown as TestWindow;
  const root = document.getElementById("panel") as unknown as Record<string, { stateNode?: { current: Part } } & Part>;
  const key = Object.keys(root).find((name) => name.startsWith("__reactContainer$")) ?? "";
  const look = (part: Part | undefined): Port | undefined =>
    part && (part.memoizedProps?.port ?? look(part.child) ?? look(part.sibling));
  const found = look(root[key]?.stateNode?.current ?? root[key]);
  if (!found) throw new Error("The pane has no port.");
  const PortClass = Reflect.get(found, "constructor") as new () => Port;
  page.newPort = () => new PortClass();
  page.portsOfTest = [];
  page.stopsOfTest = new Map();
}

/** A port of the page, called from here. */
function portInPage(index: number): Port {
  const call = (name: string, given: unknown[]) =>
    pane.page.evaluate(
      ([at, method, args]) => {
        const port = (window as unknown as TestWindow).portsOfTest[at] as unknown as Record<string, CallableFunction>;
        return port[method]?.(...args) as unknown;
      },
      [index, name, given] as const,
    );
  const onChange: Port["onChange"] = (listener) => {
    const id = ++made;
    listeners.set(id, listener);
    void pane.page.evaluate(
      ([at, number]) => {
        const page = window as unknown as TestWindow;
        const stop = page.portsOfTest[at]?.onChange((change) => page.heardByTest(number, change));
        if (stop) page.stopsOfTest.set(number, stop);
      },
      [index, id] as const,
    );
    return () => {
      listeners.delete(id);
      // A pane that is gone needs no stopping.
      pane.page.evaluate((number) => (window as unknown as TestWindow).stopsOfTest.get(number)?.(), id).catch(() => {});
    };
  };
  return new Proxy({} as Port, {
    get: (_, name) => {
      if (name === "host") return "excel";
      if (name === "onChange") return onChange;
      return name === "then" ? undefined : (...given: unknown[]) => call(String(name), given);
    },
  });
}

portContract("Excel's pane in a browser", async (fixture) => {
  pane.host.open(HostWorkbook.of(fixture));
  const index = await pane.page.evaluate(() => {
    const page = window as unknown as TestWindow;
    return page.portsOfTest.push(page.newPort()) - 1;
  });
  return {
    port: portInPage(index),
    async setCell(...given) {
      await pane.host.quiet(); // a person types after Excel has answered the registration of a listener
      pane.host.workbook.type(...given);
    },
    dispose: () => pane.host.quiet(),
  };
});
