/** The layout on paper and on a sheet. */
import { Button, Dropdown, Field, makeStyles, Option } from "@fluentui/react-components";
import { markTemplate, stepPages, wallDrawing } from "../../experiment/layout/layoutDrawing";
import type { LaidShot } from "../../experiment/layout/layoutCheck";
import type { LayoutForm, Paper } from "../../experiment/layout/layoutForm";
import { layoutSheet } from "../../experiment/layout/layoutSheet";
import type { Port } from "../../workbook/port";
import { download, downloadSvg, svgFile } from "../frame/download";
import type { useWriting } from "../frame/useWriting";
import { paperPdf } from "../paper/paperPdf";
import { paperSvg } from "../paper/paperSvg";

interface Props {
  readonly port: Port;
  readonly laid: LaidShot;
  readonly writing: ReturnType<typeof useWriting>;
  readonly onChange: (part: Partial<LayoutForm>) => void;
}

const useStyles = makeStyles({ buttons: { display: "flex", flexWrap: "wrap", gap: "8px" } });

export function PaperSection({ port, laid, writing: { busy, write }, onChange }: Props) {
  const styles = useStyles();
  const { paper } = laid.form;
  const fails = laid.amiss.length > 0;
  const pdf = () =>
    write("The PDF was not made", async () => {
      const pages = [wallDrawing(laid), ...stepPages(laid), markTemplate(laid)];
      download(
        new Blob([await paperPdf(pages)], { type: "application/pdf" }),
        "layout.pdf",
        pages.map((page) => svgFile(paperSvg(page))),
      );
      return `${pages.length} pages, ${paper}: the wall drawing, the steps, and the template in full size. Print at 100 %.`;
    });
  const toSheet = () =>
    write(
      "The layout was not written",
      async () => `Written to the new sheet "${await port.addSheet(layoutSheet(laid))}". No other cell was touched.`,
    );
  return (
    <>
      <Field label="Paper">
        <Dropdown
          value={paper}
          selectedOptions={[paper]}
          onOptionSelect={(_, { optionValue }) => optionValue && onChange({ paper: optionValue as Paper })}
        >
          <Option value="A4">A4</Option>
          <Option value="Letter">Letter</Option>
        </Dropdown>
      </Field>
      <div className={styles.buttons}>
        <Button appearance="primary" disabled={busy || fails} onClick={pdf}>
          Save as PDF, steps and template included
        </Button>
        <Button disabled={fails} onClick={() => downloadSvg(svgFile(paperSvg(wallDrawing(laid))), "layout")}>
          Save the drawing as SVG
        </Button>
        <Button disabled={fails} onClick={() => downloadSvg(svgFile(paperSvg(markTemplate(laid))), "marks-full-size")}>
          Save the template as SVG
        </Button>
        <Button disabled={busy || fails} onClick={toSheet}>
          Write the places to a sheet
        </Button>
      </div>
    </>
  );
}
