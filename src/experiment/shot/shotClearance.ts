/** A computed shot against its own layout, the rails and the pockets: what lacks room. SI, on the table. */
import { wholeShot, type Finding, type Stood, type Way } from "../../bank/wholeShot";
import type { Round } from "../../bank/tableShape";
import type { Marked, ShotLayout } from "./shotLayout";

/** Straight pieces of a drawn way cut less than this off it. */
const NONE = 5e-5;

const LEAVING = "the ball off the cushion";

/**
 * The obstacle stands where the ball grazes it, so that only the ball on its way to the cushion can lack room there.
 * @returns nothing for a ball that never reaches the line
 */
export function shotFindings(layout: ShotLayout): Finding[] {
  const { table, ballRadius, approach, spot, cueBall, cueBallHits, path, marked } = layout;
  if (!marked) return [];
  const ball = (
    name: string,
    place: { readonly x: number; readonly y: number } | undefined,
    gone?: "leaves",
  ): Stood[] => (place ? [{ name, x: place.x, y: place.y, radius: ballRadius, ...(gone && { gone }) }] : []);
  const ways: Way[] = [
    ...(spot || cueBall ? [{ name: "the ball on its way to the cushion", points: approach }] : [shortened(approach)]),
    ...(cueBall && cueBallHits ? [{ name: "the cue ball", points: [cueBall, cueBallHits] }] : []),
  ];
  return wholeShot({
    table,
    ballRadius,
    ways,
    leaving: { name: LEAVING, points: path },
    standing: [
      ...ball("the gate at the cushion", marked.gates[0]),
      ...ball("the gate at the pocket", marked.gates[1]),
      { name: "the near mark", ...marked.nearMark, radius: 0, gone: "flat" },
      { name: "the far mark", ...marked.farMark, radius: 0, gone: "flat" },
      { name: "the obstacle", ...grazed(marked, ballRadius) },
      ...ball("the object ball's spot", spot, "leaves"),
      ...ball("the cue ball's place", cueBall, "leaves"),
    ],
  }).filter(
    ({ clearance, what, against }) => !(clearance >= -NONE) && !(what === LEAVING && against === "the obstacle"),
  );
}

/** The obstacle at the least gap that the ball clears. */
function grazed({ nearMark, farMark, obstacle: { radius }, leastGap }: Marked, ballRadius: number): Round {
  const off = (leastGap + radius) / (2 * ballRadius);
  return {
    x: nearMark.x + off * (farMark.x - nearMark.x),
    y: nearMark.y + off * (farMark.y - nearMark.y),
    radius,
  };
}

/** A shot that is set at the cushion comes from nowhere in particular: only its last piece is looked at. */
function shortened(points: Way["points"]): Way {
  const [first, last] = [points[0], points.at(-1)];
  if (!first || !last) return { name: "the ball on its way to the cushion", points };
  const length = Math.hypot(last.x - first.x, last.y - first.y);
  const share = length === 0 ? 0 : Math.max(0, 1 - 0.15 / length);
  const from = { x: first.x + share * (last.x - first.x), y: first.y + share * (last.y - first.y) };
  return { name: "the ball on its way to the cushion", points: [from, last] };
}
