/**
 * The map of a workbook's package: which part is related to which.
 */
import { encodeAttribute } from "../../xmlText";
import { corrupt } from "./fileProblem";
import { XmlScan } from "./xmlScan";
import type { Archive } from "./zip";

export interface Relation {
  readonly id: string;
  /** The last word of the relation's type, such as "worksheet"; the same in both forms of the format. */
  readonly kind: string;
  /** Name of the part it leads to; undefined when it leads outside the file. */
  readonly part: string | undefined;
}

/** Where the relations of a part are kept; the package itself has the name "". */
export function relationsPart(part: string): string {
  const slash = part.lastIndexOf("/");
  return `${part.slice(0, slash + 1)}_rels/${part.slice(slash + 1)}.rels`;
}

export function relationsOf(archive: Archive, part: string): Relation[] {
  const name = relationsPart(part);
  if (!archive.has(name)) return [];
  const relations: Relation[] = [];
  const scan = new XmlScan(archive.text(name));
  while (scan.next()) {
    if (scan.name !== "Relationship" || scan.closing) continue;
    const target = scan.attribute("Target") ?? "";
    relations.push({
      id: scan.attribute("Id") ?? "",
      kind: (scan.attribute("Type") ?? "").replace(/^.*\//s, ""),
      part: scan.attribute("TargetMode") === "External" ? undefined : resolved(part, target),
    });
  }
  return relations;
}

function resolved(from: string, target: string): string {
  const path = (target.startsWith("/") ? "" : from.slice(0, from.lastIndexOf("/") + 1)) + decoded(target);
  const steps: string[] = [];
  for (const step of path.split("/")) {
    if (step === "..") steps.pop();
    else if (step !== "" && step !== ".") steps.push(step);
  }
  return steps.join("/");
}

function decoded(target: string): string {
  try {
    return decodeURI(target);
  } catch {
    return target;
  }
}

/** The main part of a workbook package. */
export function workbookPart(archive: Archive): string {
  const part =
    relationsOf(archive, "").find((relation) => relation.kind === "officeDocument")?.part ?? "xl/workbook.xml";
  if (!archive.has(part)) throw corrupt("the list of its sheets is missing");
  return part;
}

const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006/";

/** Relates `to` from `from` and returns the relation's id. */
export function addRelation(archive: Archive, from: string, kind: string, to: string): string {
  const name = relationsPart(from);
  const ids = new Set(relationsOf(archive, from).map((relation) => relation.id));
  let n = ids.size + 1;
  while (ids.has(`rId${n}`)) n++;
  const xml = archive.has(name)
    ? archive.text(name)
    : `${XML_HEAD}<Relationships xmlns="${PACKAGE}relationships"></Relationships>`;
  archive.put(
    name,
    appended(
      xml,
      "Relationships",
      (prefix) =>
        `<${prefix}Relationship Id="rId${n}" Type="${OFFICE}${kind}" Target="${encodeAttribute(encodeURI(relative(from, to)))}"/>`,
    ),
  );
  return `rId${n}`;
}

function relative(from: string, to: string): string {
  const here = from.split("/").slice(0, -1);
  const there = to.split("/");
  let shared = 0;
  while (shared < here.length && here[shared] === there[shared]) shared++;
  return "../".repeat(here.length - shared) + there.slice(shared).join("/");
}

/** Takes the relations that lead to `to` away from `from`. */
export function removeRelation(archive: Archive, from: string, to: string): void {
  const name = relationsPart(from);
  const ids = relationsOf(archive, from)
    .filter((relation) => relation.part === to)
    .map((relation) => relation.id);
  const xml = withoutElements(archive.text(name), "Relationship", (scan) => ids.includes(scan.attribute("Id") ?? ""));
  archive.put(name, xml);
}

const TYPES = "[Content_Types].xml";

/** Says what kind of content a new part holds. */
export function addContentType(archive: Archive, part: string, type: string): void {
  archive.put(
    TYPES,
    appended(
      archive.text(TYPES),
      "Types",
      (prefix) => `<${prefix}Override PartName="/${encodeAttribute(encodeURI(part))}" ContentType="${type}"/>`,
    ),
  );
}

/** Removes a part, the relations it has and its content type. */
export function removePart(archive: Archive, part: string): void {
  archive.remove(part);
  archive.remove(relationsPart(part));
  const wanted = `/${part}`.toLowerCase();
  archive.put(
    TYPES,
    withoutElements(
      archive.text(TYPES),
      "Override",
      (scan) => decoded(scan.attribute("PartName") ?? "").toLowerCase() === wanted,
    ),
  );
}

/** Every part that can be reached from the package by relations. */
export function reachableParts(archive: Archive): Set<string> {
  const reached = new Set<string>();
  const queue = [""];
  for (let from = queue.pop(); from !== undefined; from = queue.pop()) {
    for (const { part } of relationsOf(archive, from)) {
      if (part === undefined || reached.has(part) || !archive.has(part)) continue;
      reached.add(part);
      queue.push(part);
    }
  }
  return reached;
}

/** The first of name1, name2 … that no part has; `pattern` holds "#" where the number goes. */
export function freePart(archive: Archive, pattern: string): string {
  for (let n = 1; ; n++) {
    const name = pattern.replace("#", String(n));
    if (!archive.has(name)) return name;
  }
}

export const XML_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';

/** The XML with a child added at the end of its first element of that name; `child` gets the prefix in use there. */
export function appended(xml: string, parent: string, child: (prefix: string) => string): string {
  const scan = new XmlScan(xml);
  while (scan.next()) {
    if (scan.name !== parent || scan.closing) continue;
    const { prefix, start, end, empty } = scan;
    if (empty) {
      const tag = xml.slice(start, end).replace(/\s*\/>$/, ">");
      return `${xml.slice(0, start)}${tag}${child(prefix)}</${prefix}${parent}>${xml.slice(end)}`;
    }
    scan.skip();
    return xml.slice(0, scan.start) + child(prefix) + xml.slice(scan.start);
  }
  throw corrupt(`a part has no ${parent}`);
}

/** The XML without the elements of that name that the test picks. */
export function withoutElements(xml: string, name: string, picked: (scan: XmlScan) => boolean): string {
  const scan = new XmlScan(xml);
  let out = "";
  let at = 0;
  while (scan.next()) {
    if (scan.name !== name || scan.closing || !picked(scan)) continue;
    out += xml.slice(at, scan.start);
    scan.skip();
    at = scan.end;
  }
  return out + xml.slice(at);
}

/** An opening tag with attributes set (or, where undefined, taken away). */
export function withAttributes(tag: string, changes: Readonly<Record<string, string | undefined>>): string {
  let out = tag;
  for (const [name, value] of Object.entries(changes)) {
    const present = new RegExp(`\\s${name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")}\\s*=\\s*(?:"[^"]*"|'[^']*')`);
    const text = value === undefined ? "" : ` ${name}="${encodeAttribute(value)}"`;
    out = present.test(out)
      ? out.replace(present, () => text)
      : out.replace(/\s*(\/?)>$/, (_, slash) => `${text}${slash}>`);
  }
  return out;
}
