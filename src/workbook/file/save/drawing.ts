/** Pictures and charts of a new sheet as parts of the package: one drawing, its images and charts. */
import type { BookPicture, BookSheet } from "../../book";
import { encodeAttribute } from "../../xmlText";
import { addContentType, addRelation, freePart, XML_HEAD } from "../package/packageParts";
import type { Archive } from "../package/zip";
import { CHART_CONTENT, chartXml } from "./chartXml";
import { usedColumns } from "./printSetup";

/** English metric units in a point (ECMA-376 part 1, 20.1.2.1). */
const EMU = 12_700;
const DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/";
const RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND = "application/vnd.openxmlformats-officedocument.drawing+xml";
/** Cells that a chart covers, and rows from one to the next, as in Excel's pane. */
const CHART = { rows: 16, columns: 8, apart: 18 };

/**
 * Puts the pictures and charts of a sheet into the package; charts stand beside the cells, one below the other.
 * @returns the id that relates the sheet to its drawing; undefined where it has none
 */
export function addDrawing(archive: Archive, sheetPart: string, sheet: BookSheet): string | undefined {
  const { pictures = [], charts = [] } = sheet;
  if (pictures.length + charts.length === 0) return undefined;
  const drawing = freePart(archive, "xl/drawings/drawing#.xml");
  archive.put(drawing, "");
  const shown = pictures.map((picture, i) => {
    const image = freePart(archive, "xl/media/picture#.png");
    archive.put(image, bytesOf(picture.png));
    addContentType(archive, image, "image/png");
    return pictureAnchor(picture, i + 1, addRelation(archive, drawing, "image", image));
  });
  const column = usedColumns(sheet) + 1;
  const drawn = charts.map((chart, i) => {
    const part = freePart(archive, "xl/charts/chart#.xml");
    archive.put(part, chartXml(chart, sheet));
    addContentType(archive, part, CHART_CONTENT);
    const place = { row: i * CHART.apart, column };
    return chartAnchor(chart.title, pictures.length + i + 1, place, addRelation(archive, drawing, "chart", part));
  });
  archive.put(
    drawing,
    `${XML_HEAD}<xdr:wsDr xmlns:xdr="${DRAWING}spreadsheetDrawing" xmlns:a="${DRAWING}main" xmlns:r="${RELATIONS}">${[...shown, ...drawn].join("")}</xdr:wsDr>`,
  );
  addContentType(archive, drawing, KIND);
  return addRelation(archive, sheetPart, "drawing", drawing);
}

function pictureAnchor({ row, column, width, height, label }: BookPicture, number: number, relation: string): string {
  const size = `cx="${Math.round(width * EMU)}" cy="${Math.round(height * EMU)}"`;
  return (
    `<xdr:oneCellAnchor>${cellXml("from", row, column)}<xdr:ext ${size}/>` +
    `<xdr:pic><xdr:nvPicPr><xdr:cNvPr id="${number + 1}" name="Picture ${number}" descr="${encodeAttribute(label)}"/><xdr:cNvPicPr><a:picLocks noChangeAspect="1"/></xdr:cNvPicPr></xdr:nvPicPr>` +
    `<xdr:blipFill><a:blip r:embed="${relation}"/><a:stretch><a:fillRect/></a:stretch></xdr:blipFill>` +
    `<xdr:spPr><a:xfrm><a:off x="0" y="0"/><a:ext ${size}/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></xdr:spPr></xdr:pic><xdr:clientData/></xdr:oneCellAnchor>`
  );
}

interface Place {
  readonly row: number;
  readonly column: number;
}

function chartAnchor(title: string, number: number, { row, column }: Place, relation: string): string {
  return (
    `<xdr:twoCellAnchor>${cellXml("from", row, column)}${cellXml("to", row + CHART.rows, column + CHART.columns)}` +
    `<xdr:graphicFrame macro=""><xdr:nvGraphicFramePr><xdr:cNvPr id="${number + 1}" name="Chart ${number}" descr="${encodeAttribute(title)}"/><xdr:cNvGraphicFramePr/></xdr:nvGraphicFramePr>` +
    `<xdr:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/></xdr:xfrm><a:graphic><a:graphicData uri="${DRAWING}chart">` +
    `<c:chart xmlns:c="${DRAWING}chart" r:id="${relation}"/></a:graphicData></a:graphic></xdr:graphicFrame><xdr:clientData/></xdr:twoCellAnchor>`
  );
}

const cellXml = (end: "from" | "to", row: number, column: number): string =>
  `<xdr:${end}><xdr:col>${column}</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>${row}</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:${end}>`;

function bytesOf(base64: string): Uint8Array {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
}
