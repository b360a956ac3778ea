/**
 * What every answer says to the browser about itself.
 *
 * Scripts come from this server, and in the pane for Excel from Microsoft's host as well, because Excel requires its
 * own client; nothing is evaluated from text. Styles are made while the page runs, by the panel and the grid.
 */

/** Where Excel on the web and its siblings frame a pane from. */
const OFFICE = [
  "https://*.officeapps.live.com",
  "https://*.office.com",
  "https://*.office365.com",
  "https://*.sharepoint.com",
  "https://*.microsoft.com",
  "https://*.live.com",
];
const OFFICE_SCRIPTS = "https://appsforoffice.microsoft.com";

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
