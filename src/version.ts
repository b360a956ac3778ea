/** Bendbook's version, the same as in package.json. May import: nothing. */
export const VERSION = "0.1.0";
