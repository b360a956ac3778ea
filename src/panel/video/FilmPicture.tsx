/**
 * The film's picture with what was marked in it: corners, check length, the ball, its path. A click marks; marks are
 * moved by hand and by arrow keys; on the picture itself the arrow keys step from frame to frame.
 */
import { makeStyles, tokens } from "@fluentui/react-components";
import { useEffect, useRef, type KeyboardEvent, type PointerEvent, type RefObject } from "react";
import type { Point } from "../../bank/pathClearance";
import type { Palette } from "../frame/palette";

export interface Mark extends Point {
  readonly id: string;
  /** What it says to those who do not see it. */
  readonly name: string;
  /** A letter or two beside it. */
  readonly text: string;
}

interface Props {
  readonly canvas: RefObject<HTMLCanvasElement>;
  readonly width: number;
  readonly height: number;
  readonly zoom: number;
  readonly marks: readonly Mark[];
  /** Lines between marks: the table's outline, the check length. */
  readonly lines: readonly (readonly Point[])[];
  /** The ball's places so far, and the fitted path. */
  readonly points: readonly Point[];
  readonly leftOut: ReadonlySet<number>;
  readonly path: readonly Point[];
  readonly palette: Palette;
  readonly label: string;
  onPlace(at: Point): void;
  onMove(id: string, to: Point): void;
  onRemove(id: string): void;
  onStep(frames: number): void;
}

const useStyles = makeStyles({
  window: {
    overflow: "auto",
    maxHeight: "min(60vh, 640px)",
    border: `1px solid ${tokens.colorNeutralStroke1}`,
    "&:focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}` },
  },
  stage: {
    position: "relative",
    touchAction: "manipulation",
    "& canvas": { display: "block", width: "100%", height: "auto" },
    "& svg": { position: "absolute", inset: 0, width: "100%", height: "100%", cursor: "crosshair" },
    "& [data-mark]": { cursor: "move", touchAction: "none", outlineStyle: "none" },
    "& [data-mark]:focus-visible [data-ring]": { strokeWidth: 4 },
  },
});

const STEP_KEYS: Readonly<Record<string, number>> = { ArrowRight: 1, ArrowLeft: -1, ".": 1, ",": -1 };
const MOVES: Readonly<Record<string, Point>> = {
  ArrowRight: { x: 1, y: 0 },
  ArrowLeft: { x: -1, y: 0 },
  ArrowDown: { x: 0, y: 1 },
  ArrowUp: { x: 0, y: -1 },
};
const LARGE = 10;
/** Half the side of what a finger has to meet, in pixels of the screen. */
const TARGET = 14;

