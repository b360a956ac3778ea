/**
 * The film's picture with what was marked in it: corners, check length, the ball, its path. A click marks; marks are
 * moved by hand and by arrow keys; on the picture itself the arrow keys step from frame to frame.
 */
import { makeStyles, tokens } from "@fluentui/react-components";
import { useEffect, useRef, type KeyboardEvent, type PointerEvent, type RefObject } from "react";
import type { Point } from "../../bank/pathClearance";
import type { FilmedShot } from "../../experiment/video/filmedShot";
import { PALETTES, type ThemeName } from "../frame/palette";
import type { Film } from "./film";
import { BallPlaces, MarkLines, MarkRing } from "./FilmMarks";
import type { Mark, Marks } from "./useMarks";

interface Props {
  readonly canvas: RefObject<HTMLCanvasElement>;
  readonly film: Film;
  /** Of the frame that is shown, s. */
  readonly time: number;
  readonly zoom: number;
  readonly marks: Marks;
  /** The ball's places so far. */
  readonly points: readonly Point[];
  /** What they tell; undefined where they are another film's. */
  readonly found: FilmedShot | undefined;
  readonly theme: ThemeName;
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

export function FilmPicture({ canvas, film, time, zoom, marks, points, found, theme, onStep }: Props) {
  const styles = useStyles();
  const palette = PALETTES[theme];
  const frame = useRef<HTMLDivElement>(null);
  const drawing = useRef<SVGSVGElement>(null);
  const { width, height } = film;
  useMiddle(frame, zoom, marks.shown.at(-1), width, height);
  const { placeOf, ringOf, onPointerMove, onPointerEnd } = useMoving(drawing, film, marks);
  const unit = width / (drawing.current?.getBoundingClientRect().width || 296 * zoom);
  const { map, shot } = found ?? {};
  const label = `${film.file.name} at ${time.toFixed(3)} s. Arrow keys step from frame to frame, with Shift by ten. ${marks.next}`;
  return (
    <div
      ref={frame}
      className={styles.window}
      tabIndex={0}
      role="group"
      aria-label={label}
      onKeyDown={(event) => {
        const frames = stepOf(event);
        if (frames === undefined) return;
        event.preventDefault();
        onStep(frames);
      }}
    >
      <div className={styles.stage} style={{ width: `${100 * zoom}%` }}>
        <canvas ref={canvas} width={width} height={height} aria-hidden />
        <svg
          ref={drawing}
          viewBox={`0 0 ${width} ${height}`}
          data-drawing="film"
          onPointerMove={onPointerMove}
          onPointerUp={onPointerEnd}
          onPointerCancel={onPointerEnd}
          onClick={(event) => event.target === event.currentTarget && marks.place(placeOf(event))}
        >
          <MarkLines lines={marks.lines} palette={palette} unit={unit} />
          <BallPlaces
            points={points}
            leftOut={new Set(shot?.leftOut)}
            path={map && shot ? shot.path.map((place) => map.toPicture(place)) : []}
            palette={palette}
            unit={unit}
          />
          {marks.shown.map((mark) => (
            <MarkRing key={mark.id} mark={mark} unit={unit} {...ringOf(mark)} />
          ))}
        </svg>
      </div>
    </div>
  );
}

/** How many frames a key goes on; undefined for keys that do not, and for those that are a mark's. */
function stepOf(event: KeyboardEvent): number | undefined {
  const frames = STEP_KEYS[event.key];
  if (frames === undefined || event.target !== event.currentTarget || event.ctrlKey || event.altKey) return undefined;
  return frames * (event.shiftKey ? LARGE : 1);
}

/** Marks moved by hand and by keys. */
function useMoving(drawing: RefObject<SVGSVGElement>, { width, height }: Film, { move, remove }: Marks) {
  const moving = useRef<string>();
  const placeOf = ({ clientX, clientY }: { clientX: number; clientY: number }): Point => {
    const box = drawing.current?.getBoundingClientRect();
    return box
      ? { x: ((clientX - box.left) / box.width) * width - 0.5, y: ((clientY - box.top) / box.height) * height - 0.5 }
      : { x: 0, y: 0 };
  };
  const ringOf = (mark: Mark) => ({
    onKeyDown: (event: KeyboardEvent) => {
      const by = MOVES[event.key];
      if (event.key === "Delete" || event.key === "Backspace") remove(mark.id);
      else if (by) {
        const far = event.shiftKey ? LARGE : 1;
        move(mark.id, { x: mark.x + far * by.x, y: mark.y + far * by.y });
      } else return;
      event.preventDefault();
      event.stopPropagation();
    },
    onPointerDown: (event: PointerEvent<SVGGElement>) => {
      moving.current = mark.id;
      drawing.current?.setPointerCapture(event.pointerId);
      event.currentTarget.focus();
      event.stopPropagation();
    },
  });
  return {
    placeOf,
    ringOf,
    onPointerMove: (event: PointerEvent) => {
      if (moving.current !== undefined) move(moving.current, placeOf(event));
    },
    onPointerEnd: () => {
      moving.current = undefined;
    },
  };
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
