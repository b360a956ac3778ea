/**
 * A layout on the table, to scale: numbered places, the ball's whole way, tolerances drawn larger. Takes data only.
 */
import { sceneBounds, TOLERANCE_TIMES, type LayoutScene, type ScenePlace } from "../../experiment/layout/layoutScene";
import { FONT_SIZE, type Palette } from "../frame/palette";
import { toScale, type ToScale } from "../plots/toScale";
import { Surface } from "../plots/Surface";
import { TableOutline } from "../plots/TableOutline";

interface Props {
  readonly scene: LayoutScene;
  readonly palette: Palette;
  readonly width: number;
  /** What it says to those who do not see it. */
  readonly label: string;
}

interface Part {
  readonly scene: LayoutScene;
  readonly palette: Palette;
  readonly scale: ToScale;
}

/** On a phone picture and line are on the first screen. */
const TALLEST = { narrow: 250, wide: 380 } as const;
const NARROW = 340;

/** How the drawing stands on a width. */
export const layoutScale = (scene: LayoutScene, width: number): ToScale =>
  toScale(sceneBounds(scene), width, width < NARROW ? TALLEST.narrow : TALLEST.wide);

export function LayoutDrawing({ scene, palette, width, label }: Props) {
  const scale = layoutScale(scene, width);
  const part = { scene, palette, scale };
  return (
    <Surface label={label} drawing="layout" width={scale.width} height={scale.height} palette={palette}>
      <TableOutline pockets={scene.table.pockets} noses={scene.noses} palette={palette} scale={scale} />
      <Ways {...part} />
      {scene.places.map((place) => (
        <PlaceOf key={place.number} {...part} place={place} />
      ))}
    </Surface>
  );
}

function Ways({ scene: { coming, leaving, cue, chord }, palette, scale }: Part) {
  return (
    <g fill="none">
      <path d={scale.line(cue)} stroke={palette.point} strokeDasharray="2 3" data-part="cue-path" />
      <path d={scale.line(coming)} stroke={palette.point} strokeWidth={2} data-part="approach" />
      <path d={scale.line(chord)} stroke={palette.ink} strokeDasharray="6 4" data-part="chord" />
      <path d={scale.line(leaving)} stroke={palette.accent} strokeWidth={2} data-part="path" />
    </g>
  );
}

/** Ball, mark or obstacle with its number and how far it may be off. */
function PlaceOf({ scene, palette, scale, place }: Part & { readonly place: ScenePlace }) {
  const [x, y] = scale.at(place);
  const radius = scale.length(place.radius);
  const away = Math.max(radius, 5) + 8;
  return (
    <g data-part={place.kind} data-place={place.number}>
      {place.kind === "mark" ? (
        <path d={`M${x - 5} ${y}h10M${x} ${y - 5}v10`} stroke={palette.ink} strokeWidth={1.5} />
      ) : (
        <circle cx={x} cy={y} r={radius} strokeWidth={place.amiss ? 2.5 : 1.2} {...fillOf(place, palette)} />
      )}
      {place.tolerance !== undefined && place.kind !== "guide" && (
        <path
          d={scale.line(
            [-1, 1].map((end) => beside(place, scene.square, end * TOLERANCE_TIMES * (place.tolerance ?? 0))),
          )}
          stroke={palette.accent}
          strokeWidth={1.5}
          data-part="tolerance"
        />
      )}
      <text
        x={x + away * place.clear.x}
        y={y + away * place.clear.y + FONT_SIZE * 0.35}
        textAnchor="middle"
        fill={place.amiss ? palette.accent : palette.ink}
        fontWeight={place.amiss ? 700 : 400}
      >
        {place.number}
      </text>
    </g>
  );
}

const beside = ({ x, y }: ScenePlace, square: { readonly x: number; readonly y: number }, off: number) => ({
  x: x + off * square.x,
  y: y + off * square.y,
});

function fillOf({ kind, amiss }: ScenePlace, palette: Palette) {
  const stroke = amiss ? palette.accent : kind === "gate" || kind === "start" ? palette.point : palette.ink;
  if (kind === "guide") return { stroke, fill: "none", strokeDasharray: "3 2" };
  if (kind === "start") return { stroke, fill: "none" };
  return { stroke, fill: kind === "gate" ? palette.point : palette.ink, fillOpacity: kind === "gate" ? 0.35 : 0.6 };
}
