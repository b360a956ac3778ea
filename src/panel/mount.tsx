/** Puts the panel into a page. */
import { createRoot } from "react-dom/client";
import type { Port } from "../workbook/port";
import { Panel } from "./Panel";
import type { HostTheme } from "./frame/palette";
import type { KeptPreferences } from "./frame/preferences";
import type { ViewName } from "./frame/settings";

export interface MountedPanel {
  setTheme(theme: HostTheme | undefined): void;
  unmount(): void;
}

/**
 * @param preferences of the person, whatever workbook is open
 * @param first view to show, whatever was in front when the workbook was kept
 */
export function mountPanel(
  container: HTMLElement,
  port: Port,
  preferences: KeptPreferences,
  first?: ViewName,
): MountedPanel {
  const root = createRoot(container);
  const draw = (theme: HostTheme | undefined) =>
    root.render(<Panel port={port} theme={theme} first={first} preferences={preferences} />);
  draw(undefined);
  return { setTheme: draw, unmount: () => root.unmount() };
}
