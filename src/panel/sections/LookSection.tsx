/** Look: the plots, one at a time, and the rows that pull hardest as a list. May import: panel/, experiment/, statistics/. */
import { Button, Dropdown, Field, Option } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import type { Analysis } from "../../experiment/analysis";
import { significant } from "../../experiment/wording";
import { influence } from "../../statistics/influence";
import { figures } from "../plots/figures";
import { FigureView } from "../plots/FigureView";
import type { ThemeName } from "../plots/palette";
import { useSectionStyles } from "./styles";

interface Props {
  readonly analysis: Analysis;
  readonly theme: ThemeName;
  /** Selects the row, by its index among the rows used. */
  readonly onPick: (row: number) => void;
  readonly onFailure: (text: string) => void;
}

const HARDEST = 8;

export function LookSection({ analysis, theme, onPick, onFailure }: Props) {
  const styles = useSectionStyles();
  const all = useMemo(() => figures(analysis), [analysis]);
  const [wanted, setWanted] = useState<string>();
  const chosen = all.find(({ id }) => id === wanted) ?? all[0];
  const figure = useMemo(() => chosen.make(), [chosen]);
  const nameOfRow = (row: number) => `row ${analysis.sheetRows[row] + 1}`;
  return (
    <div className={styles.stack}>
      <Field label="Plot">
        <Dropdown value={figure.title} selectedOptions={[figure.id]} onOptionSelect={(_, { optionValue }) => setWanted(optionValue)}>
          {all.map(({ id, title }) => <Option key={id} value={id}>{title}</Option>)}
        </Dropdown>
      </Field>
      <FigureView figure={figure} theme={theme} nameOfRow={nameOfRow} onPick={onPick} onFailure={onFailure} />
      {figure.id === "pull" && <Hardest analysis={analysis} nameOfRow={nameOfRow} onPick={onPick} />}
    </div>
  );
}

function Hardest({ analysis, nameOfRow, onPick }: { analysis: Analysis; nameOfRow: (row: number) => string; onPick: (row: number) => void }) {
  const styles = useSectionStyles();
  const rows = useMemo(() => influence(analysis.regression).sort((a, b) => b.distance - a.distance).slice(0, HARDEST), [analysis]);
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
