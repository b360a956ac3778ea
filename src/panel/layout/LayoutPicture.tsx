/** The layout drawn, with the line that says whether it can be shot, what else is amiss, and what works instead. */
import { toText } from "../../experiment/language/said";
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useDeferredValue, useMemo } from "react";
import { mendOf, type LaidShot } from "../../experiment/layout/layoutCheck";
import type { LayoutForm } from "../../experiment/layout/layoutForm";
import { layoutScene, TOLERANCE_TIMES, type LayoutScene } from "../../experiment/layout/layoutScene";
import { layoutLine, layoutNotes, mendSentence } from "../../experiment/layout/layoutWords";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { DrawnPicture } from "../plots/DrawnPicture";
import type { PictureTable } from "../plots/figureTable";
import { Handles } from "../plots/Handles";
import { LayoutDrawing, layoutScale } from "./LayoutDrawing";
import { layoutHandles } from "./layoutHandles";

interface Props {
  readonly laid: LaidShot;
  readonly theme: ThemeName;
  readonly onMend: (form: LayoutForm) => void;
  readonly onChange: (part: Partial<LayoutForm>) => void;
}

const useStyles = makeStyles({
  key: {
    columns: "210px",
    listStyle: "none",
    margin: 0,
    padding: 0,
    fontSize: tokens.fontSizeBase200,
    "& li": { breakInside: "avoid" },
  },
});

export function LayoutPicture({ laid, theme, onMend, onChange }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const scene = useMemo(() => layoutScene(laid), [laid]);
  const fails = laid.amiss.length > 0;
  // What works is looked for once a hand that moves something rests.
  const later = useDeferredValue(laid);
  const mend = useMemo(() => (later.amiss.length > 0 ? mendOf(later.form) : undefined), [later]);
  const handles = useMemo(() => layoutHandles(laid.form, scene, onChange), [laid.form, scene, onChange]);
  const line = layoutLine(laid);
  const notes = layoutNotes(laid);
  return (
    <>
      <div data-part="layout-line" aria-live="polite">
        {fails ? <Warning text={toText(line)} /> : <p className={section.line}>{toText(line)}</p>}
      </div>
      <DrawnPicture
        title="Layout"
        theme={theme}
        drawing={LayoutDrawing}
        of={{ scene, label: toText(line) }}
        table={() => tableOf(scene)}
        over={(drawn, width) => (
          <Handles handles={handles} scale={layoutScale(scene, width)}>
            {drawn}
          </Handles>
        )}
      />
      {fails && (
        <div data-part="mend">
          <p className={section.sentence}>{mendSentence(mend)}</p>
          {mend && <Button onClick={() => onMend(mend.form)}>Take what works</Button>}
        </div>
      )}
      {notes.map((text) => (
        <p key={toText(text)} className={section.note}>
          {toText(text)}
        </p>
      ))}
      <ul className={styles.key} aria-label="Numbers on the drawing">
        {scene.places.map(({ number, label }) => (
          <li key={number}>{`${number} ${label}`}</li>
        ))}
      </ul>
      <p className={section.note}>
        {`Rings move what they stand on, by hand or by the arrow keys. Thick lines: the ball, to the cushion and off it; dashed: its straight chord; dotted: the cue ball. Bars across the line: how far each may be off, ${TOLERANCE_TIMES} times as large.`}
      </p>
    </>
  );
}

function tableOf({ places }: LayoutScene): PictureTable {
  return {
    headings: ["Number", "What", "Where"],
    rows: places.map(({ number, label, words }) => [String(number), label, words]),
  };
}
