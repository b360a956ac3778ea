/** Microsoft's client in Node, on the bridge to a host: for tests that need no page. */
import { readFileSync } from "node:fs";
import { Script } from "node:vm";
import { JSDOM } from "jsdom";
import type { ExcelHost } from "../../src/workbook/excel/excelHost";
import { CLIENT_FOLDER, CLIENT } from "./client";
import type { Host } from "./host";

/**
 * A window with the client in it, made once and lent to one host after another: to run the client takes half a second.
 * What it keeps of events goes with whoever asked for them.
 */
let idle: ClientWindow | undefined;

interface ClientWindow {
  Excel: ExcelHost;
  Office: unknown;
  OfficeExtension: { CommonUtility: { _doApiNotSupportedCheck: boolean } };
  _richApiNativeBridge: { sendMessageToHost(text: string): void; onMessageFromHost?(text: string): void };
}

export interface Client extends ExcelHost {
  /** Gives the client back, for the next host. */
  close(): void;
}

export function connectClient(host: Host): Client {
  const window = idle ?? clientWindow();
  idle = undefined;
  window._richApiNativeBridge.sendMessageToHost = (text) => host.receive(text);
  window.Office = { context: { requirements: { isSetSupported: supports(host.sets) } } };
  host.send = (text) => window._richApiNativeBridge.onMessageFromHost?.(text);
  return {
    run: (options, batch) => window.Excel.run(options, batch),
    close: () => {
      host.send = () => undefined;
      idle = window;
    },
  };
}

function clientWindow(): ClientWindow {
  const dom = new JSDOM("<!doctype html>", { runScripts: "outside-only", url: "https://localhost/taskpane.html" });
  const window = dom.window as unknown as ClientWindow;
  window._richApiNativeBridge = { sendMessageToHost: () => undefined };
  const script = new Script(readFileSync(new URL(CLIENT, CLIENT_FOLDER), "utf8"), { filename: CLIENT });
  script.runInContext(dom.getInternalVMContext());
  // The client holds each member against the host's sets, by a check that ships turned off: an older Excel refuses what
  // it does not know by itself.
  window.OfficeExtension.CommonUtility._doApiNotSupportedCheck = true;
  return window;
}

const supports =
  (sets: Readonly<Record<string, string>>) =>
  (name: string, least = "0"): boolean => {
    const [major = 0, minor = 0] = (sets[name] ?? "0").split(".").map(Number);
    const [wantedMajor = 0, wantedMinor = 0] = least.split(".").map(Number);
    return name in sets && (major > wantedMajor || (major === wantedMajor && minor >= wantedMinor));
  };
