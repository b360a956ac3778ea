/** Marks in the film: which one a click makes next, where they are, moving and taking them away. */
import { useState } from "react";
import type { Point } from "../../bank/pathClearance";
import { CORNERS, isOfFilm, isSameFrame, withPoint, type VideoForm } from "../../experiment/video/videoForm";
import { hundredths } from "../plots/hundredths";
import type { Film } from "./film";

/** What a click marks. */
export const MARKING = ["corners", "check", "ball"] as const;
export type Marking = (typeof MARKING)[number];

export interface Mark extends Point {
  readonly id: string;
  /** What it says to those who do not see it. */
  readonly name: string;
  /** A letter or two beside it. */
  readonly text: string;
}

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
  const inside = (at: Point) => insideOf(film, at);
  const place = (where: Point) => {
    const next = withNext(form, marking, film, time, inside(where));
    if (next === form) return;
    onKeep(next);
    // Once all of a kind are marked a click marks what comes by itself.
    if (marking !== "ball" && next[marking].length === MOST[marking]) setMarking(undefined);
  };
  return {
    marking,
    setMarking,
    next: nextWords(marking, form),
    shown: marksOf(form, film, time),
    lines: [
      form.corners.length === CORNERS.length ? [...form.corners, ...form.corners.slice(0, 1)] : form.corners,
      form.check,
    ],
    place,
    move: (id, to) => onKeep(withChanged(form, film, time, id, inside(to))),
    remove: (id) => onKeep(withChanged(form, film, time, id, undefined)),
    placeInMiddle: () => film && place({ x: film.width / 2, y: film.height / 2 }),
  };
}

const MOST = { corners: CORNERS.length, check: CHECK_ENDS.length };

/** A place within the picture, to hundredths of a pixel. */
function insideOf(film: Film | undefined, { x, y }: Point): Point {
  return {
    x: hundredths(Math.max(0, Math.min((film?.width ?? 1) - 1, x))),
    y: hundredths(Math.max(0, Math.min((film?.height ?? 1) - 1, y))),
  };
}

const isOwn = (form: VideoForm, film: Film | undefined): film is Film =>
  film !== undefined && isOfFilm(form, film.file);

/** The form with the ball of the frame that is shown; places of another film are forgotten. */
function withBall(form: VideoForm, film: Film | undefined, time: number, at: Point): VideoForm {
  if (!film) return form;
  const { name, size } = film.file;
  const own = isOwn(form, film);
  const fresh = own ? form : { ...form, film: { name, size }, points: [] };
  const seenRate = film.rate > 0 ? film.rate : own ? form.seenRate : 0;
  return withPoint({ ...fresh, seenRate }, { time, ...at });
}

/** The form with the next mark of a kind; the same one where all are there. */
function withNext(form: VideoForm, marking: Marking, film: Film | undefined, time: number, at: Point): VideoForm {
  if (marking === "ball") return withBall(form, film, time, at);
  const list = form[marking];
  return list.length < MOST[marking] ? { ...form, [marking]: [...list, at] } : form;
}

/** The form with a mark moved, or taken away. */
function withChanged(
  form: VideoForm,
  film: Film | undefined,
  time: number,
  id: string,
  to: Point | undefined,
): VideoForm {
  const [kind, place] = id.split(" ");
  const changed = (points: readonly Point[]) =>
    points.flatMap((point, i) => (i !== Number(place) ? [point] : to ? [to] : []));
  if (kind === BALL)
    return to
      ? withBall(form, film, time, to)
      : { ...form, points: form.points.filter((point) => !isSameFrame(point.time, time)) };
  return kind === "corner" ? { ...form, corners: changed(form.corners) } : { ...form, check: changed(form.check) };
}

/** What is marked in the frame that is shown. */
function marksOf(form: VideoForm, film: Film | undefined, time: number): Mark[] {
  const ball = isOwn(form, film) ? form.points.find((point) => isSameFrame(point.time, time)) : undefined;
  return [
    ...form.corners.map((at, i) => ({
      ...at,
      id: `corner ${i}`,
      name: `Corner: ${CORNERS[i] ?? ""}`,
      text: `${i + 1}`,
    })),
    ...form.check.map((at, i) => ({ ...at, id: `check ${i}`, name: CHECK_ENDS[i] ?? "", text: "ab"[i] ?? "" })),
    ...(ball ? [{ x: ball.x, y: ball.y, id: BALL, name: "The ball in this frame", text: "" }] : []),
  ];
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
