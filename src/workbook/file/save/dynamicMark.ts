/**
 * The metadata that marks a cell's formula as a dynamic array, merged into what the workbook has.
 */
import {
  addContentType,
  addRelation,
  appended,
  freePart,
  relationsOf,
  withAttributes,
  XML_HEAD,
} from "../package/packageParts";
import { XmlScan } from "../package/xmlScan";
import type { Archive } from "../package/zip";

const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const DYNAMIC = "http://schemas.microsoft.com/office/spreadsheetml/2017/dynamicarray";
const TYPE_NAME = "XLDAPR";

/** Makes sure that the workbook has the mark and returns the index that cells carry as cm. */
export function dynamicMark(archive: Archive, workbookPart: string): number {
  let part = relationsOf(archive, workbookPart).find((relation) => relation.kind === "sheetMetadata")?.part;
  if (part === undefined || !archive.has(part)) {
    part = freePart(archive, "xl/metadata#.xml").replace(
      "metadata1.xml",
      archive.has("xl/metadata.xml") ? "metadata1.xml" : "metadata.xml",
    );
    archive.put(part, `${XML_HEAD}<metadata xmlns="${MAIN}"></metadata>`);
    addRelation(archive, workbookPart, "sheetMetadata", part);
    addContentType(archive, part, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheetMetadata+xml");
  }
  const type = counted(
    archive.text(part),
    "metadataTypes",
    undefined,
    ["metadataStrings", "mdxMetadata", "futureMetadata", "cellMetadata", "valueMetadata", "extLst"],
    isOurType,
    typeXml,
  );
  const future = counted(
    type.xml,
    "futureMetadata",
    TYPE_NAME,
    ["cellMetadata", "valueMetadata", "extLst"],
    isDynamicBlock,
    futureXml,
  );
  const wanted = `t="${type.index + 1}" v="${future.index}"`;
  const cell = counted(
    future.xml,
    "cellMetadata",
    undefined,
    ["valueMetadata", "extLst"],
    (xml) => isBlock(xml, type.index + 1, future.index),
    (p) => `<${p}bk><${p}rc ${wanted}/></${p}bk>`,
  );
  archive.put(part, cell.xml);
  return cell.index + 1;
}

const isOurType = (xml: string) => new RegExp(`\\sname\\s*=\\s*["']${TYPE_NAME}["']`).test(xml);
const typeXml = (p: string) =>
  `<${p}metadataType name="${TYPE_NAME}" minSupportedVersion="120000" copy="1" pasteAll="1" pasteValues="1" merge="1" splitFirst="1" rowColShift="1" clearFormats="1" clearComments="1" assign="1" coerce="1" cellMeta="1"/>`;

const isDynamicBlock = (xml: string) =>
  /fDynamic\s*=\s*["'](1|true)["']/.test(xml) && !/fCollapsed\s*=\s*["'](1|true)["']/.test(xml);
const futureXml = (p: string) =>
  `<${p}bk><${p}extLst><${p}ext uri="{bdbb8cdc-fa1e-496e-a857-3c3f30c029c3}"><xda:dynamicArrayProperties xmlns:xda="${DYNAMIC}" fDynamic="1" fCollapsed="0"/></${p}ext></${p}extLst></${p}bk>`;

function isBlock(xml: string, type: number, value: number): boolean {
  const scan = new XmlScan(xml);
  const records: string[] = [];
  while (scan.next()) if (scan.name === "rc") records.push(`${scan.attribute("t")} ${scan.attribute("v")}`);
  return records.length === 1 && records[0] === `${type} ${value}`;
}

/** Index of the child that passes the test in a counted list; list and child are made where they are missing. */
function counted(
  xml: string,
  list: string,
  name: string | undefined,
  before: readonly string[],
  test: (xml: string) => boolean,
  child: (prefix: string) => string,
): { xml: string; index: number } {
  const scan = new XmlScan(xml);
  scan.next();
  const { prefix } = scan;
  while (scan.next() && !scan.closing) {
    if (scan.name !== list || (name !== undefined && scan.attribute("name") !== name)) {
      scan.skip();
      continue;
    }
    const { start, end, empty } = scan;
    let count = 0;
    while (!empty && scan.next() && !scan.closing) {
      const from = scan.start;
      scan.skip();
      if (test(xml.slice(from, scan.end))) return { xml, index: count };
      count++;
    }
    const tag = withAttributes(xml.slice(start, end), { count: String(count + 1) });
    if (empty)
      return {
        xml: xml.slice(0, start) + tag.replace(/\s*\/>$/, ">") + child(prefix) + `</${prefix}${list}>` + xml.slice(end),
        index: 0,
      };
    return {
      xml: xml.slice(0, start) + tag + xml.slice(end, scan.start) + child(prefix) + xml.slice(scan.start),
      index: count,
    };
  }
  const made = `<${prefix}${list}${name === undefined ? "" : ` name="${name}"`} count="1">${child(prefix)}</${prefix}${list}>`;
  const place = new XmlScan(xml);
  place.next();
  while (place.next() && !place.closing) {
    if (before.includes(place.name))
      return { xml: xml.slice(0, place.start) + made + xml.slice(place.start), index: 0 };
    place.skip();
  }
  return { xml: appended(xml, "metadata", () => made), index: 0 };
}