export function FilmPicture(props: Props) {
  const { canvas, width, height, zoom, marks, lines, points, leftOut, path, palette, label } = props;
  const { onPlace, onMove, onRemove, onStep } = props;
  const styles = useStyles();
  const frame = useRef<HTMLDivElement>(null);
  const drawing = useRef<SVGSVGElement>(null);
  const moving = useRef<string>();
  const shown = drawing.current?.getBoundingClientRect().width || 296 * zoom;
  /** Pixels of the film in one of the screen. */
  const unit = width / shown;
  useMiddle(frame, zoom, marks.at(-1), width, height);
  const placeOf = ({ clientX, clientY }: { clientX: number; clientY: number }): Point => {
    const box = drawing.current?.getBoundingClientRect();
    return box
      ? { x: ((clientX - box.left) / box.width) * width - 0.5, y: ((clientY - box.top) / box.height) * height - 0.5 }
      : { x: 0, y: 0 };
  };
  const move = (event: PointerEvent) => {
    if (moving.current !== undefined) onMove(moving.current, placeOf(event));
  };
  const onKey = (event: KeyboardEvent) => {
    const frames = STEP_KEYS[event.key];
    if (frames === undefined || event.target !== event.currentTarget || event.ctrlKey || event.altKey) return;
    event.preventDefault();
    onStep(frames * (event.shiftKey ? LARGE : 1));
  };
  const onMarkKey = (mark: Mark) => (event: KeyboardEvent) => {
    const by = MOVES[event.key];
    if (event.key === "Delete" || event.key === "Backspace") onRemove(mark.id);
    else if (by) {
      const far = event.shiftKey ? LARGE : 1;
      onMove(mark.id, { x: mark.x + far * by.x, y: mark.y + far * by.y });
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const line = (places: readonly Point[]) => places.map(({ x, y }) => `${x + 0.5},${y + 0.5}`).join(" ");
  return (
    <div ref={frame} className={styles.window} tabIndex={0} role="group" aria-label={label} onKeyDown={onKey}>
      <div className={styles.stage} style={{ width: `${100 * zoom}%` }}>
        <canvas ref={canvas} width={width} height={height} aria-hidden />
        <svg
          ref={drawing}
          viewBox={`0 0 ${width} ${height}`}
          data-drawing="film"
          onPointerMove={move}
          onPointerUp={() => (moving.current = undefined)}
          onPointerCancel={() => (moving.current = undefined)}
          onClick={(event) => event.target === event.currentTarget && onPlace(placeOf(event))}
        >
          {lines.map((places, i) => (
            <polyline
              key={i}
              points={line(places)}
              fill="none"
              stroke={palette.paper}
              strokeWidth={1.5 * unit}
              strokeDasharray={`${5 * unit} ${3 * unit}`}
              pointerEvents="none"
            />
          ))}
          {points.map(({ x, y }, i) => (
            <circle
              key={i}
              cx={x + 0.5}
              cy={y + 0.5}
              r={2 * unit}
              fill={leftOut.has(i) ? "none" : "#ffffff"}
              stroke="#000000"
              strokeWidth={0.7 * unit}
              pointerEvents="none"
            />
          ))}
          {path.length > 0 && (
            <>
              <polyline points={line(path)} fill="none" stroke="#000000" strokeWidth={3 * unit} pointerEvents="none" />
              <polyline
                points={line(path)}
                fill="none"
                stroke={palette.accent}
                strokeWidth={1.8 * unit}
                pointerEvents="none"
                data-part="path"
              />
            </>
          )}
          {marks.map((mark) => (
            <g
              key={mark.id}
              data-mark={mark.id}
              tabIndex={0}
              role="button"
              aria-label={`${mark.name}, at ${Math.round(mark.x)}, ${Math.round(mark.y)} pixels. Arrow keys move it, with Shift by ten; Delete takes it away.`}
              onKeyDown={onMarkKey(mark)}
              onPointerDown={(event) => {
                moving.current = mark.id;
                drawing.current?.setPointerCapture(event.pointerId);
                event.currentTarget.focus();
                event.stopPropagation();
              }}
            >
              <circle cx={mark.x + 0.5} cy={mark.y + 0.5} r={TARGET * unit} fill="transparent" />
              <circle
                cx={mark.x + 0.5}
                cy={mark.y + 0.5}
                r={6 * unit}
                fill="none"
                stroke="#000000"
                strokeWidth={3.4 * unit}
              />
              <circle
                data-ring
                cx={mark.x + 0.5}
                cy={mark.y + 0.5}
                r={6 * unit}
                fill="none"
                stroke="#ffd84d"
                strokeWidth={1.8 * unit}
                vectorEffect="none"
              />
              <text
                x={mark.x + 0.5 + 9 * unit}
                y={mark.y + 0.5 - 7 * unit}
                fontSize={13 * unit}
                fontWeight={600}
                fill="#ffd84d"
                stroke="#000000"
                strokeWidth={2.5 * unit}
                paintOrder="stroke"
              >
                {mark.text}
              </text>
            </g>
          ))}
        </svg>
      </div>
    </div>
  );
}

/** Brings the latest mark to the middle when the picture is made larger. */
function useMiddle(
  frame: RefObject<HTMLDivElement>,
  zoom: number,
  at: Point | undefined,
  width: number,
  height: number,
): void {
  const latest = useRef(at);
  latest.current = at;
  useEffect(() => {
    const box = frame.current;
    const middle = latest.current ?? { x: width / 2, y: height / 2 };
    if (!box || zoom === 1) return;
    box.scrollLeft = (middle.x / width) * box.scrollWidth - box.clientWidth / 2;
    box.scrollTop = (middle.y / height) * box.scrollHeight - box.clientHeight / 2;
  }, [frame, zoom, width, height]);
}
