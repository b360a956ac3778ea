/** Marks in the film: which one a click makes next, where they are, moving and taking them away. */
import { useState } from "react";
import type { Point } from "../../bank/pathClearance";
import { CORNERS, isOfFilm, isSameFrame, withPoint, type VideoForm } from "../../experiment/video/videoForm";
import type { Film } from "./film";
import { hundredths } from "../plots/hundredths";
import type { Mark } from "./FilmPicture";

/** What a click marks. */
export const MARKING = ["corners", "check", "ball"] as const;
export type Marking = (typeof MARKING)[number];

export interface Marks {
  readonly marking: Marking;
  setMarking(marking: Marking): void;
  /** What a click marks now, in a sentence. */
  readonly next: string;
  readonly shown: readonly Mark[];
  readonly lines: readonly (readonly Point[])[];
  place(at: Point): void;
  move(id: string, to: Point): void;
  remove(id: string): void;
  /** Puts the next mark in the middle of the picture, from where keys move it. */
  placeInMiddle(): void;
}

const CHECK_ENDS = ["check length, one end", "check length, other end"] as const;
const BALL = "ball";

export function useMarks(
  form: VideoForm,
  onKeep: (form: VideoForm) => void,
  film: Film | undefined,
  time: number,
): Marks {
  const [chosen, setMarking] = useState<Marking>();
  const marking = chosen ?? (form.corners.length < CORNERS.length ? "corners" : "ball");
  const own = film !== undefined && isOfFilm(form, film.file);
  const ball = own ? form.points.find((point) => isSameFrame(point.time, time)) : undefined;
  const inside = ({ x, y }: Point): Point => ({
    x: hundredths(Math.max(0, Math.min((film?.width ?? 1) - 1, x))),
    y: hundredths(Math.max(0, Math.min((film?.height ?? 1) - 1, y))),
  });
  const withBall = (at: Point) => {
    if (!film) return;
    const { name, size } = film.file;
    const fresh = own ? form : { ...form, film: { name, size }, points: [] };
    onKeep(withPoint(fresh, { time, ...at }));
  };
  const place = (where: Point) => {
    const at = inside(where);
    if (marking === "corners") {
      if (form.corners.length >= CORNERS.length) return;
      onKeep({ ...form, corners: [...form.corners, at] });
      if (form.corners.length + 1 === CORNERS.length) setMarking(undefined);
    } else if (marking === "check") {
      onKeep({ ...form, check: form.check.length < 2 ? [...form.check, at] : form.check });
      if (form.check.length >= 1) setMarking(undefined);
    } else withBall(at);
  };
  const changeMark = (id: string, to: Point | undefined) => {
    const [kind, place] = id.split(" ");
    const changed = (points: readonly Point[]) =>
      points.flatMap((point, i) => (i !== Number(place) ? [point] : to ? [inside(to)] : []));
    if (kind === BALL && to) withBall(inside(to));
    else if (kind === BALL) onKeep({ ...form, points: form.points.filter((point) => !isSameFrame(point.time, time)) });
    else if (kind === "corner") onKeep({ ...form, corners: changed(form.corners) });
    else onKeep({ ...form, check: changed(form.check) });
  };
  return {
    marking,
    setMarking,
    next: nextWords(marking, form),
    shown: [
      ...form.corners.map((at, i) => ({
        ...at,
        id: `corner ${i}`,
        name: `Corner: ${CORNERS[i] ?? ""}`,
        text: `${i + 1}`,
      })),
      ...form.check.map((at, i) => ({ ...at, id: `check ${i}`, name: CHECK_ENDS[i] ?? "", text: "ab"[i] ?? "" })),
      ...(ball ? [{ x: ball.x, y: ball.y, id: BALL, name: "The ball in this frame", text: "" }] : []),
    ],
    lines: [
      form.corners.length === CORNERS.length ? [...form.corners, ...form.corners.slice(0, 1)] : form.corners,
      form.check,
    ],
    place,
    move: changeMark,
    remove: (id) => changeMark(id, undefined),
    placeInMiddle: () => film && place({ x: film.width / 2, y: film.height / 2 }),
  };
}

function nextWords(marking: Marking, { corners, check }: VideoForm): string {
  if (marking === "corners")
    return corners.length < CORNERS.length
      ? `A click marks the corner: ${CORNERS[corners.length] ?? ""}.`
      : "All four corners are marked; move them by hand or by arrow keys.";
  if (marking === "check")
    return check.length < 2
      ? `A click marks the ${CHECK_ENDS[check.length] ?? ""}.`
      : "Both ends are marked; move them by hand or by arrow keys.";
  return "A click marks the ball's centre in this frame.";
}
