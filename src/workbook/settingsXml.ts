/**
 * The form in which Bendbook's settings travel with a workbook: one custom XML part, which Excel keeps on save and
 * which an add-in and a file reader can both reach.
 */
import { decodeCharacters, decodeXml, encodeXml } from "./xmlText";

/** Namespace of the settings part; Excel finds the part by it. */
export const SETTINGS_NAMESPACE = "urn:bendbook:settings";

/**
 * Settings text to the XML of the part.
 *
 * @example settingsToXml("5") // '<settings xmlns="urn:bendbook:settings">5</settings>'
 */
export function settingsToXml(text: string): string {
  return `<settings xmlns="${SETTINGS_NAMESPACE}">${encodeXml(text)}</settings>`;
}

/** The settings text of such a part; undefined when the XML is something else. */
export function settingsFromXml(xml: string): string | undefined {
  const match = /^\s*(?:<\?[^>]*\?>\s*)?<settings\s[^>]*?xmlns="([^"]*)"[^>]*?(?:\/>|>([^<]*)<\/settings>)\s*$/.exec(
    xml,
  );
  if (!match || match[1] !== SETTINGS_NAMESPACE) return undefined;
  return decodeCharacters(decodeXml(match[2] ?? ""));
}
