/** Where the workbench page begins: buttons, drop, and the workbook that the server offers. */
import "./style.css";
import type { ViewName } from "../panel/frame/settings";
import { browserDrafts } from "./browserDrafts";
import { keptPreferences } from "../panel/frame/preferences";
import { beginning } from "./beginning";
import { createPage, element } from "./page";
import { pageParts } from "./pageParts";
import { followTheme } from "./pageTheme";
import { placePanel } from "./panelPlace";
import { focusWithin, goRoundRegions, type Region } from "./regions";
import type { DraftStore } from "./drafts";
import { keepOffline } from "./offline";
import { servedDrafts } from "./servedDrafts";
import { sparedDrafts } from "./sparedDrafts";
import { Workbench, type BookSource } from "./workbench";

// Whatever is opened needs them. Where they cannot be had, whoever asks next hears why.
void pageParts().catch(() => {});
const offering = fetch("workbook-name").then(
  (answer) => (answer.ok ? answer.text() : ""),
  () => "",
);
const page = createPage();
const preferences = keptPreferences();
const place = placePanel(preferences);
followTheme(preferences, (dark) => workbench.setDark(dark));
const workbench = new Workbench(page, await draftStore(), preferences);

/** The server's drafts, the browser's while the server is away, and these alone where the server keeps none. */
async function draftStore(): Promise<DraftStore | undefined> {
  const [served, own] = await Promise.all([servedDrafts(), browserDrafts()]);
  if (!served || !own) return served ?? own;
  return sparedDrafts(served, own, (away) =>
    page.say(
      away
        ? "Bendbook's server does not answer. The page goes on; work that is in no copy yet is kept in this browser meanwhile."
        : "Bendbook's server is back and keeps the work again.",
    ),
  );
}

/** Opens a workbook, after asking what becomes of unsaved changes. */
async function open(wanted: BookSource): Promise<void> {
  if (!(await mayLeave()) || !(await workbench.open(wanted))) return;
  begin.hide();
  if (wanted.view) place.front(true);
}

/** Whether the open workbook may go: it is in a copy, or the user says so. */
async function mayLeave(): Promise<boolean> {
  if (!workbench.unsaved) return true;
  const answer = await page.askUnsaved();
  return answer === "save" ? workbench.save() : answer === "open";
}

async function openServed(address: string, name: string, view?: ViewName): Promise<void> {
  const read = async (stopped?: AbortSignal) => {
    const answer = await fetch(address, { signal: stopped ?? null });
    if (!answer.ok) throw new Error(await answer.text());
    return new Uint8Array(await answer.arrayBuffer());
  };
  await open({ name, read, ...(view && { view }) });
}

function openFile(file: File | undefined): void {
  if (file) void open({ name: file.name, read: async () => new Uint8Array(await file.arrayBuffer()) });
}

const picker = element<HTMLInputElement>("file");
picker.addEventListener("change", () => {
  openFile(picker.files?.[0]);
  picker.value = "";
});
const openBlank = () => void openServed("trial-log.xlsx", "trial-log.xlsx", "start");
const openDemonstration = () => void openServed("demonstration.xlsx", "demonstration.xlsx");
element("open").addEventListener("click", () => picker.click());
element("save").addEventListener("click", () => void workbench.save());
element("blank").addEventListener("click", openBlank);
const begin = beginning({
  blank: openBlank,
  demonstration: openDemonstration,
  file: () => picker.click(),
  opened: () => workbench.name,
  back: () => void workbench.focusGrid(),
});

const region = (id: string, focus: (element: HTMLElement) => boolean): Region => {
  const own = element(id);
  return { element: own, focus: () => focus(own) };
};
const grid = region("grid", () => workbench.focusGrid());
goRoundRegions(
  [
    region("bar", (bar) => focusWithin(bar, "button:not([disabled])")),
    region("said", (said) => focusWithin(said, "button")),
    region("begin", (first) => focusWithin(first, "button")),
    grid,
    region("panel", (panel) => focusWithin(panel, "[role=tab][aria-selected=true]")),
  ],
  grid,
);

addEventListener("dragover", (event) => {
  event.preventDefault();
  document.body.classList.add("dropping");
});
addEventListener("dragleave", (event) => {
  if (event.relatedTarget === null) document.body.classList.remove("dropping");
});
addEventListener("drop", (event) => {
  event.preventDefault();
  document.body.classList.remove("dropping");
  openFile(event.dataTransfer?.files[0]);
});
addEventListener("beforeunload", (event) => {
  if (workbench.unsaved) event.preventDefault();
});

const offered = await offering;
if (offered !== "") await openServed("workbook", offered);
else if (new URLSearchParams(location.search).get("open") === "demonstration")
  await openServed("demonstration.xlsx", "demonstration.xlsx");
if (workbench.name === undefined) {
  page.loaded();
  begin.show();
}
await workbench.offerLeft(mayLeave);
void keepOffline(page, mayLeave);
