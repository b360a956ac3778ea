/** The project's folder. */
export const root: string;
/** Installs when something is missing or stale. */
export function ensureInstalled(): void;
