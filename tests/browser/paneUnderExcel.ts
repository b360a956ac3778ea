/** The shipped pane as Excel of a platform carries it, for tests and benchmarks: Microsoft's script is stood in for. */
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import type { Browser, Page } from "playwright-core";

const HOSTED = "https://appsforoffice.microsoft.com/";

export interface Pane {
  readonly page: Page;
  /** What went wrong, and what the page's policy reported. */
  readonly trouble: string[];
}

interface Under {
  readonly platform?: "PC" | "Mac" | "OfficeOnline";
  /** Whether Excel can open the user's browser; the addresses are kept in `window.opened`. */
  readonly browses?: boolean;
}

/** The script in place of Microsoft's. */
export async function standIn({ platform = "PC", browses = false }: Under = {}): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [fileURLToPath(new URL("excelStub.ts", import.meta.url))],
    bundle: true,
    write: false,
    format: "iife",
    logLevel: "silent",
  });
  return `${outputFiles[0]!.text};
window.opened = [];
Object.assign(Office.context, {
  platform: ${JSON.stringify(platform)},
  requirements: { isSetSupported: (name) => ${browses} && name === "OpenBrowserWindowApi" },
  ui: { openBrowserWindow: (address) => void window.opened.push(address) },
});`;
}

/** Opens the pane at the address of its server. The caller closes the page. */
export async function openPane(browser: Browser, address: string, script: string): Promise<Pane> {
  const trouble: string[] = [];
  const page = await browser.newPage({ viewport: { width: 320, height: 900 } });
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
  await page.exposeFunction("reported", (what: string) => void trouble.push(what));
  await page.addInitScript(() =>
    addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI, sourceFile, columnNumber }) =>
      (window as unknown as { reported(what: string): void }).reported(
        `policy: ${violatedDirective} ${blockedURI} at ${sourceFile}, ${columnNumber}`,
      ),
    ),
  );
  await page.route(`${HOSTED}**`, (route) => route.fulfill({ contentType: "text/javascript", body: script }));
  await page.goto(`${address}taskpane.html`);
  return { page, trouble };
}
