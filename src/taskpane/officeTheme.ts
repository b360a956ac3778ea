/** The panel's theme that goes with Office's. */
import type { HostTheme } from "../panel/frame/palette";

/**
 * Light or dark after the colour of Office's task pane. Undefined where the system should decide: in a contrast theme,
 * and where Office does not say (Excel on the web).
 *
 * @param background colour of the pane's body, such as "#262626"
 * @param forcedColors whether the system runs a contrast theme
 * @example panelTheme("#262626", false) // "dark"
 */
export function panelTheme(background: string | undefined, forcedColors: boolean): HostTheme | undefined {
  const digits = /^#?([0-9a-f]{6})/i.exec(background ?? "")?.[1];
  if (forcedColors || digits === undefined) return undefined;
  const colour = parseInt(digits, 16);
  const [red, green, blue] = [colour >> 16, (colour >> 8) & 255, colour & 255];
  // Weights of ITU-R BT.601 luma: how bright the three colours look.
  return 0.299 * red + 0.587 * green + 0.114 * blue < 128 ? "dark" : "light";
}
