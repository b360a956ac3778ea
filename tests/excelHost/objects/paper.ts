/** Page layout and frozen panes: learn.microsoft.com/javascript/api/excel, PageLayout and WorksheetFreezePanes. */
import { ExcelFailure, UnknownConstruct } from "../failure";
import { remote, type Kind } from "../model";
import type { HostPaper, HostSheet } from "../workbook";
import { addressOf } from "./range";

const invalid = () =>
  new ExcelFailure("InvalidArgument", "The argument is invalid or missing or has an incorrect format.");

/** Points of a unit of Excel.PrintMarginUnit. */
const POINTS: Readonly<Record<string, number>> = { Points: 1, Inches: 72, Centimeters: 72 / 2.54 };
const SIDES = ["left", "right", "top", "bottom", "header", "footer"] as const;

/** A scale from 10 to 400, or pages to fit, never both. */
function zoom(paper: HostPaper, wanted: HostPaper["zoom"]): void {
  const { scale, horizontalFitToPages: across, verticalFitToPages: down } = wanted;
  const fits = (across ?? 0) > 0 || (down ?? 0) > 0;
  if (fits === (typeof scale === "number") || (typeof scale === "number" && (scale < 10 || scale > 400)))
    throw invalid();
  paper.zoom = { ...wanted };
}

function margins(paper: HostPaper, unit: string, wanted: Readonly<Record<string, number>>): void {
  const points = POINTS[unit];
  if (points === undefined) throw invalid();
  const unknown = Object.keys(wanted).find((side) => !SIDES.some((one) => one === side));
  if (unknown !== undefined) throw new UnknownConstruct(`the margin ${unknown}`);
  for (const side of SIDES) if (wanted[side] !== undefined) paper.margins[side] = points * wanted[side];
}

export const PAGE_LAYOUT: Kind<HostSheet> = {
  name: "PageLayout",
  get: { Orientation: ({ paper }) => paper.orientation, Zoom: ({ paper }) => paper.zoom },
  set: {
    Orientation: ({ paper }, orientation: HostPaper["orientation"]) => {
      if (!["Portrait", "Landscape"].includes(orientation)) throw invalid();
      paper.orientation = orientation;
    },
    Zoom: ({ paper }, wanted: HostPaper["zoom"]) => zoom(paper, wanted),
  },
  parts: { HeadersFooters: (sheet) => remote(HEADERS_FOOTERS, sheet) },
  methods: {
    SetPrintMargins: ({ paper }, unit: string, wanted) => margins(paper, unit, wanted),
    SetPrintTitleRows: ({ paper }, rows) => void (paper.titleRows = addressOf(rows)),
    SetPrintArea: ({ paper }, area) => void (paper.area = addressOf(area)),
  },
};

const HEADERS_FOOTERS: Kind<HostSheet> = {
  name: "HeaderFooterGroup",
  parts: { DefaultForAllPages: (sheet) => remote(HEADER_FOOTER, sheet) },
};

const HEADER_FOOTER: Kind<HostSheet> = {
  name: "HeaderFooter",
  set: {
    LeftFooter: ({ paper }, text: string) => void (paper.foot.left = text),
    CenterFooter: ({ paper }, text: string) => void (paper.foot.centre = text),
    RightFooter: ({ paper }, text: string) => void (paper.foot.right = text),
  },
};

export const FREEZE_PANES: Kind<HostSheet> = {
  name: "WorksheetFreezePanes",
  methods: {
    FreezeRows: (sheet, count: number) => {
      if (!(count > 0)) throw invalid();
      sheet.frozenRows = count;
    },
    Unfreeze: (sheet) => void (sheet.frozenRows = 0),
  },
};
