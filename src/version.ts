/** Bendbook's version, as package.json says it. */
import about from "../package.json";

export const VERSION: string = about.version;
