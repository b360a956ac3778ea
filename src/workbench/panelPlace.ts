/** Where the panel is and how wide: beside the sheet, its edge moved by hand or by keys; on the full page; in front. */
import type { KeptPreferences } from "../panel/frame/preferences";
import { element } from "./page";

/** In pixels: the panel shows everything from here, and the sheet keeps so much. */
const LEAST = 270;
const SHEET_LEAST = 250;
const USUAL = 400;
const STEP = 20;

export interface PanelPlace {
  /** On a phone: the panel in front of the sheet, or the sheet. */
  front(panel: boolean): void;
}

export function placePanel(preferences: KeptPreferences): PanelPlace {
  const front = (panel: boolean) => {
    document.body.classList.toggle("panel-in-front", panel);
    element("show-grid").setAttribute("aria-pressed", String(!panel));
    element("show-panel").setAttribute("aria-pressed", String(panel));
  };
  element("show-grid").addEventListener("click", () => front(false));
  element("show-panel").addEventListener("click", () => front(true));
  onFullPage();
  withEdge(preferences);
  return { front };
}

function onFullPage(): void {
  const button = element("full");
  const show = (full: boolean) => {
    document.body.classList.toggle("panel-full", full);
    button.setAttribute("aria-pressed", String(full));
  };
  button.addEventListener("click", () => show(!document.body.classList.contains("panel-full")));
  addEventListener("keydown", (event) => {
    // What opened later closes first.
    if (event.key !== "Escape" || event.defaultPrevented || !document.body.classList.contains("panel-full")) return;
    if (document.querySelector("dialog[open], #panel [aria-expanded=true][role=combobox]")) return;
    show(false);
    button.focus();
  });
}

function withEdge(preferences: KeptPreferences): void {
  const edge = element("edge");
  const most = () => Math.max(LEAST, innerWidth - SHEET_LEAST);
  const wide = (width: number) => Math.round(Math.min(most(), Math.max(LEAST, width)));
  const now = () => wide(preferences.now().width ?? USUAL);
  const show = (width: number) => {
    document.body.style.setProperty("--panel-width", `${width}px`);
    edge.setAttribute("aria-valuenow", String(width));
    edge.setAttribute("aria-valuemin", String(LEAST));
    edge.setAttribute("aria-valuemax", String(most()));
    edge.setAttribute("aria-valuetext", `${width} pixels`);
  };
  const keep = (width: number) => {
    preferences.change({ width: wide(width) });
    show(now());
  };
  show(now());
  addEventListener("resize", () => show(now()));
  const keys: Readonly<Record<string, () => number>> = {
    ArrowLeft: () => now() + STEP,
    ArrowRight: () => now() - STEP,
    Home: () => LEAST,
    End: most,
  };
  edge.addEventListener("keydown", (event) => {
    const to = keys[event.key];
    if (!to) return;
    event.preventDefault();
    keep(to());
  });
  edge.addEventListener("pointerdown", (event) => {
    edge.setPointerCapture(event.pointerId);
    event.preventDefault();
    edge.focus();
  });
  edge.addEventListener("pointermove", (event) => {
    if (edge.hasPointerCapture(event.pointerId)) show(wide(innerWidth - event.clientX));
  });
  edge.addEventListener("pointerup", (event) => {
    if (edge.hasPointerCapture(event.pointerId)) keep(innerWidth - event.clientX);
  });
}
