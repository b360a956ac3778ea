/** What `npm run excel` is asked for: to serve on this machine, or to write what one's own web server gives out. */
import { parseNumber } from "office-addin-cli";

export type ExcelWish =
  | { readonly kind: "serve"; readonly port: number | undefined }
  | { readonly kind: "write"; readonly origin: string; readonly out: string };

const NAMES = ["port", "origin", "out"] as const;
type Name = (typeof NAMES)[number];

/** @throws Error naming the option, what it says and the mend */
export function excelWish(argv: readonly string[]): ExcelWish {
  const said: Partial<Record<Name, string>> = {};
  for (let i = 0; i < argv.length; i++) {
    const [, name, joined] = /^--([a-z]+)(?:=(.*))?$/s.exec(argv[i] ?? "") ?? [];
    const known = NAMES.find((one) => one === name);
    if (!known)
      throw new Error(`"${argv[i]}" is not understood: there are --port N, or --origin https://… with --out DIR.`);
    if (said[known] !== undefined) throw new Error(`--${known} is given twice: give it once.`);
    said[known] = joined ?? argv[++i] ?? "";
  }
  const { port, origin, out } = said;
  if (origin === undefined && out === undefined) return { kind: "serve", port: wantedPort(port) };
  if (port !== undefined)
    throw new Error("--port is for serving on this machine: leave it out, or --origin and --out.");
  if (origin === undefined) throw new Error("--out needs --origin, the https address at which the folder will stand.");
  if (out === undefined || out === "") throw new Error("--origin needs --out DIR, the folder to write.");
  return { kind: "write", origin: wantedOrigin(origin), out };
}

/** The port that was asked for; undefined for the manifest's own. */
function wantedPort(given: string | undefined): number | undefined {
  const mend = `--port is "${given}": give a whole number from 1 to 65535, such as --port 3444.`;
  const port = parseNumber(given, mend);
  if (port !== undefined && (String(port) !== given || !Number.isInteger(port) || port < 1 || port > 65535))
    throw new Error(mend);
  return port;
}

/** The address without a stroke at its end. */
function wantedOrigin(given: string): string {
  const wrong = (why: string) =>
    new Error(`--origin is "${given}", ${why}: give the address of the folder, such as https://hall.example/bendbook.`);
  if (!URL.canParse(given)) throw wrong("which is no address");
  const { protocol, username, password, search, hash, hostname, href } = new URL(given);
  if (protocol !== "https:") throw wrong("and Excel takes add-ins over https only");
  if (username !== "" || password !== "") throw wrong("which holds a name or a password that everybody could read");
  if (search !== "" || hash !== "" || /[?#]$/.test(given)) throw wrong("which goes on after the folder");
  if (hostname === "localhost" || hostname === "[::1]" || /^127\./.test(hostname))
    throw wrong("which is this machine: npm run excel without --origin serves here");
  return href.replace(/\/+$/, "");
}
