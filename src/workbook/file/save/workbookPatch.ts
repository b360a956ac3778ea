/**
 * Edits of the workbook part itself: its list of sheets, its names and its wish to be recomputed.
 */
import type { Book } from "../../book";
import { decodeCharacters, encodeAttribute, encodeXml, escapeCharacters } from "../../xmlText";
import { withAttributes } from "../package/packageParts";
import { fromStorage, toStorage } from "../package/storageFormula";
import { applyEdits, XmlScan, type TextEdit, isTrue } from "../package/xmlScan";

/** A sheet in the list that is to be: one the file has, by the id of its relation, or a new one. */
export interface ListedSheet {
  readonly name: string;
  readonly hidden: boolean;
  readonly relation: string;
}

/** The workbook part with this list of sheets; sheets of another kind, such as charts, keep their place. */
export function withSheets(
  xml: string,
  sheets: readonly ListedSheet[],
  isWorksheet: (relation: string) => boolean,
): string {
  const scan = new XmlScan(xml);
  const old: { relation: string; tag: string; id: number }[] = [];
  let list: { start: number; end: number; prefix: string } | undefined;
  let relationPrefix = "r:";
  while (scan.next()) {
    if (scan.name !== "sheets" || scan.closing) continue;
    const { start, empty, prefix } = scan;
    while (!empty && scan.next() && !scan.closing) {
      const [key, relation] = [...scan.attributes()].find(([name]) => name.endsWith(":id")) ?? ["r:id", ""];
      relationPrefix = key.slice(0, -2);
      old.push({ relation, tag: xml.slice(scan.start, scan.end), id: Number(scan.attribute("sheetId")) });
      scan.skip();
    }
    list = { start, end: scan.end, prefix };
    break;
  }
  if (!list) return xml;
  const p = list.prefix;
  let nextId = old.reduce((highest, { id }) => Math.max(highest, id), 0) + 1;
  const order: { relation: string; tag: string }[] = sheets.map((sheet) => {
    const known = old.find((entry) => entry.relation === sheet.relation);
    const tag = known?.tag ?? `<${p}sheet name="" sheetId="${nextId++}" ${relationPrefix}id="${sheet.relation}"/>`;
    const wasHidden = /\sstate\s*=\s*["'](?:hidden|veryHidden)["']/.test(tag);
    return {
      relation: sheet.relation,
      tag: withAttributes(tag, {
        name: escapeCharacters(sheet.name),
        ...(wasHidden === sheet.hidden ? {} : { state: sheet.hidden ? "hidden" : undefined }),
      }),
    };
  });
  old.forEach((entry, i) => {
    if (isWorksheet(entry.relation)) return;
    const before = old
      .slice(0, i)
      .reverse()
      .find((other) => order.some(({ relation }) => relation === other.relation));
    const at = before ? order.findIndex(({ relation }) => relation === before.relation) + 1 : 0;
    order.splice(at, 0, entry);
  });
  const text = `<${p}sheets>${order.map(({ tag }) => tag.replace(/([^/])>$/, "$1/>")).join("")}</${p}sheets>`;
  const edited = xml.slice(0, list.start) + text + xml.slice(list.end);
  const places = old.map(({ relation }) => order.findIndex((entry) => entry.relation === relation));
  return places.every((place, i) => place === i) ? edited : withPlacesMoved(edited, places);
}

/** Names and views point to sheets by their place in the list. */
function withPlacesMoved(xml: string, places: readonly number[]): string {
  const edits: TextEdit[] = [];
  const scan = new XmlScan(xml);
  while (scan.next()) {
    if (scan.closing) continue;
    const { start, end, name } = scan;
    const tag = xml.slice(start, end);
    if (name === "workbookView") {
      const moved = (place: string | undefined) =>
        place === undefined ? undefined : String(Math.max(0, places[Number(place)] ?? 0));
      edits.push({
        start,
        end,
        text: withAttributes(tag, { activeTab: moved(scan.attribute("activeTab")), firstSheet: undefined }),
      });
    } else if (name === "definedName") {
      const local = scan.attribute("localSheetId");
      if (local === undefined) continue;
      const place = places[Number(local)] ?? -1;
      if (place >= 0) edits.push({ start, end, text: withAttributes(tag, { localSheetId: String(place) }) });
      else {
        scan.skip();
        edits.push({ start, end: scan.end, text: "" });
      }
    }
  }
  return applyEdits(xml, edits).replace(/<(\w+:)?definedNames>\s*<\/(\w+:)?definedNames>/, "");
}

/** The workbook part with the Book's names: new ones added, changed ones rewritten, all others left. */
export function withNames(xml: string, names: Book["names"]): string {
  const edits: TextEdit[] = [];
  const known = new Set<string>();
  const listed: string[] = [];
  const scan = new XmlScan(xml);
  let listEnd = -1;
  let prefix = "";
  while (scan.next()) {
    if (scan.name === "definedNames" && scan.closing) listEnd = scan.start;
    if (scan.name === "workbook") prefix = scan.prefix;
    if (scan.name === "sheet" && !scan.closing) listed.push(decodeCharacters(scan.attribute("name") ?? ""));
    if (scan.name !== "definedName" || scan.closing) continue;
    const key = nameKey(scan.attribute("name") ?? "", listed[Number(scan.attribute("localSheetId") ?? -1)]);
    if (isTrue(scan.attribute("hidden")) || known.has(key)) continue;
    known.add(key);
    const from = scan.end;
    const reference = fromStorage(scan.text());
    const wanted = names.find(({ name, sheet }) => nameKey(name, sheet) === key);
    if (wanted && wanted.reference !== reference)
      edits.push({ start: from, end: scan.start, text: encodeXml(toStorage(wanted.reference)) });
  }
  const added = names
    .filter(({ name, sheet }) => !known.has(nameKey(name, sheet)) && (sheet === undefined || listed.includes(sheet)))
    .map(({ name, reference, sheet }) => {
      const scope = sheet === undefined ? "" : ` localSheetId="${listed.indexOf(sheet)}"`;
      return `<${prefix}definedName name="${encodeAttribute(name)}"${scope}>${encodeXml(toStorage(reference))}</${prefix}definedName>`;
    })
    .join("");
  if (added === "") return applyEdits(xml, edits);
  if (listEnd >= 0) return applyEdits(xml, [...edits, { start: listEnd, end: listEnd, text: added }]);
  return insertedAfter(
    applyEdits(xml, edits),
    ["externalReferences", "functionGroups", "sheets"],
    `<${prefix}definedNames>${added}</${prefix}definedNames>`,
  );
}

/** Names differ by more than case, and one of a sheet is another than the workbook's. */
function nameKey(name: string, sheet: string | undefined): string {
  return `${sheet ?? ""}\n${name.toLowerCase()}`;
}

/** The workbook part with the wish that everything is computed when it is opened. */
export function withFullCalculation(xml: string): string {
  const scan = new XmlScan(xml);
  while (scan.next()) {
    if (scan.name !== "calcPr" || scan.closing) continue;
    const tag = withAttributes(xml.slice(scan.start, scan.end), { fullCalcOnLoad: "1" });
    return xml.slice(0, scan.start) + tag + xml.slice(scan.end);
  }
  const root = new XmlScan(xml);
  root.next();
  return insertedAfter(
    xml,
    ["definedNames", "externalReferences", "functionGroups", "sheets"],
    `<${root.prefix}calcPr fullCalcOnLoad="1"/>`,
  );
}

/** Puts text after the first of these elements that is there. */
function insertedAfter(xml: string, names: readonly string[], text: string): string {
  for (const name of names) {
    const scan = new XmlScan(xml);
    while (scan.next()) {
      if (scan.name !== name || scan.closing) continue;
      scan.skip();
      return xml.slice(0, scan.end) + text + xml.slice(scan.end);
    }
  }
  return xml;
}
