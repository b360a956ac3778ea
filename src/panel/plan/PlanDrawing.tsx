/**
 * A plan as points: a box for each session on a table, the first setting across, the second up, shots of the same
 * settings side by side; filled when done, the next one ringed. Takes data only.
 */
import { scalePoint } from "d3-scale";
import type { PlanBlock, PlanPoint, PlanPoints } from "../../experiment/plan/planPoints";
import { FONT_SIZE, type Palette } from "../frame/palette";
import { shortened } from "../plots/Axes";
import { Surface } from "../plots/Surface";

interface Props {
  readonly plan: PlanPoints;
  readonly palette: Palette;
  readonly width: number;
  /** What it says to those who do not see it. */
  readonly label: string;
}

/** More boxes than this are not drawn; the table of the picture has them all. */
const MOST_BOXES = 12;
const GAP = 10;
const NAME = 16;
const LEVELS = 16;
const LEAST_BOX = 84;
const BOX_HEIGHT = 62;
const EDGE = 12;

/** How the boxes stand: how many beside each other, how wide, how high all is. */
function arranged(count: number, width: number) {
  const across = Math.max(1, Math.min(count, Math.floor((width + GAP) / (LEAST_BOX + GAP))));
  const rows = Math.ceil(count / across);
  const box = Math.min(180, (width - GAP * (across - 1)) / across);
  return { across, box, height: rows * (NAME + BOX_HEIGHT + LEVELS + 4) + 18 };
}

export function PlanDrawing({ plan, palette, width, label }: Props) {
  const drawn = plan.blocks.slice(0, MOST_BOXES);
  const { across, box, height } = arranged(drawn.length, width);
  const left = plan.blocks.length - drawn.length;
  return (
    <Surface label={label} drawing="plan" width={width} height={height} palette={palette}>
      {drawn.map((block, i) => (
        <g
          key={block.name}
          transform={`translate(${(i % across) * (box + GAP)} ${Math.floor(i / across) * (NAME + BOX_HEIGHT + LEVELS + 4)})`}
        >
          <Box block={block} plan={plan} width={box} palette={palette} />
        </g>
      ))}
      <text x={0} y={height - 4} fill={palette.ink}>
        {shortened(`${axesText(plan)}${left > 0 ? `; ${left} more sessions` : ""}`, Math.floor(width / 6))}
      </text>
    </Surface>
  );
}

function axesText({ settings: [first, second] }: PlanPoints): string {
  return `across: ${first?.heading ?? ""}${second ? `; up: ${second.heading} (${second.levels.join(", ")})` : ""}`;
}

interface BoxProps {
  readonly block: PlanBlock;
  readonly plan: PlanPoints;
  readonly width: number;
  readonly palette: Palette;
}

function Box({ block, plan, width, palette }: BoxProps) {
  const [first, second] = plan.settings;
  const places = (levels: readonly string[] | undefined) => [...(levels ?? [""]).keys()];
  const x = scalePoint(places(first?.levels), [EDGE + 6, width - EDGE - 6]);
  const y = scalePoint(places(second?.levels), [NAME + BOX_HEIGHT - EDGE - 2, NAME + EDGE + 2]);
  const ends = first ? [0, first.levels.length - 1] : [];
  return (
    <>
      <text x={0} y={FONT_SIZE} fill={palette.ink} fontWeight={600}>
        {shortened(block.name, Math.floor(width / 6.5))}
      </text>
      <rect x={0.5} y={NAME} width={width - 1} height={BOX_HEIGHT} fill="none" stroke={palette.faint} />
      {clusters(block.points).map(({ at: [across = 0, up = 0], points }) => (
        <Cluster
          key={`${across} ${up}`}
          x={x(across) ?? width / 2}
          y={y(up) ?? NAME + BOX_HEIGHT / 2}
          points={points}
          palette={palette}
        />
      ))}
      {[...new Set(ends)].map((level, i) => (
        <text
          key={level}
          x={i === 0 ? 0 : width}
          y={NAME + BOX_HEIGHT + 12}
          textAnchor={i === 0 ? "start" : "end"}
          fill={palette.ink}
        >
          {shortened(first?.levels[level] ?? "", Math.floor(width / 13))}
        </text>
      ))}
    </>
  );
}

interface Clustered {
  readonly at: readonly number[];
  readonly points: readonly PlanPoint[];
}

/** Points of the same first and second setting. */
function clusters(points: readonly PlanPoint[]): Clustered[] {
  const found = new Map<string, PlanPoint[]>();
  for (const point of points) {
    const key = point.at.slice(0, 2).join(" ");
    found.set(key, [...(found.get(key) ?? []), point]);
  }
  return [...found.values()].map((of) => ({ at: of[0]?.at ?? [], points: of }));
}

interface ClusterProps {
  readonly x: number;
  readonly y: number;
  readonly points: readonly PlanPoint[];
  readonly palette: Palette;
}

/** Side by side in rows of a square, those that are done first. */
function Cluster({ x, y, points, palette }: ClusterProps) {
  const side = Math.ceil(Math.sqrt(points.length));
  const step = Math.min(9, 34 / side);
  const radius = Math.max(1.4, step * 0.38);
  const first = (side - 1) / 2;
  const ordered = [...points].sort((a, b) => Number(b.done) - Number(a.done) || Number(b.next) - Number(a.next));
  return ordered.map(({ done, next }, i) => {
    const at = { cx: x + step * ((i % side) - first), cy: y + step * (Math.floor(i / side) - first) };
    return (
      <g key={i} data-point={done ? "done" : next ? "next" : "to do"}>
        <circle
          {...at}
          r={radius}
          fill={done ? palette.point : palette.paper}
          stroke={palette.point}
          strokeWidth={1.2}
        />
        {next && <circle {...at} r={radius + 3} fill="none" stroke={palette.accent} strokeWidth={2} />}
      </g>
    );
  });
}
