/** The ball followed through the film, and all frames looked through for their times. */
import { say, toText } from "../../experiment/language/said";
import { useState } from "react";
import type { ProjectiveMap } from "../../bank/projective";
import { beginFollowing, followInto, type Following } from "../../experiment/video/follow";
import { frameTimes, type FrameTimes } from "../../experiment/video/frameTimes";
import { isOfFilm, isSameFrame, withPoint, type FilmPoint, type VideoForm } from "../../experiment/video/videoForm";
import { counted, fixed } from "../../experiment/language/wording";
import { INCH } from "../../bank/units";
import { hundredths } from "../plots/hundredths";
import type { Film } from "./film";
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
    if (!film || !begun) return;
    setSaid("");
    const radius = map ? ballRadius(map, begun, form.ballDiameter / INCH) : USUAL * film.width;
    const { places, words } = await followedFrom(open, begun, radius);
    if (places.length > 0)
      onKeep(places.reduce(withPoint, { ...form, seenRate: film.rate > 0 ? film.rate : form.seenRate }));
    setSaid(words);
  };

  const lookThrough = async () => {
    const times = await timesOf(open);
    if (times) setFrames(frameTimes(times));
    setSaid(times ? "" : "The film was not looked through to its end.");
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

/** The ball's places in the frames that come, from the one where it was marked, and what it came to. */
async function followedFrom(
  open: OpenFilm,
  begun: FilmPoint,
  radius: number,
): Promise<{ readonly places: readonly FilmPoint[]; readonly words: string }> {
  const picture = open.grey();
  let following: Following | undefined = picture && beginFollowing(picture, begun, radius);
  if (!following) return { places: [], words: "The ball is too near to the picture's edge to be followed." };
  const placeOf = (time: number, { x, y }: Following["at"]) => ({ time, x: hundredths(x), y: hundredths(y) });
  const places = [placeOf(begun.time, following.at)];
  let lost: string | undefined;
  const outcome = await open.run("Following the ball", ({ time }: Film) => {
    const next = open.grey();
    const met = next && following ? followInto(next, following) : undefined;
    if (!met?.found) {
      lost = toText(
        say`The ball is lost at ${fixed(time, 3)} s: nothing there looks enough like it${met?.score === undefined ? "" : say` (likeness ${fixed(met.score, 2)} of 1)`}. Following stopped. Mark it there by hand and follow on, or take the path as it is.`,
      );
      return "stop";
    }
    following = met.following;
    places.push(placeOf(time, following.at));
    return "on";
  });
  const added = places.length - 1;
  const so = `The ball was followed through ${counted(added, "frame")}`;
  if (lost) return added > 0 ? { places, words: `${so}. ${lost}` } : { places: [], words: lost };
  const words = outcome === "cancelled" ? `${so}, then you ended it.` : `${so}, to the film's end.`;
  return { places: added > 0 ? places : [], words };
}

/** When the film's frames are; undefined where it was not looked through to its end. */
async function timesOf(open: OpenFilm): Promise<number[] | undefined> {
  const times: number[] = [];
  const each = ({ time }: Film) => {
    times.push(time);
    return "on" as const;
  };
  return (await open.run("Looking through all frames", each, 0)) === "ended" ? times : undefined;
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
