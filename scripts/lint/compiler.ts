/**
 * The compiler that checks types, which takes a fifth of the time. The package "typescript" of the version before stays
 * for lint and for the pages' build, which use its interface for programs.
 */
export const COMPILER = "typescript-native/bin/tsc";
