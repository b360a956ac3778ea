/**
 * The shipped pane as Excel of a platform carries it: what Office says of the platform, and the user's browser, which
 * it opens. The policy's reports count as trouble.
 */
import type { Page } from "playwright-core";
import type { PaneWorld } from "./excelPane";

interface Under {
  readonly platform: "PC" | "Mac" | "OfficeOnline";
  /** Whether Excel can open the user's browser; the addresses are kept in `window.opened`. */
  readonly browses?: boolean;
  /** Whether Excel can open pages of an add-in's own (DialogApi 1.2): windows here. */
  readonly dialogs?: boolean;
}

export function underExcel({ platform, browses = false, dialogs = false }: Under): PaneWorld {
  return {
    async prepare(page, trouble) {
      const context = page.context();
      await context.exposeFunction("reported", (what: string) => void trouble.push(what));
      await context.addInitScript(noteReports);
      // Runs as the pane's first script, before the pane asks.
      await context.route(/\/functions\.js$/, async (route) => {
        const response = await route.fetch();
        await route.fulfill({ response, body: `${said(platform, browses, dialogs)}\n${await response.text()}` });
      });
    },
  };
}

/** Runs in the page. */
function noteReports(): void {
  addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI, sourceFile, columnNumber }) =>
    (window as unknown as { reported(what: string): void }).reported(
      `policy: ${violatedDirective} ${blockedURI} at ${sourceFile}, ${columnNumber}`,
    ),
  );
}

/** A script that says of Office what there is under this Excel. */
function said(platform: string, browses: boolean, dialogs: boolean): string {
  return `window.opened = [];
Office.onReady().then(() => {
  // Microsoft's own object lets nothing be changed: one before it answers instead.
  const sets = Office.context.requirements;
  const supported = { OpenBrowserWindowApi: ${browses}, DialogApi: ${dialogs} };
  const context = Object.create(Office.context, {
    platform: { value: ${JSON.stringify(platform)} },
    requirements: {
      value: { isSetSupported: (name, version) => supported[name] ?? sets.isSetSupported(name, version) },
    },
    ui: {
      value: {
        openBrowserWindow: (address) => void window.opened.push(address),
        displayDialogAsync: ${openDialog.toString()},
        // Of a dialog itself.
        messageParent: (text) => opener.postMessage({ toPane: text }, location.origin),
        addHandlerAsync: (type, handler, done) => {
          addEventListener("message", ({ data }) => data.toDialog !== undefined && handler({ message: data.toDialog }));
          done({ status: "succeeded" });
        },
      },
    },
  });
  window.Office = Object.create(Office, { context: { value: context } });
});`;
}

type Handlers = Record<string, (said: { message: string } | { error: number }) => void>;

/** Stands for Office's dialogs, by a window. Runs in the page. */
function openDialog(address: string, _options: unknown, done: (result: unknown) => void): void {
  const made = open(address);
  const handlers: Handlers = {};
  addEventListener("message", ({ data, source }: MessageEvent<{ toPane?: string }>) => {
    if (source === made && data.toPane !== undefined) handlers["dialogMessageReceived"]?.({ message: data.toPane });
  });
  const watch = setInterval(() => {
    if (!made?.closed) return;
    clearInterval(watch);
    handlers["dialogEventReceived"]?.({ error: 12006 });
  }, 50);
  const value = {
    messageChild: (text: string) => made?.postMessage({ toDialog: text }, location.origin),
    addEventHandler: (type: string, handler: Handlers[string]) => void (handlers[type] = handler),
    close: () => made?.close(),
  };
  done({ status: "succeeded", value });
}

/** The addresses that the user's browser was sent to. */
export const opened = (page: Page) => page.evaluate(() => (window as unknown as { opened: string[] }).opened);
