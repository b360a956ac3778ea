/** Pages of shapes as a PDF of their true size. The library is loaded when the first one is asked for. */
import { there } from "../../there";
import type { PaperPage } from "../../experiment/layout/paper";

/** Points in a millimetre. */
const POINTS = 72 / 25.4;
/** The standard fonts of a PDF hold Latin letters only; what they cannot show is written out. */
const plain = (text: string) => text.replaceAll("−", "-").replaceAll("→", "to");

export async function paperPdf(pages: readonly PaperPage[]): Promise<ArrayBuffer> {
  const { jsPDF } = await import("jspdf");
  const form = ({ size: [width, height] }: PaperPage) => ({
    format: [width, height],
    orientation: width > height ? ("landscape" as const) : ("portrait" as const),
  });
  const first = there(pages[0], "a first page");
  const pdf = new jsPDF({ unit: "mm", ...form(first), compress: true });
  pdf.setProperties({ title: first.title, creator: "Bendbook" });
  pages.forEach((page, i) => {
    if (i > 0) pdf.addPage(form(page).format, form(page).orientation);
    for (const shape of page.shapes) {
      if (shape.kind === "text") {
        pdf.setFont("helvetica", shape.bold ? "bold" : "normal").setFontSize(shape.size * POINTS);
        pdf.text(plain(shape.text), shape.at[0], shape.at[1], {
          align: shape.anchor === "middle" ? "center" : shape.anchor === "end" ? "right" : "left",
        });
        continue;
      }
      pdf.setLineWidth(shape.width).setLineDashPattern("dashed" in shape && shape.dashed ? [1.5, 1] : [], 0);
      if (shape.kind === "line") pdf.line(...shape.from, ...shape.to);
      else if (shape.kind === "rect") pdf.rect(...shape.at, ...shape.size);
      else pdf.circle(...shape.centre, shape.radius, shape.filled ? "F" : "S");
    }
  });
  return pdf.output("arraybuffer");
}
