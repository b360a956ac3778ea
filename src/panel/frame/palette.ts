/** Colours of plots, per theme; high contrast takes the system's own. */

export const FONT = "Segoe UI, Helvetica, Arial, sans-serif";
export const FONT_SIZE = 12;

export interface Palette {
  readonly ink: string;
  readonly faint: string;
  readonly point: string;
  readonly accent: string;
  readonly band: string;
  readonly paper: string;
}

export type ThemeName = "light" | "dark" | "contrast";
/** What a host may want; a contrast theme is the system's alone. */
export type HostTheme = Exclude<ThemeName, "contrast">;

export const PALETTES: Readonly<Record<ThemeName, Palette>> = {
  light: { ink: "#242424", faint: "#8a8a8a", point: "#33658a", accent: "#8c2f1b", band: "#e7c9bd", paper: "#ffffff" },
  dark: { ink: "#f0f0f0", faint: "#9a9a9a", point: "#8fc1e3", accent: "#f2a38c", band: "#5a3a31", paper: "#292929" },
  contrast: {
    ink: "CanvasText",
    faint: "CanvasText",
    point: "LinkText",
    accent: "CanvasText",
    band: "transparent",
    paper: "Canvas",
  },
};
