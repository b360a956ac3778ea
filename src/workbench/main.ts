/** Where the workbench page begins: buttons, drop, and the workbook that the server offers. */
import "./style.css";
import type { ViewName } from "../panel/frame/settings";
import { browserDrafts } from "./browserDrafts";
import { createPage, darkScheme, element } from "./page";
import { focusWithin, goRoundRegions, type Region } from "./regions";
import type { DraftStore } from "./drafts";
import { keepOffline } from "./offline";
import { servedDrafts } from "./servedDrafts";
import { sparedDrafts } from "./sparedDrafts";
import { Workbench, type BookSource } from "./workbench";

const page = createPage();
const workbench = new Workbench(page, await draftStore());

/** The server's drafts, the browser's while the server is away, and these alone where the server keeps none. */
async function draftStore(): Promise<DraftStore | undefined> {
  const [served, own] = [await servedDrafts(), await browserDrafts()];
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
  if (await mayLeave()) await workbench.open(wanted);
}

/** Whether the open workbook may go: it is in a copy, or the user says so. */
async function mayLeave(): Promise<boolean> {
  if (!workbench.unsaved) return true;
  const answer = await page.askUnsaved();
  return answer === "save" ? workbench.save() : answer === "open";
}

async function openServed(address: string, name: string, view?: ViewName): Promise<void> {
  const read = async () => {
    const answer = await fetch(address);
    if (!answer.ok) throw new Error(await answer.text());
    return new Uint8Array(await answer.arrayBuffer());
  };
  await open({ name, read, ...(view && { view }) });
}

function openFile(file: File | undefined): void {
  if (file) void open({ name: file.name, read: async () => new Uint8Array(await file.arrayBuffer()) });
}

const picker = element<HTMLInputElement>("file");
element("open").addEventListener("click", () => picker.click());
picker.addEventListener("change", () => {
  openFile(picker.files?.[0]);
  picker.value = "";
});
element("save").addEventListener("click", () => void workbench.save());
element("blank").addEventListener("click", () => void openServed("trial-log.xlsx", "trial-log.xlsx", "start"));

const region = (id: string, focus: (element: HTMLElement) => boolean): Region => {
  const own = element(id);
  return { element: own, focus: () => focus(own) };
};
const grid = region("grid", () => workbench.focusGrid());
goRoundRegions(
  [
    region("bar", (bar) => focusWithin(bar, "button:not([disabled])")),
    region("said", (said) => focusWithin(said, "button")),
    grid,
    region("panel", (panel) => focusWithin(panel, "[role=tab][aria-selected=true]")),
  ],
  grid,
);

for (const [id, panelInFront] of [
  ["show-grid", false],
  ["show-panel", true],
] as const) {
  element(id).addEventListener("click", () => {
    document.body.classList.toggle("panel-in-front", panelInFront);
    element("show-grid").setAttribute("aria-pressed", String(!panelInFront));
    element("show-panel").setAttribute("aria-pressed", String(panelInFront));
  });
}

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
darkScheme.addEventListener("change", () => workbench.setDark(darkScheme.matches));

const offered = await fetch("workbook-name").then(
  (answer) => (answer.ok ? answer.text() : ""),
  () => "",
);
await openServed(offered === "" ? "demonstration.xlsx" : "workbook", offered || "demonstration.xlsx");
await workbench.offerLeft(mayLeave);
void keepOffline(page, mayLeave);
