export const ROOMS: Readonly<Record<string, readonly string[]>>;
export function roomOf(path: string): string;
export function mayImport(from: string, to: string): boolean;
export function roomsTable(): string;
