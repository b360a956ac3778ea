/**
 * What every answer says to the browser about itself.
 *
 * Scripts come from this server, and in the pane for Excel from Microsoft's host as well, because Excel requires its
 * own client; nothing is evaluated from text. Styles are made while the page runs, by the panel and the grid.
 */
import type { IncomingMessage } from "node:http";

/** Excel on the web and its siblings stand below these: they frame the pane and read the list of functions. */
const OFFICE_DOMAINS = [
  "officeapps.live.com",
  "office.com",
  "office365.com",
  "sharepoint.com",
  "microsoft.com",
  "live.com",
  "cloud.microsoft",
];
const OFFICE = OFFICE_DOMAINS.map((domain) => `https://*.${domain}`);
/** This machine under another of its names. */
const OWN_ORIGIN = /^https:\/\/(localhost|127\.0\.0\.1|\[::1\])(:\d+)?$/;
const OFFICE_SCRIPTS = "https://appsforoffice.microsoft.com";

/** Whether pages from there may read the add-in's files. */
function isOffice(origin: string): boolean {
  if (OWN_ORIGIN.test(origin)) return true;
  const host = /^https:\/\/([a-z0-9.-]+)$/i.exec(origin)?.[1]?.toLowerCase();
  return host !== undefined && OFFICE_DOMAINS.some((domain) => host.endsWith(`.${domain}`));
}

/**
 * What lets Excel's own pages read the add-in's files, which stand at another origin. A browser asks for leave to reach
 * this machine from a page on the web (Private Network Access, and its successor Local Network Access).
 */
export function crossOriginHeaders({ headers }: Pick<IncomingMessage, "headers">): Readonly<Record<string, string>> {
  const { origin } = headers;
  const always = { vary: "origin" };
  if (origin === undefined || !isOffice(origin)) return always;
  const wanted = headers["access-control-request-headers"];
  return {
    ...always,
    "access-control-allow-origin": origin,
    "access-control-allow-methods": "GET, HEAD, OPTIONS",
    ...(typeof wanted === "string" && /^[\w\s,-]{1,500}$/.test(wanted)
      ? { "access-control-allow-headers": wanted }
      : {}),
    ...(headers["access-control-request-private-network"] === "true"
      ? { "access-control-allow-private-network": "true" }
      : {}),
    "access-control-max-age": "600",
  };
}

function policy(parts: Readonly<Record<string, readonly string[]>>): string {
  return Object.entries(parts)
    .map(([name, from]) => `${name} ${from.join(" ")}`)
    .join("; ");
}

const OWN: Readonly<Record<string, readonly string[]>> = {
  "default-src": ["'self'"],
  "script-src": ["'self'"],
  "style-src": ["'self'", "'unsafe-inline'"],
  "img-src": ["'self'", "data:", "blob:"],
  // A film that was opened from the disk.
  "media-src": ["blob:"],
  "font-src": ["'self'", "data:"],
  "connect-src": ["'self'"],
  "worker-src": ["'self'", "blob:"],
  "object-src": ["'none'"],
  "base-uri": ["'none'"],
  "form-action": ["'none'"],
  "frame-ancestors": ["'none'"],
};

const PAGE = policy(OWN);
const PANE = policy({
  ...OWN,
  "script-src": ["'self'", OFFICE_SCRIPTS],
  "connect-src": ["'self'", OFFICE_SCRIPTS],
  "frame-src": ["https:"],
  "frame-ancestors": ["'self'", ...OFFICE],
});

/**
 * @param forExcel whether it is the pane, or its server: Excel, another origin, may frame it and read the functions'
 * list
 */
export function securityHeaders(forExcel: boolean): Readonly<Record<string, string>> {
  return {
    "content-security-policy": forExcel ? PANE : PAGE,
    "cross-origin-resource-policy": forExcel ? "cross-origin" : "same-origin",
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
  };
}
