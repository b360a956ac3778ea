/** The Video view's answer in one line, and what stands behind it. */
import { say, type Said } from "../language/said";
import { INCH } from "../../bank/units";
import { confidenceText, decimalsFor, fixed, significant, withUnit } from "../language/wording";
import { unitOf } from "../shot/shotSettings";
import type { TrackedShot } from "../track/trackedShot";
import { cornersSentence, speedDoubt } from "../track/trackWords";
import type { VideoForm } from "./videoForm";

/** "Bends 0.52 in short, 0.48 to 0.56". */
export function videoHeadline({ bend, standardError, low, high }: TrackedShot, { units }: VideoForm): Said {
  const { size, name } = unitOf("small", units);
  const said = (inches: number) => fixed((inches * INCH) / size, decimalsFor((standardError * INCH) / size));
  if (low <= 0 && high >= 0)
    return say`Bends ${said(bend)} ${name}, ${said(low)} to ${said(high)}: it may not bend at all`;
  const way = bend > 0 ? "short" : "long";
  const [near, far] = bend > 0 ? [low, high] : [-high, -low];
  return say`Bends ${said(Math.abs(bend))} ${name} ${way}, ${said(near)} to ${said(far)}`;
}

/** Speed, contact and points, in one line. */
export function videoByline(shot: TrackedShot, { units }: VideoForm, confidence: number): Said {
  const speed = unitOf("speed", units);
  const small = unitOf("small", units);
  const inches = (value: number) => say`${significant((value * INCH) / small.size, 4)} ${small.name}`;
  return say`${confidenceText(confidence)} % interval · ${significant((shot.speedAfterCushion * INCH) / speed.size, 3)} ${speed.name} after the cushion · contact ${inches(shot.cushionAt)} along the rail at ${fixed(shot.contactTime, 3)} s · ${shot.pointsUsed} points, ${shot.leftOut.length} left out`;
}

/** What the answer rests on and what it does not hold. */
export function videoReasons(shot: TrackedShot, { units, cornerError }: VideoForm): Said[] {
  const small = unitOf("small", units);
  const said = (inches: number) => withUnit(significant((inches * INCH) / small.size, 2), small.name);
  return [
    say`The ball leaves the cushion at ${fixed(shot.departureAngle, 1)}° and arrives at ${fixed(shot.arrivalAngle, 1)}° from square. The path is a parabola while the ball slips and straight while it rolls; when the slip ended counts by how likely the points make it.`,
    ...(shot.afterwards > 0
      ? [
          `The path ends where the ball comes back or meets something else; ${shot.afterwards} later places are not used.`,
        ]
      : []),
    ...speedDoubt(shot),
    `The bend is that of the path, from its chord between the contact and the last point seen. It is not the bend that the layout asked for.`,
    say`A place scatters ${significant(shot.scatter, 2)} pixels about the path; points that lie off it are left out.`,
    cornersSentence(cornerError, said(shot.cornersPart), said(shot.standardError)),
    "The corners map the bed; the ball's centre stands a radius above it and is seen farther from the camera than it is. The higher the camera, the less that matters. A corner that is marked wrongly stretches the table and leaves straight lines straight, so it makes the bend wrong by about the share that the check length shows. A lens that bends straight lines is worse: look whether the rails are straight in the picture. The interval holds neither the ball's height nor the lens.",
  ];
}
