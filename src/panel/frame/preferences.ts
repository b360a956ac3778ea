/**
 * What a person prefers, whatever workbook is open: units, confidence, theme, width of the panel. Kept in the browser's
 * storage and never with a workbook; where that cannot be had, as long as the page lives.
 */
import { createContext, useContext, useSyncExternalStore } from "react";
import { asRecord } from "../../experiment/language/keptObject";
import { usableLanguage } from "../../experiment/language/locale";

export type UnitSystem = "us" | "si";
export type ThemeChoice = "system" | "light" | "dark";

export interface Preferences {
  /** The workbook's own while missing. */
  readonly units?: UnitSystem;
  /** Of every interval, within 0 and 1; each question's own while missing. */
  readonly confidence?: number;
  readonly theme: ThemeChoice;
  /** Width of the panel beside the embedded grid, in pixels; the usual while missing. */
  readonly width?: number;
}

export interface KeptPreferences {
  now(): Preferences;
  change(part: Partial<Preferences>): void;
  /** Calls back after each change; returns how to stop. */
  onChange(listener: () => void): () => void;
}

/** Offered for intervals. */
export const CONFIDENCES = [0.8, 0.9, 0.95, 0.99] as const;
const THEMES: readonly unknown[] = ["light", "dark"] satisfies readonly ThemeChoice[];
const NAME = "bendbook-preferences";

/** What a browser's storage can do here. */
type Store = Pick<Storage, "getItem" | "setItem">;

/**
 * @param store where they are kept; null for nowhere
 * @param partition goes before the name, where pages of one origin are kept apart
 */
export function keptPreferences(store: Store | null = browserStore(), partition = ""): KeptPreferences {
  const listeners = new Set<() => void>();
  let now = parsed(quietly(() => store?.getItem(partition + NAME)));
  return {
    now: () => now,
    change(part) {
      now = { ...now, ...part };
      quietly(() => store?.setItem(partition + NAME, JSON.stringify(now)));
      for (const listener of listeners) listener();
    },
    onChange(listener) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
  };
}

/** A browser may refuse its storage, even to name it. */
function browserStore(): Store | null {
  return quietly(() => (typeof localStorage === "undefined" ? null : localStorage)) ?? null;
}

function quietly<Result>(act: () => Result): Result | undefined {
  try {
    return act();
  } catch {
    return undefined;
  }
}

function parsed(text: string | null | undefined): Preferences {
  const { units, confidence, theme, width } = asRecord(quietly(() => JSON.parse(text ?? "null") as unknown));
  return {
    theme: THEMES.includes(theme) ? (theme as ThemeChoice) : "system",
    ...((units === "us" || units === "si") && { units }),
    ...(typeof confidence === "number" && confidence > 0 && confidence < 1 && { confidence }),
    ...(typeof width === "number" && width > 0 && { width }),
  };
}

/** The units of somebody who never chose any, as the browser's language has them. */
export function usualUnits(): UnitSystem {
  return /-(US|GB)$/.test(usableLanguage(navigator.language)) ? "us" : "si";
}

const NOBODY = keptPreferences(null);
export const PreferencesContext = createContext<KeptPreferences>(NOBODY);

/** What the person prefers now, and how to change it. */
export function usePreferences(): readonly [Preferences, (part: Partial<Preferences>) => void] {
  const kept = useContext(PreferencesContext);
  return [useSyncExternalStore(kept.onChange, kept.now), kept.change];
}
