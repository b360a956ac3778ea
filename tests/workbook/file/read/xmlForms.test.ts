/** XML that says the same in forms that few programs write, and numbers of .csv to their last digit. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCsv } from "../../../../src/workbook/file/read/csv";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { XmlScan } from "../../../../src/workbook/file/package/xmlScan";
import { handmade } from "../packages";

async function cellsOf(rows: string, strings: readonly string[] = []) {
  const book = await readXlsx(handmade({ sheets: { Trials: `<sheetData>${rows}</sheetData>` }, strings }));
  return book.sheets[0]!.rows.map((row) => row?.map((cell) => cell?.value ?? null));
}

describe("marks between tags", () => {
  it.each([
    ["a comment without a letter", "<!---->"],
    ["a comment that holds tags", '<!-- <row r="9"> -- -> ]]> <c/> -->'],
    ["a comment that ends in a dash", "<!-- a - -->"],
    ["characters as they are", "<![CDATA[ </row> <c> --> ]]>"],
    ["an instruction", '<?app <row r="7"/> ?>'],
    ["an instruction without a letter", "<??>"],
  ])("%s say nothing of the cells", async (_, mark) => {
    expect(
      await cellsOf(
        `${mark}<row r="1">${mark}<c r="A1">${mark}<v>1</v>${mark}</c>${mark}<c r="B1"><v>2</v></c></row>${mark}`,
      ),
    ).toEqual([[1, 2]]);
  });

  it("in a text are left out, or kept as they are, and entities are read once", async () => {
    expect(
      await cellsOf(
        '<row r="1"><c r="A1" t="str"><v>a<!-- <b> -->b<![CDATA[<&amp;>]]>c<!---->&lt;&amp;lt;<?x?></v></c><c r="B1" t="s"><v>0</v></c></row>',
        ["<t>one</t><!-- <t>none</t> --><r><t><![CDATA[ two ]]></t></r>"],
      ),
    ).toEqual([["ab<&amp;>c<&lt;", "one two "]]);
  });

  it("that never end are damage", async () => {
    for (const mark of ["<!-- ", "<![CDATA[ ", "<? ", "<c r='", "<!x"])
      await expect(cellsOf(`<row r="1"><c r="A1"><v>1</v></c>${mark}`)).rejects.toThrow(
        /ends too early|inside a tag|cut off/,
      );
  });
});

describe("attributes", () => {
  it("are found whatever quotes and blanks stand around them, and whatever the ones before hold", () => {
    const blank = fc.constantFrom(" ", "\n", "\t ", "  ");
    const name = fc.constantFrom("r", "s", "t", "xr:r", "ht", "spans", "xml:r", "rr");
    const value = fc.array(fc.constantFrom("a", "1", "=", "'", ">", "/", " ", "r=", "&amp;", "&lt;"), { maxLength: 5 });
    const written = fc.tuple(
      blank,
      name,
      fc.constantFrom("", " ", "\n"),
      fc.constantFrom("", " "),
      value,
      fc.constantFrom('"', "'"),
    );
    fc.assert(
      fc.property(fc.uniqueArray(written, { maxLength: 6, selector: ([, key]) => key }), blank, (all, end) => {
        const held = (text: readonly string[], quote: string) =>
          text.join("").replaceAll(quote, quote === "'" ? "&apos;" : "&quot;");
        const tag = `<x:row${all.map(([before, key, left, right, text, quote]) => `${before}${key}${left}=${right}${quote}${held(text, quote)}${quote}`).join("")}${end}/>`;
        const scan = new XmlScan(`<a>${tag}</a>`);
        expect([scan.next(), scan.name, scan.prefix, scan.empty]).toEqual([true, "a", "", false]);
        expect([scan.next(), scan.name, scan.prefix, scan.empty]).toEqual([true, "row", "x:", true]);
        expect(scan.xml.slice(scan.start, scan.end)).toBe(tag);
        const plain = (text: readonly string[]) => text.join("").replaceAll("&amp;", "&").replaceAll("&lt;", "<");
        for (const key of ["r", "s", "t", "xr:r", "ht", "spans", "xml:r", "rr", "missing"]) {
          const one = all.find(([, name]) => name === key);
          expect(scan.attribute(key)).toBe(one && plain(one[4]));
        }
        expect(scan.attributes()).toEqual(new Map(all.map(([, key, , , text]) => [key, plain(text)])));
        expect([scan.next(), scan.name, scan.closing, scan.empty]).toEqual([true, "a", true, false]);
        expect(scan.next()).toBe(false);
      }),
      { seed: 21, numRuns: 300 },
    );
  });
});

describe("numbers in .csv", () => {
  const valueOf = (field: string, delimiter: string) =>
    readCsv(new TextEncoder().encode(`Gap${delimiter}Note\n${field}${delimiter}x\n`), "log.csv").sheets[0]!.rows[1]?.[0]
      ?.value;
  const digits = (max: number) =>
    fc.array(fc.constantFrom(..."0123456789"), { minLength: 1, maxLength: max }).map((all) => all.join(""));

  it("are to the last digit what their text says, with a point or a comma, and long labels stay text", () => {
    fc.assert(
      fc.property(fc.boolean(), digits(18), fc.option(digits(18)), (isNegative, whole, fraction) => {
        const sign = isNegative ? "-" : "";
        const leading = /^0\d/.test(whole);
        const text = `${sign}${whole}${fraction === null ? "" : `.${fraction}`}`;
        const value = Number(text);
        // A whole number that would not be written as it stands is a label, and so is one with a 0 before it.
        const isLabel = leading || (fraction === null && value !== 0 && String(value) !== text);
        expect(valueOf(text, ",")).toBe(isLabel ? text : value);
        if (fraction !== null)
          expect(valueOf(text.replace(".", ","), ";")).toBe(isLabel ? text.replace(".", ",") : value);
      }),
      { seed: 22, numRuns: 500 },
    );
    expect(valueOf("9007199254740993", ",")).toBe("9007199254740993");
    expect(valueOf("0.9007199254740993", ",")).toBe(0.9007199254740993);
    expect(valueOf("99999999999999.99", ",")).toBe(99999999999999.99);
    expect(Object.is(valueOf("-0", ","), -0)).toBe(true);
  });
});
