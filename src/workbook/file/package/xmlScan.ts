/**
 * Walks over the tags of an XML text and knows where each stands, so that a part can be edited in place. Prefixes are
 * dropped from element names; definitions of entities are ignored, so a text cannot swell.
 */
import { decodeXml } from "../../xmlText";
import { corrupt } from "./fileProblem";

/** One edit of a text: what stands from start to end becomes `text`. */
export interface TextEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Makes edits that do not overlap; edits at the same place keep their order. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  if (edits.length === 0) return text;
  const ordered = [...edits].sort((a, b) => a.start - b.start || a.end - b.end);
  const pieces: string[] = [];
  let at = 0;
  for (const edit of ordered) {
    pieces.push(text.slice(at, edit.start), edit.text);
    at = edit.end;
  }
  pieces.push(text.slice(at));
  return pieces.join("");
}

/** A cursor on the tags of an XML text. */
export class XmlScan {
  /** Where the present tag's "<" stands, and the place after its ">". */
  start = 0;
  end = 0;
  /** Element name without prefix. */
  name = "";
  prefix = "";
  /** `</name>`. */
  closing = false;
  /** `<name/>`. */
  empty = false;

  constructor(readonly xml: string) {}

  /** Moves to the next tag; false at the end of the text. */
  next(): boolean {
    const { xml } = this;
    let from = this.end;
    for (;;) {
      const open = xml.indexOf("<", from);
      if (open < 0) return false;
      const first = xml.charCodeAt(open + 1);
      if (first === 33 /* ! */) {
        from = afterMark(xml, open);
      } else if (first === 63 /* ? */) {
        from = after(xml, "?>", open);
      } else {
        this.enter(open, first === 47 /* / */);
        return true;
      }
    }
  }

  private enter(open: number, closing: boolean): void {
    const { xml } = this;
    let at = open + (closing ? 2 : 1);
    const nameStart = at;
    let colon = -1;
    let code = xml.charCodeAt(at);
    while (code > 32 && code !== 62 && code !== 47) {
      if (code === 58) colon = at;
      code = xml.charCodeAt(++at);
    }
    this.prefix = colon < 0 ? "" : xml.slice(nameStart, colon + 1);
    this.name = xml.slice(colon < 0 ? nameStart : colon + 1, at);
    let quote = 0;
    for (; ; at++) {
      code = xml.charCodeAt(at);
      if (code !== code) throw corrupt("one of its parts ends inside a tag");
      if (quote) {
        if (code === quote) quote = 0;
      } else if (code === 34 || code === 39) quote = code;
      else if (code === 62) break;
    }
    this.start = open;
    this.end = at + 1;
    this.closing = closing;
    this.empty = xml.charCodeAt(at - 1) === 47 && !closing;
  }

  /** The attribute of that full name on the present tag, decoded. */
  attribute(name: string): string | undefined {
    const { xml } = this;
    let at = this.start + 1;
    const stop = this.end - 1;
    for (;;) {
      at = xml.indexOf("=", at);
      if (at < 0 || at >= stop) return undefined;
      let nameEnd = at;
      while (xml.charCodeAt(nameEnd - 1) <= 32) nameEnd--;
      let open = at + 1;
      while (xml.charCodeAt(open) <= 32) open++;
      const close = xml.indexOf(xml.charAt(open), open + 1);
      if (close < 0 || close >= this.end) return undefined;
      const before = xml.charCodeAt(nameEnd - name.length - 1);
      if (before <= 32 && xml.startsWith(name, nameEnd - name.length)) return decodeXml(xml.slice(open + 1, close));
      at = close + 1;
    }
  }

  /** All attributes of the present tag, by full name. */
  attributes(): Map<string, string> {
    const found = new Map<string, string>();
    const tag = this.xml.slice(this.start, this.end);
    for (const [, name = "", quoted = ""] of tag.matchAll(/\s([^\s=]+)\s*=\s*("[^"]*"|'[^']*')/g))
      found.set(name, decodeXml(quoted.slice(1, -1)));
    return found;
  }

  /** The text inside the present element, with the tags in it left out; moves to its closing tag. */
  text(): string {
    if (this.empty) return "";
    const { xml } = this;
    const from = this.end;
    const stop = xml.indexOf("<", from);
    if (stop >= 0 && xml.charCodeAt(stop + 1) === 47) {
      this.next();
      return decodeXml(xml.slice(from, stop));
    }
    return this.mixedText();
  }

  private mixedText(): string {
    const { xml } = this;
    const pieces: string[] = [];
    let from = this.end;
    for (let depth = 1; depth > 0;) {
      if (!this.next()) throw corrupt("one of its parts ends too early");
      pieces.push(withoutMarks(xml.slice(from, this.start)));
      from = this.end;
      if (this.closing) depth--;
      else if (!this.empty) depth++;
    }
    return pieces.join("");
  }

  /** Moves to the closing tag of the present element. */
  skip(): void {
    if (this.empty || this.closing) return;
    for (let depth = 1; depth > 0;) {
      if (!this.next()) throw corrupt("one of its parts ends too early");
      if (this.closing) depth--;
      else if (!this.empty) depth++;
    }
  }
}

function afterMark(xml: string, open: number): number {
  if (xml.startsWith("<!--", open)) return after(xml, "-->", open + 4);
  if (xml.startsWith("<![CDATA[", open)) return after(xml, "]]>", open);
  return after(xml, ">", open);
}

function after(xml: string, mark: string, from: number): number {
  const at = xml.indexOf(mark, from);
  if (at < 0) throw corrupt("one of its parts ends too early");
  return at + mark.length;
}

function withoutMarks(text: string): string {
  return text
    .split(/(<!\[CDATA\[[^]*?\]\]>|<!--[^]*?-->|<\?[^]*?\?>)/)
    .map((piece) => (piece.startsWith("<![CDATA[") ? piece.slice(9, -3) : /^<[!?]/.test(piece) ? "" : decodeXml(piece)))
    .join("");
}

/** A truth value as attributes write it. @example isTrue("1") === true */
export function isTrue(text: string | undefined): boolean {
  return text === "1" || text === "true";
}
