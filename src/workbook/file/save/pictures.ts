/**
 * Pictures of a new sheet as parts of the package: a drawing and its images.
 */
import type { BookPicture } from "../../book";
import { encodeAttribute } from "../../xmlText";
import { addContentType, addRelation, freePart, XML_HEAD } from "../package/packageParts";
import type { Archive } from "../package/zip";

/** English metric units in a point (ECMA-376 part 1, 20.1.2.1). */
const EMU = 12_700;
const DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/";
const KIND = "application/vnd.openxmlformats-officedocument.drawing+xml";

/** Puts the pictures of a sheet into the package. @returns the id that relates the sheet to its drawing */
export function addPictures(archive: Archive, sheetPart: string, pictures: readonly BookPicture[]): string {
  const drawing = freePart(archive, "xl/drawings/drawing#.xml");
  archive.put(drawing, "");
  const anchors = pictures.map(({ png, row, column, width, height, label }, i) => {
    const image = freePart(archive, "xl/media/picture#.png");
    archive.put(image, bytesOf(png));
    addContentType(archive, image, "image/png");
    const id = addRelation(archive, drawing, "image", image);
    return (
      `<xdr:oneCellAnchor><xdr:from><xdr:col>${column}</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>${row}</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:from>` +
      `<xdr:ext cx="${Math.round(width * EMU)}" cy="${Math.round(height * EMU)}"/>` +
      `<xdr:pic><xdr:nvPicPr><xdr:cNvPr id="${i + 2}" name="Picture ${i + 1}" descr="${encodeAttribute(label)}"/><xdr:cNvPicPr><a:picLocks noChangeAspect="1"/></xdr:cNvPicPr></xdr:nvPicPr>` +
      `<xdr:blipFill><a:blip r:embed="${id}"/><a:stretch><a:fillRect/></a:stretch></xdr:blipFill>` +
      `<xdr:spPr><a:xfrm><a:off x="0" y="0"/><a:ext cx="${Math.round(width * EMU)}" cy="${Math.round(height * EMU)}"/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></xdr:spPr></xdr:pic><xdr:clientData/></xdr:oneCellAnchor>`
    );
  });
  archive.put(
    drawing,
    `${XML_HEAD}<xdr:wsDr xmlns:xdr="${DRAWING}spreadsheetDrawing" xmlns:a="${DRAWING}main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">${anchors.join("")}</xdr:wsDr>`,
  );
  addContentType(archive, drawing, KIND);
  return addRelation(archive, sheetPart, "drawing", drawing);
}

function bytesOf(base64: string): Uint8Array {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
}
