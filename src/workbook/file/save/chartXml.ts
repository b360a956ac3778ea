/** A native chart of a new sheet: one series, no legend, named axes, and the values that it shows stored in it. */
import { fixedAddress, quoteSheetName } from "../../address";
import { isCellError, type Area, type BookChart, type BookSheet } from "../../book";
import { encodeXml } from "../../xmlText";
import { XML_HEAD } from "../package/packageParts";

export const CHART_CONTENT = "application/vnd.openxmlformats-officedocument.drawingml.chart+xml";

const SPACES =
  `xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/chart" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" ` +
  `xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`;
/** Said, because readers differ in what they take when nothing is. */
const FILL = `<a:solidFill><a:srgbClr val="1F4E5F"/></a:solidFill>`;
const FRAME = `<c:spPr><a:ln w="9525"><a:solidFill><a:srgbClr val="808080"/></a:solidFill></a:ln></c:spPr>`;
/** Ids of the two axes within a chart. */
const X = 1;
const Y = 2;

/** Points without a line through them, and bars of one colour on both sides of 0. */
const POINTS = `<c:spPr><a:ln><a:noFill/></a:ln></c:spPr><c:marker><c:symbol val="circle"/><c:size val="6"/><c:spPr>${FILL}</c:spPr></c:marker>`;
const BARS = `<c:spPr>${FILL}</c:spPr><c:invertIfNegative val="0"/>`;

export function chartXml(chart: BookChart, sheet: BookSheet): string {
  const scatter = chart.kind === "scatter";
  const series =
    `<c:ser><c:idx val="0"/><c:order val="0"/>${scatter ? POINTS : BARS}` +
    (scatter
      ? `<c:xVal>${reference(chart.x, sheet)}</c:xVal><c:yVal>${reference(chart.y, sheet)}</c:yVal><c:smooth val="0"/>`
      : `<c:cat>${reference(chart.x, sheet)}</c:cat><c:val>${reference(chart.y, sheet)}</c:val>`) +
    `</c:ser>`;
  const axes = `<c:axId val="${X}"/><c:axId val="${Y}"/>`;
  const plot = scatter
    ? `<c:scatterChart><c:scatterStyle val="lineMarker"/><c:varyColors val="0"/>${series}${axes}</c:scatterChart>`
    : `<c:barChart><c:barDir val="col"/><c:grouping val="clustered"/><c:varyColors val="0"/>${series}<c:gapWidth val="150"/>${axes}</c:barChart>`;
  return (
    `${XML_HEAD}<c:chartSpace ${SPACES}><c:roundedCorners val="0"/><c:chart>${titleXml(chart.title)}<c:autoTitleDeleted val="0"/><c:plotArea><c:layout/>${plot}` +
    (scatter ? axisXml("valAx", X, Y, "b", chart.xTitle) : axisXml("catAx", X, Y, "b", chart.xTitle)) +
    axisXml("valAx", Y, X, "l", chart.yTitle) +
    `</c:plotArea><c:plotVisOnly val="1"/><c:dispBlanksAs val="gap"/></c:chart></c:chartSpace>`
  );
}

function axisXml(kind: "valAx" | "catAx", id: number, other: number, side: "b" | "l", title: string): string {
  return (
    `<c:${kind}><c:axId val="${id}"/><c:scaling><c:orientation val="minMax"/></c:scaling><c:delete val="0"/><c:axPos val="${side}"/>` +
    `${titleXml(title)}<c:numFmt formatCode="General" sourceLinked="0"/><c:majorTickMark val="out"/><c:minorTickMark val="none"/>` +
    // Names of levels and values of x stand at the foot of the plot, also where y goes below 0.
    `<c:tickLblPos val="low"/>${FRAME}<c:crossAx val="${other}"/><c:crosses val="autoZero"/></c:${kind}>`
  );
}

function titleXml(text: string): string {
  return (
    `<c:title><c:tx><c:rich><a:bodyPr/><a:p><a:pPr><a:defRPr sz="1100" b="0"/></a:pPr><a:r><a:rPr lang="en" sz="1100" b="0"/>` +
    `<a:t>${encodeXml(text)}</a:t></a:r></a:p></c:rich></c:tx><c:overlay val="0"/></c:title>`
  );
}

/** Cells as a series refers to them, with what they hold. */
function reference(area: Area, sheet: BookSheet): string {
  const held = Array.from({ length: area.rows }, (_, i) => {
    const value = sheet.rows[area.row + i]?.[area.column]?.value ?? null;
    return isCellError(value) ? null : value;
  });
  const numbers = held.every((value) => value === null || typeof value === "number");
  const points = held
    .map((value, i) => (value === null ? "" : `<c:pt idx="${i}"><c:v>${encodeXml(String(value))}</c:v></c:pt>`))
    .join("");
  const [ref, cache] = numbers ? ["numRef", "numCache"] : ["strRef", "strCache"];
  const format = numbers ? "<c:formatCode>General</c:formatCode>" : "";
  return (
    `<c:${ref}><c:f>${encodeXml(`${quoteSheetName(sheet.name)}!${fixedAddress(area)}`)}</c:f>` +
    `<c:${cache}>${format}<c:ptCount val="${area.rows}"/>${points}</c:${cache}></c:${ref}>`
  );
}
