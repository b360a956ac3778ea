/** The system's theme, as it is and as it changes. */
import { useSyncExternalStore } from "react";
import type { ThemeName } from "./palette";

const DARK = "(prefers-color-scheme: dark)";
const FORCED = "(forced-colors: active)";

function systemTheme(): ThemeName {
  if (typeof matchMedia === "undefined") return "light";
  if (matchMedia(FORCED).matches) return "contrast";
  return matchMedia(DARK).matches ? "dark" : "light";
}

function subscribe(changed: () => void): () => void {
  if (typeof matchMedia === "undefined") return () => undefined;
  const queries = [DARK, FORCED].map((query) => matchMedia(query));
  queries.forEach((query) => query.addEventListener("change", changed));
  return () => queries.forEach((query) => query.removeEventListener("change", changed));
}

export function useTheme(): ThemeName {
  return useSyncExternalStore(subscribe, systemTheme);
}
