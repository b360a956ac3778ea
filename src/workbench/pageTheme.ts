/** Light or dark: what the person chose, else what the system wants. The page's own colours follow `data-theme`. */
import type { KeptPreferences } from "../panel/frame/preferences";

const system = matchMedia("(prefers-color-scheme: dark)");

export function isDark(preferences: KeptPreferences): boolean {
  const { theme } = preferences.now();
  return theme === "system" ? system.matches : theme === "dark";
}

/** Shows it on the page now and whenever it changes. @param onChange told of each change */
export function followTheme(preferences: KeptPreferences, onChange: (dark: boolean) => void): void {
  let before: boolean | undefined;
  const follow = () => {
    const dark = isDark(preferences);
    if (dark === before) return;
    document.documentElement.dataset.theme = dark ? "dark" : "light";
    if (before !== undefined) onChange(dark);
    before = dark;
  };
  follow();
  preferences.onChange(follow);
  system.addEventListener("change", follow);
}
