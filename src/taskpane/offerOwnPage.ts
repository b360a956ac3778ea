/** The way to a page as large as the screen and back, below the panel; or what does instead. */
import type { Port } from "../workbook/port";
import { messageOf } from "../panel/frame/messageOf";
import { button, paragraph } from "./elements";
import { canOpenOwnPage, openOwnPage } from "./ownPage";

/**
 * Shows the panel, and below it the way to a page of its own.
 *
 * @param place of the panel
 * @param show shows the panel there and gives back how to take it away
 */
export function offerOwnPage(below: HTMLElement, place: HTMLElement, port: Port, show: () => () => void): void {
  let hide = show();
  if (!canOpenOwnPage()) {
    below.append(
      paragraph("To see more of a view at once, drag the edge of this pane: this Excel opens no page for it."),
    );
    return;
  }
  const failed = paragraph("", "alert");
  const open = button("Open the panel on a page of its own", () => {
    failed.textContent = "";
    const back = () => {
      place.replaceChildren();
      open.hidden = false;
      hide = show();
      open.focus();
    };
    openOwnPage(port, back).then(
      (close) => {
        hide();
        open.hidden = true;
        const away = paragraph(
          "The panel is on a page of its own and works on this workbook from there. It comes back once that page is closed.",
          "status",
        );
        const bring = button("Bring it back here", close);
        place.replaceChildren(away, bring);
        bring.focus();
      },
      (problem: unknown) => {
        failed.textContent = `Excel did not open a page: ${messageOf(problem)}`;
      },
    );
  });
  below.append(open, failed);
}
