/**
 * The panel on a page of its own, as large as the screen: a dialog of Office (DialogApi 1.2), which may not speak to
 * the workbook and asks the pane instead. One of the two shows the panel at a time, for both would write its settings.
 */
import type { Port } from "../workbook/port";
import { portAcross, servePort, type PortAcross } from "./acrossPages";

/** Says in the address that the page is one of its own, and on which platform: a dialog may ask Office for little. */
const SIGN = "own-page";

/** The platform of the pane that opened this page; undefined in the pane itself. */
export const platformOfPane = (): string | undefined => new URLSearchParams(location.search).get(SIGN) ?? undefined;

export const canOpenOwnPage = (): boolean => Office.context.requirements.isSetSupported("DialogApi", "1.2");

/**
 * Opens the page.
 *
 * @param onClosed called once it is closed, whoever closed it
 * @returns closes it
 * @throws Error in Office's words, where the page cannot be opened
 */
export function openOwnPage(port: Port, onClosed: () => void): Promise<() => void> {
  const address = new URL(location.pathname, location.href);
  address.searchParams.set(SIGN, String(Office.context.platform));
  return new Promise((done, fail) =>
    Office.context.ui.displayDialogAsync(address.href, { height: 100, width: 100 }, ({ status, value, error }) => {
      if (status !== Office.AsyncResultStatus.Succeeded) return fail(new Error(error.message));
      const { take, stop } = servePort(
        port,
        (piece) => value.messageChild(piece),
        (browsed) => Office.context.ui.openBrowserWindow(browsed),
      );
      let isOpen = true;
      const closed = () => {
        if (!isOpen) return;
        isOpen = false;
        stop();
        onClosed();
      };
      value.addEventHandler(Office.EventType.DialogMessageReceived, (said) => {
        if ("message" in said) take(said.message);
      });
      // The only event is that it was closed or cannot go on.
      value.addEventHandler(Office.EventType.DialogEventReceived, closed);
      done(() => {
        value.close();
        closed();
      });
    }),
  );
}

/** The workbook as the page of its own has it. */
export function portOfPane(): Promise<PortAcross> {
  return new Promise((done, fail) => {
    const across = portAcross(
      (piece) => Office.context.ui.messageParent(piece),
      (take) =>
        Office.context.ui.addHandlerAsync(
          Office.EventType.DialogParentMessageReceived,
          ({ message }: { message: string }) => take(message),
          // Nothing is asked before an answer would be heard.
          ({ status, error }) =>
            status === Office.AsyncResultStatus.Succeeded ? done(across) : fail(new Error(error.message)),
        ),
    );
  });
}
