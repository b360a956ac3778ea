/** Puts the panel into a page. May import: Panel.tsx, the port. */
import { createRoot } from "react-dom/client";
import type { Port } from "../workbook/port";
import { Panel } from "./Panel";
import type { ThemeName } from "./plots/palette";

export interface MountedPanel {
  setTheme(theme: ThemeName | undefined): void;
  unmount(): void;
}

export function mountPanel(container: HTMLElement, port: Port): MountedPanel {
  const root = createRoot(container);
  const draw = (theme: ThemeName | undefined) => root.render(<Panel port={port} theme={theme} />);
  draw(undefined);
  return { setTheme: draw, unmount: () => root.unmount() };
}
