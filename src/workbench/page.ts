/** The elements of the workbench page and what can be done with them. */

export interface Page {
  /** Says what is being opened, how far it is, and how to stop it where that is possible. */
  loading(text: string, share?: number, cancel?: () => void): void;
  loaded(): void;
  /** Resolves once the browser has drawn what was said. */
  painted(): Promise<void>;
  /** A workbook is shown. */
  ready(name: string): void;
  say(text: string): void;
  trouble(text: string): void;
  /**
   * Says something with what can be done about it; the line goes once an act returns true.
   * @returns how to take it away
   */
  offer(text: string, acts: readonly (readonly [label: string, act: () => Promise<boolean>])[]): () => void;
  /** What the selected cell's error says; nothing when undefined. */
  cellMessage(text: string | undefined): void;
  /** Says the selected cell to those who hear the page. */
  hear(text: string): void;
  /** A new element for a grid, behind the one that is shown until it takes its place. */
  freshGrid(): { readonly element: HTMLElement; show(): void; drop(): void };
  freshPanel(): HTMLElement;
  /** Asks what to do with unsaved changes: "save", "open" or "stay". */
  askUnsaved(): Promise<string>;
}

/** The element of that name; throws an Error where the page lacks it. */
export function element<T extends HTMLElement>(id: string): T {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page lacks #${id}`);
  return found as T;
}

export function createPage(): Page {
  const said = element("said");
  let offers = 0;
  /** What went wrong before is over once something works. */
  const endTrouble = () => {
    for (const line of said.querySelectorAll(".trouble:not([id])")) line.remove();
  };
  const note = (text: string, className: string, id?: string) => {
    const line = document.createElement("div");
    line.className = className;
    if (id) line.id = id;
    line.append(document.createTextNode(text));
    if (!id) {
      const close = document.createElement("button");
      close.type = "button";
      close.textContent = "Close";
      close.addEventListener("click", () => line.remove());
      line.append(close);
      said.replaceChildren(...[...said.children].filter((other) => other.id !== ""));
    }
    said.append(line);
  };
  const filling = () => {
    const host = document.createElement("div");
    host.className = "filling";
    return host;
  };
  return {
    loading(text, share, cancel) {
      element("loading").hidden = false;
      element("loading-text").textContent = text;
      const stop = element<HTMLButtonElement>("loading-cancel");
      stop.hidden = cancel === undefined;
      stop.onclick = cancel ?? null;
      const bar = element("loading").querySelector("progress");
      if (share === undefined) bar?.removeAttribute("value");
      else if (bar) bar.value = share;
    },
    loaded() {
      element("loading").hidden = true;
    },
    painted: () => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve))),
    ready(name) {
      element("name").textContent = name;
      document.title = `${name} – Bendbook`;
      element<HTMLButtonElement>("save").disabled = false;
      document.body.dataset.ready = name;
      // What went wrong with a workbook that was to be opened before is over.
      endTrouble();
    },
    say(text) {
      endTrouble();
      note(text, "");
    },
    trouble: (text) => note(text, "trouble"),
    offer(text, acts) {
      const line = document.createElement("div");
      line.append(document.createTextNode(text));
      line.id = `offer-${++offers}`;
      for (const [label, act] of acts) {
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = label;
        button.addEventListener("click", () => void act().then((done) => done && line.remove()));
        line.append(button);
      }
      said.append(line);
      return () => line.remove();
    },
    cellMessage(text) {
      document.getElementById("cell")?.remove();
      if (text !== undefined) note(text, "", "cell");
    },
    hear(text) {
      element("heard").textContent = text;
    },
    freshGrid() {
      const host = filling();
      // Below the others: the grid measures itself, so it needs its room from the start.
      element("grid").prepend(host);
      return {
        element: host,
        show() {
          for (const other of document.querySelectorAll("#grid > .filling")) if (other !== host) other.remove();
        },
        drop: () => host.remove(),
      };
    },
    freshPanel() {
      const host = filling();
      element("panel").replaceChildren(host);
      return host;
    },
    askUnsaved() {
      const dialog = element<HTMLDialogElement>("unsaved");
      dialog.returnValue = "stay";
      dialog.showModal();
      return new Promise((resolve) =>
        dialog.addEventListener("close", () => resolve(dialog.returnValue), { once: true }),
      );
    },
  };
}
