/**
 * The pane, on the page that Excel loads for functions, ribbon and pane alike (shared runtime).
 */
import "./style.css";
import { openFileDoor } from "../panel/frame/fileDoor";
import { messageOf } from "../panel/frame/messageOf";
import { keptPreferences } from "../panel/frame/preferences";
import { mountPanel } from "../panel/mount";
import { ExcelPort } from "../workbook/excel/excelPort";
import type { Port } from "../workbook/port";
import { there } from "../there";
import { excelFiles, fileHost } from "./excelFiles";
import { offerOwnPage } from "./offerOwnPage";
import { offerStart, showNotices } from "./notices";
import { panelTheme } from "./officeTheme";
import { platformOfPane, portOfPane } from "./ownPage";

const element = (id: string) => there(document.getElementById(id), `an element #${id} of the page`);

function say(text: string): void {
  element("message").textContent = text;
}

/** A place for what is said about Excel itself, above or below the panel. */
function besides(panel: HTMLElement, where: "beforebegin" | "afterend"): HTMLElement {
  const made = document.createElement("div");
  made.className = "about-excel";
  panel.insertAdjacentElement(where, made);
  return made;
}

async function begin(): Promise<void> {
  if (typeof Office === "undefined") {
    say(
      "Microsoft's script for Office add-ins could not be loaded. Excel needs the internet once for it: connect, then close and open this pane.",
    );
    return;
  }
  const { host, platform } = await Office.onReady();
  const paneOn = platformOfPane();
  if (paneOn !== undefined) return beginOwnPage(paneOn);
  if (host !== Office.HostType.Excel) {
    say(
      "This page is the Bendbook pane of Excel and does nothing elsewhere. Load manifest.xml in Excel, or run npm start to open workbooks without it.",
    );
    return;
  }
  const port = new ExcelPort();
  openFileDoor(excelFiles(fileHost(), port));
  const place = element("panel");
  showNotices(besides(place, "beforebegin"), platform);
  const below = besides(place, "afterend");
  // An Excel that cannot say whether it starts add-ins with a workbook has no box for it.
  void offerStart(below).catch(() => undefined);
  offerOwnPage(below, place, port, () => showPanel(port));
}

/** On a page that the pane opened: the workbook and the user's browser are reached through the pane. */
async function beginOwnPage(platform: string): Promise<void> {
  const { port, browse } = await portOfPane();
  const browses = Office.context.requirements.isSetSupported("OpenBrowserWindowApi", "1.1");
  openFileDoor(excelFiles({ platform, openBrowser: browses ? browse : undefined }, port));
  showPanel(port);
}

/** Shows the panel in its place. @returns takes it away again */
function showPanel(port: Port): () => void {
  // Where a browser parts the storage of pages that stand in others, Office says by what.
  const preferences = keptPreferences(undefined, Office.context.partitionKey ?? "");
  const panel = mountPanel(element("panel"), port, preferences);
  const forced = matchMedia("(forced-colors: active)");
  const applyTheme = () => panel.setTheme(panelTheme(Office.context.officeTheme?.bodyBackgroundColor, forced.matches));
  applyTheme();
  // Excel tells nobody when its theme changes; a person comes back to the pane after changing it.
  addEventListener("focus", applyTheme);
  forced.addEventListener("change", applyTheme);
  return () => {
    removeEventListener("focus", applyTheme);
    forced.removeEventListener("change", applyTheme);
    panel.unmount();
  };
}

begin().catch((problem: unknown) => say(`Bendbook could not start: ${messageOf(problem)}`));
