/**
 * A figure that answers to pointer and keys: a point that is clicked, or reached with the arrows and Enter, is picked;
 * an interval that stands for another figure opens it.
 */
import { say, toText, type Said } from "../../experiment/language/said";
import { makeStyles, tokens } from "@fluentui/react-components";
import { useRef } from "react";
import { significant } from "../../experiment/language/wording";
import { figureHeight, leavesOpen, type Figure, type FigureInterval } from "./figure";
import { FigureDrawing } from "./FigureDrawing";
import { figureTable } from "./figureTable";
import { PictureActions } from "./PictureActions";
import { usePicking, type Picking } from "./usePicking";
import { useWidth } from "../frame/useWidth";
import { PALETTES, type ThemeName } from "../frame/palette";

interface Props extends Picking {
  readonly figure: Figure;
  readonly theme: ThemeName;
  /** Says which row a point is, such as "row 12"; nothing where points are no rows of a sheet. */
  readonly nameOfRow?: (row: number) => string;
}

const useStyles = makeStyles({
  frame: {
    outlineOffset: "2px",
    ":focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}` },
    cursor: "crosshair",
    touchAction: "manipulation",
    "& svg": { display: "block" },
  },
  caption: {
    color: tokens.colorNeutralForeground2,
    fontSize: tokens.fontSizeBase200,
    lineHeight: tokens.lineHeightBase200,
    margin: "4px 0",
  },
  said: { minHeight: "20px", fontSize: tokens.fontSizeBase200 },
});

export function FigureView({ figure, theme, nameOfRow = noName, onPick, onOpen }: Props) {
  const styles = useStyles();
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const height = figureHeight(figure, width);
  const { active, listeners } = usePicking(figure, { width, height }, { onPick, onOpen });
  const { intervals } = figure;
  const opens = intervals?.some((one) => one.opens !== undefined) === true && onOpen !== undefined;
  return (
    <div>
      <div
        ref={frame}
        className={styles.frame}
        tabIndex={0}
        role="application"
        aria-label={`${figure.title}: ${keysSaid(figure, opens, onPick !== undefined)}`}
        data-figure={figure.id}
        {...listeners}
      >
        <FigureDrawing figure={figure} width={width} height={height} palette={PALETTES[theme]} active={active} />
      </div>
      <div className={styles.said} aria-live="polite">
        {active === undefined ? " " : toText(said(figure, active, nameOfRow))}
      </div>
      <PictureActions
        title={figure.title}
        svg={({ figureSvg }) => figureSvg(figure)}
        table={() => figureTable(figure, nameOfRow)}
      />
      <p className={styles.caption}>
        {`${toText(figure.caption)}${onPick && !intervals ? " Click a point to select its row." : ""}${opens ? " Press one to see its line." : ""}`}
      </p>
    </div>
  );
}

const noName = () => "";

/** What the keys do, for those who cannot see it. */
function keysSaid({ intervals }: Figure, opens: boolean, picks: boolean): string {
  if (intervals) return `arrow keys move from interval to interval${opens ? ", Enter opens its line" : ""}`;
  return `arrow keys move from point to point${picks ? ", Enter selects the row" : ""}`;
}

/** What is looked at, in words. */
function said(figure: Figure, active: number, nameOfRow: (row: number) => string): Said {
  const interval = figure.intervals?.[active];
  if (interval) return intervalText(interval, figure.rule);
  const point = figure.intervals ? undefined : figure.points[active];
  if (!point) return " ";
  const plain = (value: number) => Number(value.toPrecision(4));
  const name = nameOfRow(point.row);
  const at = figure.levels ? figure.levels[Math.round(point.x)] : plain(point.x);
  const height = figure.outcome ? outcomeWord(figure, point.y) : say`${figure.yLabel} ${plain(point.y)}`;
  return say`${name === "" ? "" : `${name}: `}${figure.xLabel} ${at ?? ""}, ${height}`;
}

function outcomeWord({ outcomeWords: [up, down] = ["made", "not made"] }: Figure, y: number): string {
  return y > 0.5 ? up : down;
}

function intervalText(interval: FigureInterval, rule: number | undefined): Said {
  const { name, value, low, high } = interval;
  const plain = (number: number) => significant(number, 4);
  const ends =
    low === null || high === null
      ? ", with no spread to judge it by"
      : say`, interval ${plain(low)} to ${plain(high)}${!interval.hollow && leavesOpen(interval, rule) ? say`, which leaves open on which side of ${plain(rule ?? 0)}` : ""}`;
  const { beside = "" } = interval;
  return say`${name}: ${plain(value)}${ends}${/[a-z]/.test(toText(beside)) ? say`; ${beside}` : ""}`;
}
