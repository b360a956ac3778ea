/** Why a track tells nothing. */
export class TrackProblem extends Error {}
