/** The interval of a driver that stays the same all session. */
import type { NumberClaim } from "../claim";
import { sessionCells, SHOTS } from "../sessionCells";

export const claim: NumberClaim = {
  claim:
    "The 95 % interval of a driver that never changes within a session covers the truth in at least 94 of 100 logs, however few the sessions are and however far they lie apart.",
  how: `${SHOTS} shots a session (unequal: from half to one and a half times as many); a number drawn for each session (still), or a category of two levels, session about (nested); no effect. Ratio: standard deviation between sessions over that of single shots. At the door that the answer with sessions in mind uses, \`regress\` with each session shifted by a random amount.`,
  seed: 11_001,
  replicates: 4000,
  cells: sessionCells("still", "nested"),
};
