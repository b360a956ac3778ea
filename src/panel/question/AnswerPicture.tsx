/** The answer first: one line, what it rests on, and the plots, one at a time, with the overview in front. */
import { say, toText } from "../../experiment/language/said";
import { Button, Dropdown, Field, makeStyles, Option, tokens } from "@fluentui/react-components";
import { useEffect, useMemo, useState } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import { influence } from "../../statistics/checks/influence";
import type { FigureChoice } from "../plots/figures";
import { FigureView } from "../plots/FigureView";
import type { ThemeName } from "../frame/palette";
import { pullText } from "../../experiment/trust/pullText";
import { useJob } from "../worker/useJob";
import { useSectionStyles } from "../frame/styles";

interface Props {
  /** The answer in one line. */
  readonly line: string;
  /** Which rows it rests on. */
  readonly by: string;
  readonly choices: readonly FigureChoice[];
  /** Sheet rows of the points, by the index that they carry. */
  readonly sheetRows: readonly number[];
  /** For the list of the rows that pull hardest. */
  readonly analysis: Analysis | undefined;
  readonly theme: ThemeName;
  /** Selects the row, by its index among the rows used. */
  readonly onPick: (row: number) => void;
}

const HARDEST = 8;

const useStyles = makeStyles({
  line: {
    fontSize: tokens.fontSizeBase400,
    lineHeight: tokens.lineHeightBase400,
    fontWeight: tokens.fontWeightSemibold,
    margin: "4px 0 2px",
    overflowWrap: "anywhere",
  },
  by: {
    color: tokens.colorNeutralForeground2,
    fontSize: tokens.fontSizeBase200,
    margin: "0 0 4px",
    overflowWrap: "anywhere",
  },
  back: { minWidth: 0, padding: 0 },
});

export function AnswerPicture({ line, by, choices, sheetRows, analysis, theme, onPick }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const [wanted, setWanted] = useState<string>();
  const chosen = choices.find(({ id }) => id === wanted) ?? choices[0];
  const { figure, state } = useWhole(chosen);
  const nameOfRow = (row: number) => `row ${(sheetRows[row] ?? NaN) + 1}`;
  const [overview] = choices;
  return (
    <section aria-label="The answer" data-part="answer-picture">
      <h2 className={styles.line} data-part="line">
        {line}
      </h2>
      <p className={styles.by} data-part="by">
        {by}
      </p>
      {!figure && <p className={section.note}>There is nothing to draw without a driver.</p>}
      {figure && (
        <>
          {overview && figure.id !== overview.id && (
            <Button
              size="small"
              appearance="transparent"
              className={styles.back}
              onClick={() => setWanted(overview.id)}
            >{`‹ ${overview.title}`}</Button>
          )}
          <FigureView figure={figure} theme={theme} nameOfRow={nameOfRow} onPick={onPick} onOpen={setWanted} />
          {state.kind === "running" && chosen?.simulated && (
            <p className={section.note}>The simulated envelope is being drawn.</p>
          )}
          {state.kind === "failed" && <p className={section.note}>{`The envelope was not drawn: ${state.message}.`}</p>}
          {analysis && figure.id === "pull" && <Hardest analysis={analysis} nameOfRow={nameOfRow} onPick={onPick} />}
          <Field label="Plot" size="small">
            <Dropdown
              value={figure.title}
              selectedOptions={[figure.id]}
              onOptionSelect={(_, { optionValue }) => setWanted(optionValue)}
            >
              {choices.map(({ id, title }) => (
                <Option key={id} value={id}>
                  {title}
                </Option>
              ))}
            </Dropdown>
          </Field>
        </>
      )}
    </section>
  );
}

/** The figure, without what must be simulated for it until that is there. */
function useWhole(chosen: FigureChoice | undefined) {
  const { state, start, cancel } = useJob("envelope");
  const [drawnFor, setDrawnFor] = useState<FigureChoice>();
  useEffect(() => {
    if (!chosen?.simulated) return;
    setDrawnFor(chosen);
    start(chosen.simulated);
    return cancel;
  }, [chosen, start, cancel]);
  const envelope = state.kind === "done" && drawnFor === chosen ? state : undefined;
  const figure = useMemo(
    () => (envelope && chosen?.makeWith ? chosen.makeWith(envelope.answer) : chosen?.make()),
    [chosen, envelope],
  );
  return { figure, state };
}

function Hardest({
  analysis,
  nameOfRow,
  onPick,
}: {
  analysis: Analysis;
  nameOfRow: (row: number) => string;
  onPick: (row: number) => void;
}) {
  const styles = useSectionStyles();
  const rows = useMemo(
    () =>
      influence(analysis.regression)
        .sort((a, b) => b.distance - a.distance)
        .slice(0, HARDEST),
    [analysis],
  );
  return (
    <ol className={styles.list}>
      {rows.map((pull) => (
        <li key={pull.row}>
          <Button appearance="subtle" size="small" className={styles.entry} onClick={() => onPick(pull.row)}>
            {toText(say`${nameOfRow(pull.row)}: ${pullText(pull)}`)}
          </Button>
        </li>
      ))}
    </ol>
  );
}
