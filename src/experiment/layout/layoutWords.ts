/**
 * What a layout is, in words: the line above it, what is in the way and what to change, what each arrangement of the
 * departure gate costs. SI.
 */
import { say, listOf, type Said } from "../language/said";
import type { Arrangement } from "../../bank/gatedLayout";
import type { Finding } from "../../bank/wholeShot";
import { findingSentence, shownLength } from "../shot/findingWords";
import { backPastCueBall, type ArrangementOffer, type LaidShot, type Mend } from "./layoutCheck";
import type { LayoutForm } from "./layoutForm";
import { bothExactly, bothUnits } from "./placeWords";

/** What a person can change about it. */
export function mendHint({ kind, what, against }: Finding): string {
  const said = `${what} ${against}`;
  if (kind === "pocket") return "Move the arrival to the middle of a pocket's mouth.";
  if (kind === "no cushion") return "Move the departure along the rail, clear of the pocket's jaws.";
  if (/spot|cue ball/.test(said))
    return "Move the object ball's spot, shorten the cue ball's run, or depart elsewhere.";
  if (/gate at the cushion/.test(said)) return "Take another arrangement of the departure gate.";
  if (/gate at the pocket|guide/.test(said)) return "Move the arrival, so that the gate has room beside the pocket.";
  if (/obstacle/.test(said)) return "Take a narrower obstacle, or come from another place.";
  return "Move the departure or the arrival away from that rail.";
}

const ARRANGEMENT_LABELS: Readonly<Record<Arrangement, string>> = {
  near: "frozen to the cushion, on the side from which the ball comes",
  inside: "off the rail, in the angle between coming and leaving",
  far: "frozen to the cushion, on the side to which the ball goes",
};
export const arrangementLabel = (arrangement: Arrangement) => ARRANGEMENT_LABELS[arrangement];

/** Where the gate stands, from the ball's centre at the cushion. */
export function gatePlace({ gated, form }: LaidShot): string {
  const along = bothUnits(Math.abs(gated.gateAlong), form.units);
  const way = gated.gateAlong < 0 ? "back, where the ball comes from" : "on, where the ball goes";
  return gated.gateOff < 1e-6
    ? `Its centre is ${along} along the rail from the ball's, ${way}.`
    : `Its centre is ${bothUnits(gated.gateOff, form.units)} farther from the rail than the ball's, and ${along} ${way}.`;
}

/** What an arrangement costs. */
export function arrangementCost({ laid, arrangement }: ArrangementOffer): Said {
  const { form, gated } = laid;
  const { units } = form;
  const short = form.bend >= 0;
  const same = short === (arrangement !== "far");
  if (!same)
    return `It stands on the other side than the obstacle, so it cannot be sighted in line with the far mark. A ball that passes it wide has bent more than R − gap says, never less.`;
  if (arrangement === "inside")
    return "No cushion holds it, so put it by tape; coming and leaving both graze it, so either may touch. R − gap is the bend of the path.";
  const off = gated.correction;
  const beyond = shownLength(Math.abs(gated.beyondGrazing), units);
  const sets = shownLength(Math.abs(off), units);
  if (Math.abs(off) < 1e-5) return "The ball that leaves grazes it as well: R − gap is the bend of the path.";
  return off > 0
    ? say`The ball that leaves passes it ${beyond} beyond grazing and so has bent ${sets} less than R − gap says. That much is counted off.`
    : say`The ball that leaves starts ${beyond} inside the channel and so has bent ${sets} more than R − gap says. That much is counted in.`;
}

/** The line above the drawing: whether it can be shot, and what the obstacle asks for. */
export function layoutLine({ form, gated, amiss }: LaidShot): Said {
  const { units, bend } = form;
  const way = bend < 0 ? "long" : "short";
  const asked = say`Bend of the path ${bothExactly(Math.abs(bend), units)} ${way}: set bend ${shownLength(gated.setBend, units)}, gap ${shownLength(gated.gap, units)}.`;
  const [worst] = amiss;
  return worst
    ? say`This layout cannot be shot. ${findingSentence(worst, units)} ${mendHint(worst)}`
    : say`The whole shot goes through. ${asked}`;
}

/** All else that is amiss, and what stands where it may mislead. */
export function layoutNotes(laid: LaidShot): Said[] {
  const { form, gated, amiss, findings } = laid;
  const { units } = form;
  const said = amiss.slice(1).map((one) => say`${findingSentence(one, units)} ${mendHint(one)}`);
  if (amiss.length > 0) return said;
  const tight = findings.find(
    ({ kind, clearance, against }) => kind === "in the way" && clearance > 5e-5 && against !== "the obstacle",
  );
  if (tight)
    said.push(
      say`Tightest: ${tight.what} passes ${tight.against} with ${shownLength(tight.clearance, units)} of room.`,
    );
  const back = backPastCueBall(form);
  if (back < 0)
    said.push(
      say`The ball comes back over the place where the cue ball hits it, ${shownLength(-back, units)} too near: the cue ball must have left by then.`,
    );
  if (gated.gap < 0) said.push("The obstacle covers the near mark: check the marks before it is set.");
  else if (gated.gap < form.ballDiameter && gated.gap + form.obstacleDiameter > form.ballDiameter)
    said.push("The obstacle covers the far mark: check the marks before it is set, and after it is lifted.");
  return said;
}

const CHANGES: Readonly<Record<string, (form: LayoutForm) => string>> = {
  arrangement: ({ arrangement }) => `the departure gate ${arrangementLabel(arrangement)}`,
  arrival: ({ arrival, units }) => `the arrival at ${bothUnits(arrival, units)}`,
  departure: ({ departure, units }) => `the departure at ${bothUnits(departure, units)}`,
  spotDistance: ({ spotDistance, units }) =>
    `the object ball's spot ${bothUnits(spotDistance, units)} from where it touches`,
  cueRun: ({ cueRun, units }) => `a cue ball's run of ${bothUnits(cueRun, units)}`,
  obstacleDiameter: ({ obstacleDiameter, units }) => `an obstacle of ${bothUnits(obstacleDiameter, units)}`,
};

/** What works in the place of a layout that does not. */
export function mendSentence(mend: Mend | undefined): string {
  if (!mend)
    return "Nothing that was tried in its place works: arrangement, arrival, spot, cue ball's run, obstacle and departure, up to three of them together.";
  const parts = Object.keys(mend.change).flatMap((name) => CHANGES[name]?.(mend.form) ?? []);
  return `This works: ${listOf(parts)}.`;
}
