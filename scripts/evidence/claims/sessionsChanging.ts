/** The interval of a driver that changes within sessions, wholly or in part. */
import type { NumberClaim } from "../claim";
import { sessionCells, SHOTS } from "../sessionCells";

export const claim: NumberClaim = {
  claim:
    "The 95 % interval of a driver that changes within sessions covers the truth in at least 94 of 100 logs, however much of the change is from one session to the next.",
  how: `${SHOTS} shots a session (unequal: from half to one and a half times as many); a number that is drawn for each session and moves half as much within it (drifting), or does not know of sessions (free); no effect. Ratio and door as for the drivers that stay.`,
  seed: 11_201,
  replicates: 4000,
  cells: sessionCells("drifting", "free"),
};
