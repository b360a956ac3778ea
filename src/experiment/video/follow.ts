/**
 * Following the ball from frame to frame: its patch is looked for where the last two places lead. A ball turns, so the
 * patch is taken anew when it is only just known again; a ball that is not known again is lost, and following stops.
 *
 * The patch grows and shrinks with the distance from the camera, so a place that is off the ball's middle would drift
 * with it and bend the path. In every frame the place is therefore moved to where the ball's picture is most symmetric.
 */
import type { Point } from "../../bank/pathClearance";
import { centreOfSymmetry, cutPatch, findPatch, type GreyPicture } from "../../statistics/numeric/patchSearch";

export interface Following {
  readonly patch: GreyPicture;
  /** Where the ball's centre lies from the middle of the patch. */
  readonly offset: Point;
  readonly radius: number;
  /** Where it was seen last, and the step to there. */
  readonly at: Point;
  readonly step: Point | undefined;
}

export type FollowStep =
  | { readonly found: true; readonly following: Following; readonly score: number }
  | { readonly found: false; readonly score: number | undefined };

/** Correlation below which it is not the ball, and below which the patch is taken anew. */
const LOST = 0.6;
const RENEWED = 0.85;
/**
 * The search reaches so many radii of the ball beyond the place that is expected, and twice the last step: a cushion
 * may turn it round. The first step is not known, and a fast ball moves several radii in a frame.
 */
const REACH = 2;
const FIRST_REACH = 8;

/** A ball's own picture is at least so symmetric; below it the place stays where the patch was found. */
const SYMMETRIC = 0.7;
/** A rim of what is around the ball makes its outline part of what is compared. */
const RIM = 1.25;
/** The middle is looked for within this share of the radius. */
const OFF = 0.6;

/** The ball's middle near a place; the place itself where the ball's picture has none. @param radius in pixels */
export function middleOfBall(picture: GreyPicture, at: Point, radius: number): Point {
  const middle = centreOfSymmetry(picture, at.x, at.y, Math.max(3, RIM * radius), Math.max(2, Math.ceil(OFF * radius)));
  return middle && middle.score >= SYMMETRIC ? { x: middle.x, y: middle.y } : at;
}

/**
 * @param clicked near the ball's middle
 * @param radius of the ball in pixels
 * @returns undefined where the ball lies at the picture's edge
 */
export function beginFollowing(picture: GreyPicture, clicked: Point, radius: number): Following | undefined {
  const at = middleOfBall(picture, clicked, radius);
  const around = Math.max(3, Math.round(RIM * radius));
  const patch = cutPatch(picture, at.x, at.y, around);
  if (!patch) return undefined;
  const offset = { x: at.x - Math.round(at.x), y: at.y - Math.round(at.y) };
  return { patch, offset, radius, at, step: undefined };
}

/** Where the ball is in the next frame. */
export function followInto(picture: GreyPicture, { patch, offset, radius, at, step }: Following): FollowStep {
  const ball = Math.max(radius, 3);
  const reach = Math.ceil(step ? REACH * ball + 2 * Math.hypot(step.x, step.y) : FIRST_REACH * ball);
  const hit = findPatch(picture, patch, at.x + (step?.x ?? 0), at.y + (step?.y ?? 0), reach);
  if (!hit || hit.score < LOST || hit.atBorder) return { found: false, score: hit?.score };
  const place = middleOfBall(picture, { x: hit.x + offset.x, y: hit.y + offset.y }, radius);
  const anew = hit.score < RENEWED ? beginFollowing(picture, place, radius) : undefined;
  return {
    found: true,
    score: hit.score,
    following: {
      patch: anew?.patch ?? patch,
      offset: anew?.offset ?? offset,
      radius,
      at: place,
      step: { x: place.x - at.x, y: place.y - at.y },
    },
  };
}
