/** What looking early does to a plan, in words. */
import { say, type Said } from "../language/said";
import { falseAlarms } from "../../statistics/design/looks";
import { significant } from "../language/wording";

/**
 * The warning against peeking.
 * @param looks how often the shots are looked at, equally spaced; undefined where nothing was said
 * @param level chance of a false alarm at a single look
 * @example looksSentence(1, 0.05) === looksSentence(undefined, 0.05)
 */
export function looksSentence(looks: number | undefined, level: number): Said {
  const percent = (share: number) => say`${significant(100 * share, 3)} %`;
  if (looks === undefined || looks === 1)
    return "The count holds for a look at the end: looking earlier and stopping at a difference finds differences where there are none.";
  return say`Looking ${looks} times, equally often spaced, and stopping at the first difference raises the chance of a difference where there is none from ${percent(level)} to ${percent(falseAlarms(looks, level))} (after Armitage, McPherson and Rowe, 1969, for many shots; no less for few). The power above is that of one look at the end: shoot all of the shots before you look, or let only a look at the end decide.`;
}
