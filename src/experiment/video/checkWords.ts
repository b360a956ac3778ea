/** What the check length says of the map. */
import { say, type Said } from "../language/said";
import { significant } from "../language/wording";
import { unitOf } from "../shot/shotSettings";
import type { VideoForm } from "./videoForm";

/** How far the map is off by the check length, in a sentence. */
export function checkSentence({ checkLength, units }: VideoForm, checked: number | undefined): Said {
  if (checked === undefined)
    return "Nothing checks the map yet. Mark both ends of a length that you know, away from the corners, such as a ruler on the cloth.";
  const { size, name } = unitOf("length", units);
  const off = checked - checkLength;
  const share = (100 * Math.abs(off)) / checkLength;
  return say`The check length of ${significant(checkLength / size, 4)} ${name} reads ${significant(checked / size, 4)} ${name}: there the map is off by ${significant(share, 2)} %${share > 2 ? ". That is much: look at the corners, the table's size and the film's straight lines" : ", and so is a bend, as far as this one length tells"}.`;
}
