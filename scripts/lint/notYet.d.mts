export const NOT_YET: readonly string[];
