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
  const news = newsOf(element("said"));
  return {
    ...news,
    ...rooms(),
    ...opening(),
    painted: () => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve))),
    ready(name) {
      element("name").textContent = name;
      // A long one is cut short on a phone.
      element("name").title = name;
      document.title = `${name} – Bendbook`;
      element<HTMLButtonElement>("save").disabled = false;
      document.body.dataset.ready = name;
      // What went wrong with a workbook that was to be opened before is over.
      news.endTrouble();
    },
    hear(text) {
      element("heard").textContent = text;
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

/** How far a workbook is that is being opened. */
function opening(): Pick<Page, "loading" | "loaded"> {
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
  };
}

function button(label: string, act: () => void): HTMLButtonElement {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = label;
  made.addEventListener("click", act);
  return made;
}

type News = Pick<Page, "say" | "trouble" | "offer" | "cellMessage"> & {
  /** What went wrong before is over once something works. */
  endTrouble(): void;
};

/** The lines of what happened, below the bar. */
function newsOf(said: HTMLElement): News {
  let offers = 0;
  const lineOf = (text: string) => {
    const line = document.createElement("div");
    line.append(document.createTextNode(text));
    return line;
  };
  const endTrouble = () => {
    for (const line of said.querySelectorAll(".trouble:not([id])")) line.remove();
  };
  const note = (text: string, className: string) => {
    const line = lineOf(text);
    line.className = className;
    line.append(button("Close", () => line.remove()));
    said.replaceChildren(...[...said.children].filter((other) => other.id !== ""), line);
  };
  return {
    endTrouble,
    say(text) {
      endTrouble();
      note(text, "");
    },
    trouble: (text) => note(text, "trouble"),
    offer(text, acts) {
      const line = lineOf(text);
      line.id = `offer-${++offers}`;
      for (const [label, act] of acts)
        line.append(button(label, () => void act().then((done) => done && line.remove())));
      said.append(line);
      return () => line.remove();
    },
    cellMessage(text) {
      document.getElementById("cell")?.remove();
      if (text === undefined) return;
      const line = lineOf(text);
      line.id = "cell";
      said.append(line);
    },
  };
}

/** The places of grid and panel. */
function rooms(): Pick<Page, "freshGrid" | "freshPanel"> {
  const filling = () => {
    const host = document.createElement("div");
    host.className = "filling";
    return host;
  };
  return {
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
  };
}
