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
}

export function underExcel({ platform, browses = false }: Under): PaneWorld {
  return {
    async prepare(page, trouble) {
      await page.exposeFunction("reported", (what: string) => void trouble.push(what));
      await page.addInitScript(noteReports);
      // Runs as the pane's first script, before the pane asks.
      await page.route(/\/functions\.js$/, async (route) => {
        const response = await route.fetch();
        await route.fulfill({ response, body: `${said(platform, browses)}\n${await response.text()}` });
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
function said(platform: string, browses: boolean): string {
  return `window.opened = [];
Office.onReady().then(() => {
  const own = Office.context;
  const sets = own.requirements;
  Object.defineProperty(Office, "context", {
    value: Object.create(own, {
      platform: { value: ${JSON.stringify(platform)} },
      requirements: {
        value: {
          isSetSupported: (name, version) =>
            name === "OpenBrowserWindowApi" ? ${browses} : sets.isSetSupported(name, version),
        },
      },
      ui: { value: { openBrowserWindow: (address) => void window.opened.push(address) } },
    }),
  });
});`;
}

/** The addresses that the user's browser was sent to. */
export const opened = (page: Page) => page.evaluate(() => (window as unknown as { opened: string[] }).opened);
