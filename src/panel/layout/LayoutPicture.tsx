/** The layout drawn, with the line that says whether it can be shot, what else is amiss, and what works instead. */
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useMemo, useRef } from "react";
import { mendOf, type LaidShot } from "../../experiment/layout/layoutCheck";
import type { LayoutForm } from "../../experiment/layout/layoutForm";
import { layoutScene, TOLERANCE_TIMES } from "../../experiment/layout/layoutScene";
import { layoutLine, layoutNotes, mendSentence } from "../../experiment/layout/layoutWords";
import { PALETTES, type ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { useWidth } from "../frame/useWidth";
import { Warning } from "../frame/Warning";
import { LayoutDrawing } from "./LayoutDrawing";

interface Props {
  readonly laid: LaidShot;
  readonly theme: ThemeName;
  readonly onMend: (form: LayoutForm) => void;
}

/** On a phone picture and line are on the first screen. */
const TALLEST = { narrow: 270, wide: 380 } as const;
const NARROW = 340;

const useStyles = makeStyles({
  drawing: { display: "flex", justifyContent: "center", minWidth: 0 },
  key: {
    columns: "210px",
    listStyle: "none",
    margin: 0,
    padding: 0,
    fontSize: tokens.fontSizeBase200,
    "& li": { breakInside: "avoid" },
  },
});

export function LayoutPicture({ laid, theme, onMend }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const scene = useMemo(() => layoutScene(laid), [laid]);
  const fails = laid.amiss.length > 0;
  const mend = useMemo(() => (fails ? mendOf(laid.form) : undefined), [laid, fails]);
  const line = layoutLine(laid);
  const notes = layoutNotes(laid);
  return (
    <>
      <div data-part="layout-line" aria-live="polite">
        {fails ? <Warning text={line} /> : <p className={section.line}>{line}</p>}
      </div>
      <div ref={frame} className={styles.drawing}>
        <LayoutDrawing
          scene={scene}
          palette={PALETTES[theme]}
          width={width}
          tallest={width < NARROW ? TALLEST.narrow : TALLEST.wide}
          label={line}
        />
      </div>
      {fails && (
        <div data-part="mend">
          <p className={section.sentence}>{mendSentence(mend)}</p>
          {mend && <Button onClick={() => onMend(mend.form)}>Take what works</Button>}
        </div>
      )}
      {notes.map((text) => (
        <p key={text} className={section.note}>
          {text}
        </p>
      ))}
      <ul className={styles.key} aria-label="Numbers on the drawing">
        {scene.places.map(({ number, label }) => (
          <li key={number}>{`${number} ${label}`}</li>
        ))}
      </ul>
      <p className={section.note}>
        {`Thick lines: the ball, to the cushion and off it; dashed: its straight chord; dotted: the cue ball. Bars across the line: how far each may be off, ${TOLERANCE_TIMES} times as large.`}
      </p>
    </>
  );
}
