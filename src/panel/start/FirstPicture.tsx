/** The first hour's answer: one line, and the bends so far as dots. */
import { toText } from "../../experiment/language/said";
import { useMemo } from "react";
import { firstLine, type FirstSteps } from "../../experiment/start/firstLog";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { firstFigure } from "../plots/firstFigure";
import { FigureView } from "../plots/FigureView";

interface Props {
  /** Undefined without a log. */
  readonly steps: FirstSteps | undefined;
  readonly theme: ThemeName;
  /** Selects a row of the sheet, from 0. */
  readonly onPick?: (row: number) => void;
}

const NONE = { points: [], unit: "", average: undefined };

export function FirstPicture({ steps, theme, onPick }: Props) {
  const section = useSectionStyles();
  const figure = useMemo(() => firstFigure(steps ?? NONE), [steps]);
  return (
    <section aria-label="The bends so far" data-part="picture">
      <p className={section.line} data-part="line" aria-live="polite">
        {toText(firstLine(steps))}
      </p>
      {steps && steps.points.length > 0 && (
        <FigureView figure={figure} theme={theme} nameOfRow={(row) => `row ${row + 1}`} onPick={onPick} />
      )}
    </section>
  );
}
