/** A sheet of the workbook as it is now, read again after its cells change. */
import { useEffect, useState } from "react";
import type { Port, SheetData } from "../../workbook/port";

/** How long typing must rest before the sheet is read again, in ms. */
const REST = 200;

/** @param name of the sheet; nothing is read while it is missing @returns undefined until it is read, null when it is not there */
export function useSheet(port: Port, name: string | undefined): SheetData | null | undefined {
  const [found, setFound] = useState<{ name: string; data: SheetData | null }>();
  useEffect(() => {
    if (name === undefined) return;
    let here = true;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let asked = 0;
    const read = () => {
      // An earlier reading may be answered later: only the last one that was asked for counts.
      const turn = ++asked;
      const show = (data: SheetData | null) => here && turn === asked && setFound({ name, data });
      return port.read(name).then(show, () => show(null));
    };
    void read();
    const stop = port.onChange((sheet) => {
      if (sheet !== name) return;
      clearTimeout(timer);
      timer = setTimeout(() => void read(), REST);
    });
    return () => {
      here = false;
      clearTimeout(timer);
      stop();
    };
  }, [port, name]);
  return found && found.name === name ? found.data : undefined;
}
