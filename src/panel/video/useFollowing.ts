/** The ball followed through the film, and all frames looked through for their times. */
import { useState } from "react";
import type { ProjectiveMap } from "../../bank/projective";
import { beginFollowing, followInto, type Following } from "../../experiment/video/follow";
import { frameTimes, type FrameTimes } from "../../experiment/video/frameTimes";
import { isOfFilm, isSameFrame, withPoint, type VideoForm } from "../../experiment/video/videoForm";
import { counted, fixed } from "../../experiment/language/wording";
import { INCH } from "../../bank/units";
import { hundredths } from "../plots/hundredths";
import type { OpenFilm } from "./useFilm";

export interface FollowingBall {
  /** What following came to, in a sentence. */
  readonly said: string;
  /** Whether the ball is marked in the frame that is shown, so that it can be followed from there. */
  readonly ready: boolean;
  /** Of the whole film, once it was looked through. */
  readonly frames: FrameTimes | undefined;
  follow(): Promise<void>;
  lookThrough(): Promise<void>;
  /** Another film is opened. */
  forget(): void;
}

/** A ball takes about this share of the picture's width, where no corners tell. */
const USUAL = 1 / 90;

export function useFollowing(
  open: OpenFilm,
  form: VideoForm,
  onKeep: (form: VideoForm) => void,
  map: ProjectiveMap | undefined,
): FollowingBall {
  const [said, setSaid] = useState("");
  const [frames, setFrames] = useState<FrameTimes>();
  const { film } = open;
  const own = film !== undefined && isOfFilm(form, film.file);
  const begun = own ? form.points.find(({ time }) => isSameFrame(time, open.time)) : undefined;

  const follow = async () => {
    const picture = open.grey();
    if (!film || !begun || !picture) return;
    const radius = map ? ballRadius(map, begun, form.ballDiameter / INCH) : USUAL * film.width;
    let following: Following | undefined = beginFollowing(picture, begun, radius);
    if (!following) {
      setSaid("The ball is too near to the picture's edge to be followed.");
      return;
    }
    setSaid("");
    const place = (time: number, { x, y }: { readonly x: number; readonly y: number }) => ({
      time,
      x: hundredths(x),
      y: hundredths(y),
    });
    let kept = withPoint(form, place(begun.time, following.at));
    let lost: string | undefined;
    let added = 0;
    const outcome = await open.run("Following the ball", ({ time }) => {
      const next = open.grey();
      const met = next && following ? followInto(next, following) : undefined;
      if (!met?.found) {
        lost = `The ball is lost at ${fixed(time, 3)} s: nothing there looks enough like it${met?.score === undefined ? "" : ` (likeness ${fixed(met.score, 2)} of 1)`}. Following stopped. Mark it there by hand and follow on, or take the path as it is.`;
        return "stop";
      }
      following = met.following;
      kept = withPoint(kept, place(time, following.at));
      added += 1;
      return "on";
    });
    if (added > 0) onKeep(kept);
    const so = `The ball was followed through ${counted(added, "frame")}`;
    setSaid(
      lost && added > 0
        ? `${so}. ${lost}`
        : (lost ?? (outcome === "cancelled" ? `${so}, then you ended it.` : `${so}, to the film's end.`)),
    );
  };

  const lookThrough = async () => {
    const times: number[] = [];
    const outcome = await open.run(
      "Looking through all frames",
      ({ time }) => {
        times.push(time);
        return "on";
      },
      0,
    );
    if (outcome === "ended") setFrames(frameTimes(times));
    setSaid(outcome === "ended" ? "" : "The film was not looked through to its end.");
  };

  return {
    said,
    ready: begun !== undefined,
    frames,
    follow,
    lookThrough,
    forget: () => {
      setFrames(undefined);
      setSaid("");
    },
  };
}

/** Of a ball on the table there, in pixels. */
function ballRadius(map: ProjectiveMap, at: { readonly x: number; readonly y: number }, diameter: number): number {
  const place = map.toTable(at);
  const [here, along, away] = [
    map.toPicture(place),
    map.toPicture({ x: place.x + diameter / 2, y: place.y }),
    map.toPicture({ x: place.x, y: place.y + diameter / 2 }),
  ];
  return Math.max(Math.hypot(along.x - here.x, along.y - here.y), Math.hypot(away.x - here.x, away.y - here.y));
}
