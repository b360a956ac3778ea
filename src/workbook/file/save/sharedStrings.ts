/**
 * The shared strings of a workbook that is being written.
 */
import { encodeXml } from "../../xmlText";
import { EMPTY_STRINGS, STRINGS_CONTENT } from "./newPackage";
import { addContentType, addRelation, appended, freePart, relationsOf, withAttributes } from "../package/packageParts";
import { XmlScan } from "../package/xmlScan";
import type { Archive } from "../package/zip";

/** The shared strings: what the original has stays, new texts come at the end. */
export class StringTable {
  private readonly known = new Map<string, number>();
  private readonly added: string[] = [];
  private readonly part: string | undefined;
  private readonly xml: string;
  private count = 0;

  constructor(
    private readonly archive: Archive,
    private readonly workbook: string,
  ) {
    this.part = relationsOf(archive, workbook).find(
      ({ kind, part }) => kind === "sharedStrings" && part !== undefined && archive.has(part),
    )?.part;
    this.xml = this.part === undefined ? EMPTY_STRINGS : archive.text(this.part);
    const scan = new XmlScan(this.xml);
    while (scan.next()) if (scan.name === "si" && (!scan.closing || scan.empty)) this.count++;
  }

  index(text: string): number {
    let index = this.known.get(text);
    if (index === undefined) {
      index = this.count + this.added.push(text) - 1;
      this.known.set(text, index);
    }
    return index;
  }

  store(): void {
    if (this.added.length === 0) return;
    const part =
      this.part ??
      freePart(this.archive, "xl/sharedStrings#.xml").replace(
        "sharedStrings1.xml",
        this.archive.has("xl/sharedStrings.xml") ? "sharedStrings1.xml" : "sharedStrings.xml",
      );
    const xml = appended(this.xml, "sst", (p) =>
      this.added.map((text) => `<${p}si><${p}t xml:space="preserve">${encodeXml(text)}</${p}t></${p}si>`).join(""),
    );
    const root = new XmlScan(xml);
    root.next();
    const tag = withAttributes(xml.slice(root.start, root.end), { count: undefined, uniqueCount: undefined });
    this.archive.put(part, xml.slice(0, root.start) + tag + xml.slice(root.end));
    if (this.part !== undefined) return;
    addRelation(this.archive, this.workbook, "sharedStrings", part);
    addContentType(this.archive, part, STRINGS_CONTENT);
  }
}
