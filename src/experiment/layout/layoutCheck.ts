/**
 * Whether a layout lets the whole shot through: what is in the way and by how much, and what would work. SI.
 */
import { ARRANGEMENTS, type Arrangement, type GatedLayout } from "../../bank/gatedLayout";
import { closestPassing } from "../../bank/pathClearance";
import { wholeShot, type Finding, type Stood } from "../../bank/wholeShot";
import { INCH } from "../../bank/units";
import { comingWay, cueWay, gatedOf, layoutProblem, leavingWay, tableOfForm, type LayoutForm } from "./layoutForm";

export interface LaidShot {
  readonly form: LayoutForm;
  readonly gated: GatedLayout;
  readonly findings: readonly Finding[];
  /** Those that lack room, the worst first. */
  readonly amiss: readonly Finding[];
}

/**
 * What is laid frozen or grazing has no room, and rounding either sign: what lacks less than a twentieth of a
 * millimetre is not amiss. No tape shows that, and straight pieces cut less off a bow.
 */
const NONE = 5e-5;

/** The whole shot against everything that stands. */
export function laidShot(form: LayoutForm): LaidShot {
  const gated = gatedOf(form);
  const radius = form.ballDiameter / 2;
  const [cueBall, hits] = cueWay(form);
  const coming = comingWay(form);
  const standing = gated.places.flatMap(({ label, x, y }): Stood[] =>
    label === "departure" || label === "arrival" ? [] : [{ name: `the ${label}`, x, y, ...standingOf(label, form) }],
  );
  const spot = coming[0] ?? hits;
  const starts: Stood[] = [
    { name: "the object ball's spot", ...spot, radius, gone: "leaves" },
    { name: "the cue ball's place", ...cueBall, radius, gone: "leaves" },
  ];
  const findings = wholeShot({
    table: tableOfForm(form),
    ballRadius: radius,
    ways: [
      { name: "the cue ball", points: [cueBall, hits] },
      { name: "the ball on its way to the cushion", points: coming },
    ],
    leaving: { name: "the ball off the cushion", points: leavingWay(form) },
    standing: [...standing, ...starts],
  });
  return { form, gated, findings, amiss: findings.filter(({ clearance }) => !(clearance >= -NONE)) };
}

/** What a ball meets at a place of a layout: a guide is lifted, a mark lies flat and needs only cloth under it. */
function standingOf(label: string, { ballDiameter, obstacleDiameter }: LayoutForm): Pick<Stood, "radius" | "gone"> {
  if (label.endsWith("mark")) return { radius: 0, gone: "flat" };
  if (label === "obstacle") return { radius: obstacleDiameter / 2 };
  return { radius: ballDiameter / 2, ...(label.startsWith("guide") && { gone: "lifted" }) };
}

/** Whether it can be set up and shot as it is. */
export function works(form: LayoutForm): boolean {
  return layoutProblem(form) === undefined && laidShot(form).amiss.length === 0;
}

/** How near the ball that comes back passes to the cue ball, if that stays where it hit; below 0 they meet. */
export function backPastCueBall(form: LayoutForm): number {
  const [, hits] = cueWay(form);
  const radius = form.ballDiameter / 2;
  return closestPassing(leavingWay(form), [{ ...hits, radius }], radius)?.clearance ?? Infinity;
}

/** A change that makes a layout work. */
export interface Mend {
  readonly change: Partial<LayoutForm>;
  readonly form: LayoutForm;
}

/** A form with something changed; the ways of a computed shot do not outlive a change of what they follow from. */
export function changedLayout(form: LayoutForm, change: Partial<LayoutForm>): LayoutForm {
  const { ways, ...rest } = form;
  const moved = Object.keys(change).some((name) => !FREE.has(name));
  return { ...rest, ...(ways && !moved && { ways }), ...change };
}

/** What can change without the ball going another way. */
const FREE = new Set([
  "arrangement",
  "room",
  "wrong",
  "units",
  "paper",
  "obstacleDiameter",
  "cornerMouth",
  "sideMouth",
]);

