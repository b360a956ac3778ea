/** The first page: three ways in, and the way back to what is open. */
import { element } from "./page";

export interface Beginning {
  show(): void;
  hide(): void;
}

interface Ways {
  blank(): void;
  demonstration(): void;
  file(): void;
  /** Name of the workbook that is open; undefined while none is. */
  opened(): string | undefined;
  /** Gives the keyboard to it again. */
  back(): void;
}

/** What cannot be reached while the first page is in front. */
const BEHIND = ["grid", "edge", "panel"] as const;

export function beginning(ways: Ways): Beginning {
  const page = element("begin");
  const back = element("begin-back");
  const put = (shown: boolean) => {
    page.hidden = !shown;
    for (const id of BEHIND) element(id).inert = shown;
  };
  const show = () => {
    const name = ways.opened();
    back.hidden = name === undefined;
    back.textContent = `Back to ${name ?? ""}`;
    put(true);
    element("begin-blank").focus();
  };
  const leave = () => {
    if (page.hidden || ways.opened() === undefined) return;
    put(false);
    ways.back();
  };
  element("begin-blank").addEventListener("click", ways.blank);
  element("begin-demonstration").addEventListener("click", ways.demonstration);
  element("begin-file").addEventListener("click", ways.file);
  back.addEventListener("click", leave);
  element("home").addEventListener("click", () => (page.hidden ? show() : leave()));
  page.addEventListener("keydown", (event) => {
    if (event.key === "Escape") leave();
  });
  return { show, hide: () => put(false) };
}
