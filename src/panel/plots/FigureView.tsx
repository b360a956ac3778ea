/**
 * A figure that answers to pointer and keys: a point that is clicked, or reached with the arrows and Enter, is picked.
 * May import: this folder, panel/useWidth.ts.
 */
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useEffect, useRef, useState, type KeyboardEvent, type PointerEvent } from "react";
import type { Figure } from "./figure";
import { FigureDrawing, figureScales } from "./FigureDrawing";
import { useWidth } from "../useWidth";
import { PALETTES, type ThemeName } from "./palette";
import { savePng, saveSvg } from "./savePicture";

export interface FigureViewProps {
  readonly figure: Figure;
  readonly theme: ThemeName;
  /** Says which row a point is, such as "row 12". */
  readonly nameOfRow: (row: number) => string;
  readonly onPick: (row: number) => void;
  readonly onFailure: (text: string) => void;
}

/** How near the pointer must come to a point, in pixels. */
const REACH = 12;

const useStyles = makeStyles({
  frame: { outlineOffset: "2px", ":focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}` }, cursor: "crosshair", touchAction: "manipulation" },
  caption: { color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200, lineHeight: tokens.lineHeightBase200, margin: "4px 0" },
  said: { minHeight: "20px", fontSize: tokens.fontSizeBase200 },
  row: { display: "flex", gap: "8px", flexWrap: "wrap" },
});

export function FigureView({ figure, theme, nameOfRow, onPick, onFailure }: FigureViewProps) {
  const styles = useStyles();
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const [active, setActive] = useState<number>();
  const height = Math.round(Math.min(360, Math.max(220, width * 0.68)));

  useEffect(() => setActive(undefined), [figure.id]);

  const nearest = (event: PointerEvent): number | undefined => {
    const box = frame.current?.getBoundingClientRect();
    if (!box) return undefined;
    const { x, y } = figureScales(figure, width, height);
    let best: number | undefined;
    let distance = REACH ** 2;
    figure.points.forEach((point, index) => {
      const away = (x(point.x) - (event.clientX - box.left)) ** 2 + (figure.needles ? 0.01 : 1) * (y(point.y) - (event.clientY - box.top)) ** 2;
      if (away < distance) {
        best = index;
        distance = away;
      }
    });
    return best;
  };
  const order = figure.points.length;
  const keys = (event: KeyboardEvent) => {
    const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageDown: -10, PageUp: 10 }[event.key];
    if (step !== undefined && order > 0) {
      event.preventDefault();
      setActive((before) => (before === undefined ? 0 : (before + step + order) % order));
    } else if ((event.key === "Enter" || event.key === " ") && active !== undefined) {
      event.preventDefault();
      onPick(figure.points[active].row);
    }
  };
  const point = active === undefined ? undefined : figure.points[active];
  const plain = (value: number) => Number(value.toPrecision(4));
  const at = point && (figure.levels ? figure.levels[Math.round(point.x)] : plain(point.x));
  return (
    <div>
      <div
        ref={frame} className={styles.frame} tabIndex={0} role="application" aria-label={`${figure.title}: arrow keys move from point to point, Enter selects the row`}
        data-figure={figure.id}
        onKeyDown={keys}
        onPointerMove={(event) => setActive(nearest(event))}
        onClick={(event) => {
          const index = nearest(event as unknown as PointerEvent);
          if (index !== undefined) onPick(figure.points[index].row);
        }}
      >
        <FigureDrawing figure={figure} width={width} height={height} palette={PALETTES[theme]} active={active} />
      </div>
      <div className={styles.said} aria-live="polite">{point ? `${nameOfRow(point.row)}: ${figure.xLabel} ${at}, ${figure.yLabel} ${plain(point.y)}` : " "}</div>
      <p className={styles.caption}>{figure.caption} Click a point to select its row.</p>
      <div className={styles.row}>
        <Button size="small" onClick={() => saveSvg(figure)}>Save as SVG</Button>
        <Button size="small" onClick={() => savePng(figure).catch((problem: Error) => onFailure(problem.message))}>Save as PNG</Button>
      </div>
    </div>
  );
}
