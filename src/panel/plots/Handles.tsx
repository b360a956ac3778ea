/**
 * Places on a drawing that are moved by hand and by keys. They lie over the drawing, so that what is saved of it has
 * none; the one nearest to the pointer is taken, because balls to scale stand closer than fingers are wide.
 */
import { makeStyles, tokens } from "@fluentui/react-components";
import { useRef, useState, type KeyboardEvent, type PointerEvent, type ReactNode } from "react";
import type { ToScale } from "./toScale";

interface Place {
  readonly x: number;
  readonly y: number;
}

export interface Handle {
  readonly name: string;
  /** Where it stands. */
  readonly place: Place;
  /** How its place changes with its value, in metres for one of it. */
  readonly along: Place;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Of a press of a key. */
  readonly step: number;
  /** The value as it is read. */
  readonly text: string;
  readonly onChange: (value: number) => void;
}

interface Props {
  readonly handles: readonly Handle[];
  readonly scale: ToScale;
  readonly children: ReactNode;
}

/** How near the pointer must come to a handle, in pixels. */
const REACH = 24;
const LARGE_STEP = 10;

const useStyles = makeStyles({
  frame: { position: "relative", display: "inline-block", lineHeight: 0 },
  over: { position: "absolute", inset: 0 },
  handle: {
    position: "absolute",
    width: "24px",
    height: "24px",
    margin: "-12px 0 0 -12px",
    boxSizing: "border-box",
    borderRadius: "50%",
    border: `2px solid ${tokens.colorBrandStroke1}`,
    backgroundColor: "transparent",
    cursor: "grab",
    touchAction: "none",
    opacity: 0.75,
    ":hover": { opacity: 1 },
    ":focus-visible": { outline: `3px solid ${tokens.colorStrokeFocus2}`, opacity: 1 },
  },
});

interface Dragged {
  readonly index: number;
  /** Pointer and value where it began. */
  readonly from: Place;
  readonly value: number;
}

export function Handles({ handles, scale, children }: Props) {
  const styles = useStyles();
  const over = useRef<HTMLDivElement>(null);
  const [dragged, setDragged] = useState<Dragged>();
  const pixels = handles.map(({ place }) => scale.at(place));
  const take = (event: PointerEvent) => {
    const box = over.current?.getBoundingClientRect();
    if (!box) return;
    const index = nearest(pixels, event.clientX - box.left, event.clientY - box.top);
    const handle = index === undefined ? undefined : handles[index];
    if (index === undefined || !handle) return;
    event.preventDefault();
    over.current?.setPointerCapture(event.pointerId);
    over.current?.querySelectorAll<HTMLElement>("[role=slider]")[index]?.focus();
    setDragged({ index, from: { x: event.clientX, y: event.clientY }, value: handle.value });
  };
  const move = (event: PointerEvent) => {
    const handle = dragged && handles[dragged.index];
    if (!handle) return;
    const metre = scale.length(1);
    const off = { x: (event.clientX - dragged.from.x) / metre, y: (event.clientY - dragged.from.y) / metre };
    set(handle, dragged.value + valueOf(handle, off));
  };
  const end = () => setDragged(undefined);
  return (
    <div className={styles.frame}>
      {children}
      <div
        ref={over}
        className={styles.over}
        onPointerDown={take}
        onPointerMove={move}
        onPointerUp={end}
        onPointerCancel={end}
      >
        {handles.map((handle, index) => (
          <div
            key={handle.name}
            className={styles.handle}
            style={{ left: pixels[index]?.[0], top: pixels[index]?.[1] }}
            role="slider"
            tabIndex={0}
            aria-label={handle.name}
            aria-valuenow={handle.value}
            aria-valuemin={handle.low}
            aria-valuemax={handle.high}
            aria-valuetext={handle.text}
            title={`${handle.name}: ${handle.text}`}
            onKeyDown={(event) => onKey(event, handle)}
          />
        ))}
      </div>
    </div>
  );
}

function set({ low, high, onChange }: Handle, value: number): void {
  onChange(Math.min(high, Math.max(low, value)));
}

/** How much of the value a way on the table is, seen along the handle's own way. */
function valueOf({ along }: Handle, off: Place): number {
  const square = along.x ** 2 + along.y ** 2;
  return square === 0 ? 0 : (off.x * along.x + off.y * along.y) / square;
}

const ARROWS: Readonly<Record<string, Place>> = {
  ArrowRight: { x: 1, y: 0 },
  ArrowLeft: { x: -1, y: 0 },
  ArrowDown: { x: 0, y: 1 },
  ArrowUp: { x: 0, y: -1 },
};

/** An arrow moves the place the way it points; across the handle's own way up and right are more. */
function onKey(event: KeyboardEvent, handle: Handle): void {
  const arrow = ARROWS[event.key];
  const page = { PageUp: LARGE_STEP, PageDown: -LARGE_STEP }[event.key];
  if (!arrow && page === undefined) return;
  event.preventDefault();
  const size = Math.hypot(handle.along.x, handle.along.y);
  const toward = arrow ? (arrow.x * handle.along.x + arrow.y * handle.along.y) / (size || 1) : 0;
  const sign = Math.abs(toward) > 0.2 ? Math.sign(toward) : arrow && arrow.x - arrow.y > 0 ? 1 : -1;
  set(handle, handle.value + handle.step * (page ?? sign));
}

function nearest(pixels: readonly (readonly [number, number])[], x: number, y: number): number | undefined {
  const away = pixels.map(([left, top]) => Math.hypot(left - x, top - y));
  const least = Math.min(...away);
  return least <= REACH ? away.indexOf(least) : undefined;
}
