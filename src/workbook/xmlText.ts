/**
 * Text in and out of XML as spreadsheets write it.
 * Characters that XML may not hold are written as _xHHHH_, and a text that looks like such an escape has its first
 * underscore escaped in turn, so that every text comes back as it was.
 */

const NAMED: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

/** XML text to plain text: entities and character references; line ends become "\n" as XML prescribes. */
export function decodeXml(text: string): string {
  const lines = text.includes("\r") ? text.replace(/\r\n?/g, "\n") : text;
  if (!lines.includes("&")) return lines;
  return lines.replace(/&(?:#x([0-9a-f]{1,6})|#(\d{1,7})|(\w+));/gi, (whole, hex, decimal, name) => {
    if (name !== undefined) return NAMED[name] ?? whole;
    const code = hex !== undefined ? parseInt(hex, 16) : Number(decimal);
    return code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });
}

/** The _xHHHH_ escapes of cell text to their characters. */
export function decodeCharacters(text: string): string {
  return text.includes("_x")
    ? text.replace(/_x([0-9a-f]{4})_/gi, (_, hex) => String.fromCharCode(parseInt(hex, 16)))
    : text;
}

/** Plain text to XML text that `decodeXml` and `decodeCharacters` turn back into the same text. */
export function encodeXml(text: string): string {
  return escapeMarkup(escapeCharacters(text));
}

/**
 * Plain text to the value of an attribute, or to text in parts that know no _xHHHH_ escapes; what XML may not hold is
 * left out.
 */
export function encodeAttribute(text: string): string {
  return escapeMarkup(text.replace(FORBIDDEN, "")).replace(/[\t\n\r]/g, (character) => `&#${character.charCodeAt(0)};`);
}

function escapeMarkup(text: string): string {
  return /[&<>"\r]/.test(text) ? text.replace(/[&<>"\r]/g, (character) => MARKUP[character] ?? character) : text;
}

const MARKUP: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "\r": "&#13;",
};

// Controls except tab and line ends, lone surrogates, and the two non-characters that end the first plane.
const FORBIDDEN =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Plain text with _xHHHH_ for what XML may not hold; markup stays. */
export function escapeCharacters(text: string): string {
  const literal = text.includes("_x") ? text.replace(/_(?=x[0-9a-f]{4}_)/gi, "_x005F_") : text;
  return literal.replace(
    FORBIDDEN,
    (character) => `_x${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}_`,
  );
}