/** Where along the rail opposite a ball arrives that goes through the middle of a pocket's mouth. */
function arrivalsOf(form: LayoutForm): number[] {
  const { pockets, depth } = tableOfForm(form);
  const { departure, ballDiameter } = form;
  return pockets
    .filter(({ jaws }) => jaws.some(({ y }) => y > depth - 1e-9))
    .map(({ jaws: [first, second] }) => {
      const [x, y] = [(first.x + second.x) / 2, (first.y + second.y) / 2];
      return departure + ((x - departure) * (depth - ballDiameter / 2)) / (y - ballDiameter / 2);
    })
    .sort((a, b) => Math.abs(a - form.arrival) - Math.abs(b - form.arrival));
}

/** Places along the banked rail, clear of its pockets' jaws by a ball's radius, the nearest first. */
function departuresOf(form: LayoutForm): number[] {
  const { pockets, width } = tableOfForm(form);
  const clear = form.ballDiameter / 2;
  const jaws = pockets.flatMap(({ jaws }) => jaws.filter(({ y }) => y < 1e-9)).map(({ x }) => x);
  return [
    ...jaws.flatMap((x) => [x - clear, x + clear]),
    ...[0.2, 0.3, 0.4, 0.6, 0.7, 0.8].map((share) => share * width),
  ]
    .filter((x) => x > clear && x < width - clear)
    .sort((a, b) => Math.abs(a - form.departure) - Math.abs(b - form.departure));
}

/** The changes that are tried for what is amiss; the fewer are needed the better. */
function choices(form: LayoutForm, amiss: readonly Finding[]): (readonly Partial<LayoutForm>[])[] {
  const { depth } = tableOfForm(form);
  const speaksOf = (words: RegExp) => amiss.some(({ what, against }) => words.test(`${what} ${against}`));
  const isKind = (...kinds: Finding["kind"][]) => amiss.some(({ kind }) => kinds.includes(kind));
  const starts = speaksOf(/spot|cue ball/);
  return [
    speaksOf(/gate at the cushion/)
      ? ARRANGEMENTS.filter((one) => one !== form.arrangement).map((arrangement) => ({ arrangement }))
      : [],
    isKind("pocket", "rail", "in a mouth") || speaksOf(/mark/) ? arrivalsOf(form).map((arrival) => ({ arrival })) : [],
    starts || speaksOf(/on its way/) ? [0.2, 0.3, 0.4, 0.5].map((share) => ({ spotDistance: share * depth })) : [],
    starts ? [0.25, 0.15, 0.08].map((share) => ({ cueRun: share * depth })) : [],
    speaksOf(/obstacle/)
      ? [1, 0.75, 0.5].map((inches) => ({ obstacleDiameter: Math.min(form.obstacleDiameter, inches * INCH) }))
      : [],
    starts || isKind("no cushion", "rail") || speaksOf(/mark/)
      ? departuresOf(form).map((departure) => ({ departure }))
      : [],
  ].filter((list) => list.length > 0);
}

/** What works in its place: with one change, or else the first with two or three; undefined where none does. */
export function mendOf(form: LayoutForm): Mend | undefined {
  const kinds = choices(form, laidShot(form).amiss);
  for (let count = 1; count <= Math.min(3, kinds.length); count++)
    for (const parts of combinations(kinds, count)) {
      const change = Object.assign({}, ...parts) as Partial<LayoutForm>;
      const next = changedLayout(form, change);
      if (works(next)) return { change, form: next };
    }
  return undefined;
}

/** Every way to take one from each of `count` of the lists. */
function* combinations<T>(lists: readonly (readonly T[])[], count: number): Generator<readonly T[]> {
  if (count === 0) {
    yield [];
    return;
  }
  for (const [i, list] of lists.entries())
    for (const rest of combinations(lists.slice(i + 1), count - 1)) for (const one of list) yield [one, ...rest];
}

export interface ArrangementOffer {
  readonly arrangement: Arrangement;
  readonly laid: LaidShot;
  readonly works: boolean;
}

/** The three arrangements of the departure gate, with everything else as it is. */
export function arrangementsOf(form: LayoutForm): ArrangementOffer[] {
  return ARRANGEMENTS.map((arrangement) => {
    const laid = laidShot({ ...form, arrangement });
    return { arrangement, laid, works: laid.amiss.length === 0 };
  });
}
