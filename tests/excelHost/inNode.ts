/** Microsoft's client in Node, on the bridge to a host: for tests that need no page. */
import { readFileSync } from "node:fs";
import { Script } from "node:vm";
import { JSDOM } from "jsdom";
import type { ExcelHost } from "../../src/workbook/excel/excelHost";
import { CLIENT_FOLDER, CLIENT } from "./client";
import type { Host } from "./host";

/** Read once, run for each host anew: the client keeps its bridge and its events in the window. */
let script: Script | undefined;

interface ClientWindow {
  Excel: ExcelHost;
  Office: unknown;
  OfficeExtension: { CommonUtility: { _doApiNotSupportedCheck: boolean } };
  _richApiNativeBridge: { sendMessageToHost(text: string): void; onMessageFromHost?(text: string): void };
}

export interface Client extends ExcelHost {
  /** Lets go of the window that the client runs in. */
  close(): void;
}

export function connectClient(host: Host): Client {
  const dom = new JSDOM("<!doctype html>", { runScripts: "outside-only", url: "https://localhost/taskpane.html" });
  const window = dom.window as unknown as ClientWindow;
  window._richApiNativeBridge = { sendMessageToHost: (text) => host.receive(text) };
  script ??= new Script(readFileSync(new URL(CLIENT, CLIENT_FOLDER), "utf8"), { filename: CLIENT });
  script.runInContext(dom.getInternalVMContext());
  // The client holds each member against the host's sets, by a check that ships turned off: an older Excel refuses what
  // it does not know by itself.
  window.OfficeExtension.CommonUtility._doApiNotSupportedCheck = true;
  window.Office = { context: { requirements: { isSetSupported: supports(host.sets) } } };
  host.send = (text) => window._richApiNativeBridge.onMessageFromHost?.(text);
  return {
    run: (options, batch) => window.Excel.run(options, batch),
    close: () => {
      host.send = () => undefined;
      dom.window.close();
    },
  };
}

const supports =
  (sets: Readonly<Record<string, string>>) =>
  (name: string, least = "0"): boolean => {
    const [major = 0, minor = 0] = (sets[name] ?? "0").split(".").map(Number);
    const [wantedMajor = 0, wantedMinor = 0] = least.split(".").map(Number);
    return name in sets && (major > wantedMajor || (major === wantedMajor && minor >= wantedMinor));
  };
