/** The add-in's manifest, the one place that says at which port it is served. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "./install.mjs";

export const MANIFEST = join(root, "manifest.xml");
const ADDRESS = /https:\/\/localhost:(\d+)/g;

export function readManifest(): string {
  return readFileSync(MANIFEST, "utf8");
}

/** The port in every address of a manifest. @throws Error when there is none or there are several */
export function manifestPort(xml: string): number {
  const ports = [...new Set([...xml.matchAll(ADDRESS)].map(([, port]) => Number(port)))];
  if (ports.length !== 1)
    throw new Error(
      `manifest.xml names ${ports.length === 0 ? "no port" : `the ports ${ports.join(", ")}`}; it should name one.`,
    );
  return ports[0];
}

/** The same manifest for another port. */
export function withPort(xml: string, port: number): string {
  return xml.replace(ADDRESS, `https://localhost:${port}`);
}

/**
 * The same manifest for files that stand below another address. That address's own domain needs no mention among the
 * further domains.
 * @param origin with its path and without a stroke at the end
 */
export function withOrigin(xml: string, origin: string): string {
  return xml.replace(/\s*<AppDomains>[^]*?<\/AppDomains>/, "").replace(ADDRESS, origin);
}

/** The same manifest with the version that package.json says, as the four numbers that Office asks for. */
export function withVersion(xml: string, version: string): string {
  return xml.replace(/<Version>[^<]*<\/Version>/, `<Version>${version}.0</Version>`);
}
