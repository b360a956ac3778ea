/**
 * Microsoft's scripts in a page, on the bridge to a host in this process, as Excel on Windows loads them: office.js
 * from its hosted address finds the platform by the host's hand-shake and fetches that platform's file.
 */
import { existsSync, readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { CLIENT_FOLDER } from "./client";
import type { Host } from "./host";

const HOSTED = "https://appsforoffice.microsoft.com/lib/1/hosted/";

export interface PageWorld {
  /** Colour of the pane's body, as "#rrggbb"; none where Office does not say. */
  readonly background?: string;
  /** Which Office program opens the page. */
  readonly program?: "Excel" | "Word";
}

/**
 * Answers for Microsoft's scripts out of the package, and for nothing else outside this machine. To be called before
 * the page is opened.
 *
 * @param trouble takes a line for each address that nobody answers for
 * @param without files that cannot be had
 */
export async function serveClient(
  page: Page,
  trouble: string[],
  without: (file: string) => boolean = () => false,
): Promise<void> {
  await page.context().route(/^https?:\/\/(?!127\.0\.0\.1)/, (route) => {
    const url = route.request().url();
    const file = url.startsWith(HOSTED) ? url.slice(HOSTED.length).replace(/\?.*/, "") : undefined;
    const place = file === undefined || without(file) ? undefined : new URL(file, CLIENT_FOLDER);
    if (place && existsSync(place))
      return route.fulfill({ contentType: "text/javascript", body: readFileSync(place, "utf8") });
    if (file === undefined || !without(file)) trouble.push(`asked for ${url}`);
    return route.abort();
  });
}

/**
 * Connects the page to the host; to be called before the page is opened. Dialogs that it opens have Office's scripts
 * too, but no way to the workbook.
 */
export async function connectPage(page: Page, host: Host, { background, program = "Excel" }: PageWorld = {}) {
  await page.context().exposeBinding("bendbookTestHost", (source, text: string) => {
    if (source.page === page) host.receive(text);
  });
  host.send = (text) =>
    // A page that is closed in the meantime has no use for the answer.
    void page
      .evaluate((message) => (window as unknown as PageWindow)._richApiNativeBridge.onMessageFromHost(message), text)
      .catch((problem: unknown) => {
        if (!page.isClosed()) throw problem;
      });
  await page.context().addInitScript(handShake, {
    program,
    sets: JSON.stringify(host.sets),
    colour: background === undefined ? undefined : parseInt(background.slice(1), 16),
  });
}

interface PageWindow {
  _richApiNativeBridge: { sendMessageToHost(text: string): void; onMessageFromHost(text: string): void };
  bendbookTestHost(text: string): void;
}

/** What Excel on Windows puts into the page. Runs there. */
function handShake({ program, sets, colour }: { program: string; sets: string; colour: number | undefined }): void {
  const page = window as unknown as PageWindow;
  page._richApiNativeBridge = {
    sendMessageToHost: (text) => page.bendbookTestHost(text),
    onMessageFromHost: () => undefined, // the client's own takes its place
  };
  // Settings of the document, which stay with it when the page is loaded again.
  const documentSettings = {
    Read: (names: string[], values: string[]) => {
      for (const [name, value] of JSON.parse(sessionStorage.getItem("document settings") ?? "[]") as [
        string,
        string,
      ][]) {
        names.push(name);
        values.push(value);
      }
    },
    Write: (names: string[], values: string[]) =>
      sessionStorage.setItem("document settings", JSON.stringify(names.map((name, i) => [name, values[i]]))),
  };
  const context = {
    GetAppType: () => (program === "Excel" ? 1 : 2),
    GetSolutionRef: () => "1c31bfc6-ae37-4c38-bdab-b272d4571dd2",
    GetAppVersionMajor: () => 16,
    GetAppVersionMinor: () => 0,
    GetAppUILocale: () => 1033,
    GetAppDataLocale: () => 1033,
    GetDocUrl: () => "C:\\Trials.xlsx",
    GetAppCapabilities: () => 1,
    GetActivationMode: () => 1,
    GetControlIntegrationLevel: () => 0,
    GetSolutionToken: () => "",
    GetSupportedMatrix: () => sets,
    GetHostFullVersion: () => "16.0.14326.20454",
    GetSettings: () => documentSettings,
    // Numbers of the form 0xbbggrr, as Windows has colours.
    ...(colour === undefined
      ? {}
      : {
          GetOfficeThemeInfo: () =>
            JSON.stringify({ bodyBackgroundColor: ((colour & 255) << 16) | (colour & 0xff00) | (colour >> 16) }),
        }),
  };
  Object.defineProperty(window, "external", {
    value: {
      GetHostInfo: () => `${program}$Win32$16.01$en-US$telemetry$$disableLogging$3`,
      GetLoggingAllowed: () => false,
      GetContext: () => context,
      Execute: (id: number) => {
        throw new Error(`The host does not know the method ${id} of the old way to call Office.`);
      },
      RegisterEvent: (id: number, _target: unknown, _handler: unknown, callback: (status: number) => void) => {
        void id; // messages come over the bridge
        callback(0);
      },
    },
  });
}
