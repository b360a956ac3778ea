/** Look: the plots, one at a time, and the rows that pull hardest as a list. */
import { Button, Dropdown, Field, Option } from "@fluentui/react-components";
import { useEffect, useMemo, useState } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import { significant } from "../../experiment/language/wording";
import { influence } from "../../statistics/checks/influence";
import type { FigureChoice } from "../plots/figures";
import { FigureView } from "../plots/FigureView";
import type { ThemeName } from "../frame/palette";
import { useJob } from "../worker/useJob";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly choices: readonly FigureChoice[];
  /** Sheet rows of the points, by the index that they carry. */
  readonly sheetRows: readonly number[];
  /** For the list of the rows that pull hardest. */
  readonly analysis: Analysis | undefined;
  readonly theme: ThemeName;
  /** Selects the row, by its index among the rows used. */
  readonly onPick: (row: number) => void;
  readonly onFailure: (text: string | undefined) => void;
}

const HARDEST = 8;

export function LookSection({ choices, sheetRows, analysis, theme, onPick, onFailure }: Props) {
  const styles = useSectionStyles();
  const [wanted, setWanted] = useState<string>();
  const chosen = choices.find(({ id }) => id === wanted) ?? choices[0];
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
  if (!figure) return <p className={styles.note}>There is nothing to draw without a driver.</p>;
  const nameOfRow = (row: number) => `row ${(sheetRows[row] ?? NaN) + 1}`;
  return (
    <div className={styles.stack}>
      <Field label="Plot">
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
      <FigureView figure={figure} theme={theme} nameOfRow={nameOfRow} onPick={onPick} onFailure={onFailure} />
      {state.kind === "running" && chosen?.simulated && (
        <p className={styles.note}>The simulated envelope is being drawn.</p>
      )}
      {state.kind === "failed" && <p className={styles.note}>{`The envelope was not drawn: ${state.message}.`}</p>}
      {analysis && figure.id === "pull" && <Hardest analysis={analysis} nameOfRow={nameOfRow} onPick={onPick} />}
    </div>
  );
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
      {rows.map(({ row, distance, studentised }) => (
        <li key={row}>
          <Button appearance="subtle" size="small" className={styles.entry} onClick={() => onPick(row)}>
            {`${nameOfRow(row)}: ${Number.isFinite(distance) ? `Cook's distance ${significant(distance, 2)}` : "alone determines a coefficient"}${studentised === null ? "" : `, residual ${significant(studentised, 2)} of its standard errors`}`}
          </Button>
        </li>
      ))}
    </ol>
  );
}
