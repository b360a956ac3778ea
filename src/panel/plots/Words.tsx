/** Text on a drawing: one that is printed has its numbers in the reader's language, one on the page has them plain. */
import { toText, type Said } from "../../experiment/language/said";
import { createContext, useContext } from "react";

/** The language of a drawing's numbers; undefined for the plain way. */
export const NumberLanguage = createContext<string | undefined>(undefined);

export function Words({ of }: { readonly of: Said }) {
  return <>{toText(of, useContext(NumberLanguage))}</>;
}
