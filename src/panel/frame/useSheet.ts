/** A sheet of the workbook as it is now, read again after its cells change. */
import { useEffect, useState } from "react";
import type { Port, SheetData } from "../../workbook/port";
import { SheetReader } from "../../workbook/sheetReader";

/** How long typing must rest before a sheet is read again, in ms. */
export const READ_AFTER = 200;

/**
 * @param name of the sheet; nothing is read while it is missing
 * @returns undefined until it is read, null when it is not there
 */
export function useSheet(port: Port, name: string | undefined): SheetData | null | undefined {
  const [found, setFound] = useState<{ name: string; data: SheetData | null }>();
  useEffect(() => {
    if (name === undefined) return;
    let here = true;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const reader = new SheetReader(port);
    const show = (data: SheetData | null | undefined) => here && data !== undefined && setFound({ name, data });
    const read = () =>
      reader.readChanges(name).then(
        (data) => show(data),
        () => show(null),
      );
    void read();
    const stop = port.onChange((change) => {
      if (change.sheet !== name) return;
      reader.note(change);
      clearTimeout(timer);
      timer = setTimeout(() => void read(), READ_AFTER);
    });
    return () => {
      here = false;
      clearTimeout(timer);
      stop();
    };
  }, [port, name]);
  return found && found.name === name ? found.data : undefined;
}
