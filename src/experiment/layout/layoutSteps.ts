/**
 * The steps of setting a layout up, from its own places: what goes where and in which order, what to check, what to
 * film.
 */
import { say, type Said } from "../language/said";
import type { LaidShot } from "./layoutCheck";
import { cueWay, comingWay, placedBalls, placeWords } from "./layoutForm";
import { shownLength } from "../shot/findingWords";
import { bothUnits } from "./placeWords";

export interface StepGroup {
  readonly title: string;
  readonly lines: readonly Said[];
}

export function layoutSteps(laid: LaidShot): StepGroup[] {
  const { form } = laid;
  // The far mark is in line with the gates where both stand on its side.
  const sighted = form.bend < 0 === (form.arrangement === "far");
  return [
    { title: "Set it up", lines: placing(laid) },
    { title: "Check before the obstacle stands", lines: checking(sighted) },
    { title: "Balls and obstacle", lines: standingUp(laid) },
    { title: "Before the first attempt", lines: BEFORE },
    { title: "After a success, filmed without a break", lines: filming(sighted) },
  ];
}

/** The words of a place by its label. */
function wordsIn(form: LaidShot["form"]): (label: string) => string {
  const balls = placedBalls(form);
  return (label) => balls.find((one) => one.label === label)?.words ?? "";
}

function placing({ form }: LaidShot): string[] {
  const at = wordsIn(form);
  const frozen = form.arrangement === "inside" ? "" : ", frozen to the cushion";
  return [
    "Ask the table's owner first. Brush the cloth and wipe the balls; nothing else lies on the table.",
    "Every place is a ball's centre. Mark each with a small ring of thin paper under the ball, or a dot that the cloth can bear; never tap a ball down.",
    `Gate at the cushion${frozen}: ${at("gate at the cushion")}.`,
    `Gate at the pocket: ${at("gate at the pocket")}.`,
    `Guides on the line of the ball's centre: ${at("guide at the cushion")}; and ${at("guide at the pocket")}. Look over both from behind the pocket: that is the straight path.`,
    `Near mark on that line: ${at("near mark")}. Far mark beside it, one ball (${bothUnits(form.ballDiameter, form.units)}) toward the obstacle's side: ${at("far mark")}. The page in full size gives both.`,
    "Lift the guides.",
  ];
}

function checking(sighted: boolean): string[] {
  return [
    sighted
      ? "The two gates and the far mark are in one line, by a thread or by eye from behind."
      : "The departure gate stands on the other side, so take the marks from the rails with the tape, twice, by two people.",
    "The marks are one ball apart: a ball between two square edges, the template, or the ruler.",
    "Push a ball by hand along the straight path: it touches neither gate.",
  ];
}

function standingUp({ form, gated }: LaidShot): Said[] {
  const at = wordsIn(form);
  const said = (value: number) => shownLength(value, form.units);
  const gap = gated.gap < 0 ? say`${said(-gated.gap)} past the near mark` : say`${said(gated.gap)} from the near mark`;
  const [cueBall] = cueWay(form);
  const [spot] = comingWay(form);
  return [
    say`Obstacle upright, its edge ${gap}, square to the line: centre ${at("obstacle")}.`,
    ...(spot ? [`Object ball: ${placeWords(form, spot)}.`] : []),
    `Cue ball: ${placeWords(form, cueBall)}.`,
    "Push a ball by hand from the object ball's spot to the cushion: it must pass the departure gate and the obstacle without touching.",
    say`Write into the log: gap ${said(gated.gap)}, gate correction ${said(gated.correction)}. Set bend ${said(gated.setBend)}, bend of the path ${said(Math.abs(form.bend))}.`,
  ];
}

const BEFORE = [
  "Nobody's face goes on the shot line at bed height while a ball is moving; whoever sights the line wears eye protection; nobody stands behind the pocket.",
  "Cameras run: one from above or along the line of the gates, one that sees the obstacle and the near mark, one that sees the pocket.",
  "Put the balls back on their marks before every attempt, and look whether gates or obstacle moved.",
] as const;

function filming(sighted: boolean): string[] {
  return [
    "Touch nothing until all of it is on the film.",
    sighted
      ? "The gates and the far mark, still in one line."
      : "Tape on the gates and on both marks, as they were laid out.",
    "The two marks, one ball apart.",
    "The ruler between the obstacle's edge and the near mark, square to the line, close enough to be read.",
    "The obstacle, upright and where it stood; its width and the ball's, on the ruler.",
  ];
}
