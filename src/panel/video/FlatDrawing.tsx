/** The path on the table as it is seen from straight above, to scale, the banked rail at the top. */
import type { Point } from "../../bank/pathClearance";
import type { Palette } from "../frame/palette";

interface Props {
  /** In in. */
  readonly length: number;
  readonly width: number;
  readonly ball: number;
  readonly places: readonly Point[];
  readonly path: readonly Point[];
  readonly palette: Palette;
  readonly label: string;
}

const RIM = 2;

export function FlatDrawing({ length, width, ball, places, path, palette, label }: Props) {
  const [contact, last] = [path[0], path.at(-1)];
  const across = length + 2 * RIM;
  const thin = across / 300;
  return (
    <svg
      viewBox={`${-RIM} ${-RIM} ${across} ${width + 2 * RIM}`}
      style={{ display: "block", width: "100%", maxHeight: 320 }}
      role="img"
      aria-label={label}
      data-drawing="flat"
    >
      <rect x={-RIM} y={-RIM} width={across} height={width + 2 * RIM} fill={palette.paper} />
      <rect width={length} height={width} fill="none" stroke={palette.ink} strokeWidth={thin} />
      <line x2={length} stroke={palette.ink} strokeWidth={3 * thin} />
      {places.map(({ x, y }, i) => (
        <circle key={i} cx={x} cy={y} r={1.4 * thin} fill={palette.point} />
      ))}
      {contact && last && (
        <line
          x1={contact.x}
          y1={contact.y}
          x2={last.x}
          y2={last.y}
          stroke={palette.ink}
          strokeWidth={thin}
          strokeDasharray={`${5 * thin} ${3 * thin}`}
        />
      )}
      <polyline
        points={path.map(({ x, y }) => `${x},${y}`).join(" ")}
        fill="none"
        stroke={palette.accent}
        strokeWidth={1.6 * thin}
      />
      {[contact, last].map(
        (place, i) =>
          place && (
            <circle
              key={i}
              cx={place.x}
              cy={place.y}
              r={ball / 2}
              fill="none"
              stroke={palette.accent}
              strokeWidth={thin}
            />
          ),
      )}
    </svg>
  );
}
