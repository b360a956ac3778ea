/**
 * A figure that answers to pointer and keys: a point that is clicked, or reached with the arrows and Enter, is picked.
 */
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useEffect, useRef, useState, type KeyboardEvent, type PointerEvent } from "react";
import { significant } from "../../experiment/language/wording";
import { figureHeight, INTERVAL_ROOM, type Figure, type FigureInterval } from "./figure";
import { FigureDrawing } from "./FigureDrawing";
import { figureFrame } from "./figureScales";
import { useWidth } from "../frame/useWidth";
import { PALETTES, type ThemeName } from "../frame/palette";

export interface FigureViewProps {
  readonly figure: Figure;
  readonly theme: ThemeName;
  /** Says which row a point is, such as "row 12". */
  readonly nameOfRow: (row: number) => string;
  readonly onPick: (row: number) => void;
  readonly onFailure: (text: string | undefined) => void;
}

/** How near the pointer must come to a point, in pixels. */
const REACH = 12;

const useStyles = makeStyles({
  frame: {
    outlineOffset: "2px",
    ":focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}` },
    cursor: "crosshair",
    touchAction: "manipulation",
  },
  caption: {
    color: tokens.colorNeutralForeground2,
    fontSize: tokens.fontSizeBase200,
    lineHeight: tokens.lineHeightBase200,
    margin: "4px 0",
  },
  said: { minHeight: "20px", fontSize: tokens.fontSizeBase200 },
  row: { display: "flex", gap: "8px", flexWrap: "wrap" },
});

export function FigureView({ figure, theme, nameOfRow, onPick, onFailure }: FigureViewProps) {
  const styles = useStyles();
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const [active, setActive] = useState<number>();
  const height = figureHeight(figure, width);

  useEffect(() => setActive(undefined), [figure.id]);

  const nearest = (event: PointerEvent): number | undefined => {
    const box = frame.current?.getBoundingClientRect();
    if (!box) return undefined;
    if (figure.intervals) return intervalAt(figure, event.clientY - box.top);
    const { x, y } = figureFrame(figure, width, height).scales;
    let best: number | undefined;
    let distance = REACH ** 2;
    figure.points.forEach((point, index) => {
      const away =
        (x(point.x) - (event.clientX - box.left)) ** 2 +
        (figure.needles ? 0.01 : 1) * (y(point.y) - (event.clientY - box.top)) ** 2;
      if (away < distance) {
        best = index;
        distance = away;
      }
    });
    return best;
  };
  const order = figure.intervals?.length ?? figure.points.length;
  const pick = (index: number) => {
    const point = figure.intervals ? undefined : figure.points[index];
    if (point) onPick(point.row);
  };
  const keys = (event: KeyboardEvent) => {
    const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageDown: -10, PageUp: 10 }[event.key];
    if (step !== undefined && order > 0) {
      event.preventDefault();
      setActive((before) => (before === undefined ? 0 : (before + step + order) % order));
    } else if ((event.key === "Enter" || event.key === " ") && active !== undefined) {
      event.preventDefault();
      pick(active);
    }
  };
  // What makes a file of a figure draws without the page; it comes when the first one is saved.
  const save = (act: (maker: typeof import("./savePicture")) => void | Promise<void>) =>
    import("./savePicture").then(act).then(
      () => onFailure(undefined),
      (problem: Error) => onFailure(problem.message),
    );
  const interval = active === undefined ? undefined : figure.intervals?.[active];
  const point = active === undefined || figure.intervals ? undefined : figure.points[active];
  const plain = (value: number) => Number(value.toPrecision(4));
  const at = point && (figure.levels ? figure.levels[Math.round(point.x)] : plain(point.x));
  return (
    <div>
      <div
        ref={frame}
        className={styles.frame}
        tabIndex={0}
        role="application"
        aria-label={
          figure.intervals
            ? `${figure.title}: arrow keys move from interval to interval`
            : `${figure.title}: arrow keys move from point to point, Enter selects the row`
        }
        data-figure={figure.id}
        onKeyDown={keys}
        onPointerMove={(event) => setActive(nearest(event))}
        onClick={(event) => {
          const index = nearest(event as unknown as PointerEvent);
          if (index !== undefined) pick(index);
        }}
      >
        <FigureDrawing figure={figure} width={width} height={height} palette={PALETTES[theme]} active={active} />
      </div>
      <div className={styles.said} aria-live="polite">
        {point
          ? `${nameOfRow(point.row)}: ${figure.xLabel} ${at}, ${figure.outcome ? outcomeWord(figure, point.y) : `${figure.yLabel} ${plain(point.y)}`}`
          : interval
            ? intervalText(interval)
            : " "}
      </div>
      <p className={styles.caption}>
        {figure.intervals ? figure.caption : `${figure.caption} Click a point to select its row.`}
      </p>
      <div className={styles.row}>
        <Button size="small" onClick={() => save(({ saveSvg }) => saveSvg(figure))}>
          Save as SVG
        </Button>
        <Button size="small" onClick={() => save(({ savePng }) => savePng(figure))}>
          Save as PNG
        </Button>
      </div>
    </div>
  );
}

function outcomeWord({ outcomeWords: [up, down] = ["made", "not made"] }: Figure, y: number): string {
  return y > 0.5 ? up : down;
}

/** The lying interval at a height, in pixels from the top. */
function intervalAt({ intervals = [] }: Figure, y: number): number | undefined {
  const index = Math.floor((y - 6) / INTERVAL_ROOM.each);
  return index >= 0 && index < intervals.length ? index : undefined;
}

function intervalText({ name, value, low, high }: FigureInterval): string {
  const said = (number: number) => significant(number, 4);
  return `${name}: ${said(value)}${low === null || high === null ? ", with no spread to judge it by" : `, interval ${said(low)} to ${said(high)}`}`;
}
