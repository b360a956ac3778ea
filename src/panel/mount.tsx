/** Puts the panel into a page. */
import { createRoot } from "react-dom/client";
import type { Port } from "../workbook/port";
import { Panel } from "./Panel";
import type { ThemeName } from "./frame/palette";
import type { ViewName } from "./frame/settings";

export interface MountedPanel {
  setTheme(theme: ThemeName | undefined): void;
  unmount(): void;
}

/** @param first view to show, whatever was in front when the workbook was kept */
export function mountPanel(container: HTMLElement, port: Port, first?: ViewName): MountedPanel {
  const root = createRoot(container);
  const draw = (theme: ThemeName | undefined) => root.render(<Panel port={port} theme={theme} first={first} />);
  draw(undefined);
  return { setTheme: draw, unmount: () => root.unmount() };
}
