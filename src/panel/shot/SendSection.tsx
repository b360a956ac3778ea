/** Keep the shot: a row on the sheet of shots, the drawing as a file, the drawing on a new sheet. */
import { Button } from "@fluentui/react-components";
import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import type { Conditions } from "../../bank/conditions";
import type { TablePoint } from "../../bank/tableShape";
import type { ComputedShot } from "../../experiment/shot/computedShot";
import type { ShotLayout } from "../../experiment/shot/shotLayout";
import { shotRow } from "../../experiment/shot/shotRow";
import type { ShotSettings } from "../../experiment/shot/shotSettings";
import type { BendRange } from "../../experiment/shot/shotSweep";
import { VERSION } from "../../version";
import type { Port } from "../../workbook/port";
import { base64Of, downloadSvg, pngOf, svgFile } from "../frame/download";
import { PALETTES } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { useWriting } from "../frame/useWriting";
import { TableDrawing } from "./TableDrawing";

interface Props {
  readonly port: Port;
  readonly shot: ShotSettings;
  readonly computed: ComputedShot;
  readonly conditions: Conditions;
  readonly layout: ShotLayout;
  readonly band: readonly TablePoint[];
  readonly range: BendRange;
  readonly label: string;
  readonly close: boolean;
  readonly onFailure: (text: string | undefined) => void;
}

const WIDTH = 900;
/** On a sheet, in points. */
const SHEET_WIDTH = 600;

export function SendSection({ port, shot, computed, conditions, layout, band, range, label, close, onFailure }: Props) {
  const styles = useSectionStyles();
  const drawing = () =>
    svgFile(
      renderToStaticMarkup(
        createElement(TableDrawing, { layout, band, palette: PALETTES.light, width: WIDTH, close, label }),
      ),
    );
  const { busy, done, write } = useWriting(onFailure);
  const send = () =>
    write("The shot was not sent", async () => {
      const { sheet, row, made } = await port.addRow(
        shotRow(shot, computed, conditions, layout, range, new Date(), VERSION),
      );
      return made
        ? `Written to the new sheet "${sheet}". No other cell was touched.`
        : `Written to row ${row + 1} of the sheet "${sheet}". No other cell was touched.`;
    });
  const { addPicture } = port;
  return (
    <div className={styles.stack}>
      <p className={styles.note}>
        A row on the sheet "Shots" for each shot that is sent: settings, predicted bend with its range, clearance,
        warnings. Your own columns to the right of it stay; where you changed its headings, a new sheet is begun.
      </p>
      <Button appearance="primary" disabled={busy} onClick={send}>
        Send to sheet
      </Button>
      <Button disabled={busy} onClick={() => downloadSvg(drawing(), "shot")}>
        Save the drawing as SVG
      </Button>
      {addPicture ? (
        <Button
          disabled={busy}
          onClick={() =>
            write(
              "The picture was not put on a sheet",
              async () =>
                `The drawing is on the new sheet "${await addPicture.call(port, { name: "Shot drawing", png: await base64Of(await pngOf(drawing())), width: SHEET_WIDTH, label })}".`,
            )
          }
        >
          Put the drawing on a sheet
        </Button>
      ) : (
        <p className={styles.note}>
          This grid cannot hold pictures. Save the drawing as SVG, and in Excel choose Insert, Pictures.
        </p>
      )}
      <div role="status">{done}</div>
    </div>
  );
}
