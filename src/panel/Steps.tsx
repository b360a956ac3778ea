/** The analysis in steps, from the rows to what is kept of the answer; a step shows when there is something for it. */
import { Accordion } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { counted, significant } from "../experiment/language/wording";
import { logName } from "../experiment/log/trialLog";
import type { Analysis } from "../experiment/question/analysis";
import type { Port, SheetData } from "../workbook/port";
import type { ThemeName } from "./frame/palette";
import { selectCells } from "./frame/selectCells";
import { Trouble } from "./frame/Trouble";
import type { PanelState } from "./frame/usePanel";
import type { PanelView } from "./frame/view";
import { figureChoices } from "./plots/figureChoices";
import { useReach, type ReachState } from "./attempts/useReach";
import { AnswerSection } from "./question/AnswerSection";
import { LookSection } from "./question/LookSection";
import { Step } from "./fields/Step";
import { inside } from "./laterSteps";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly state: PanelState;
  onFailure(text: string | undefined): void;
}

/** What each step is given: the panel's state once the sheet is read. */
interface StepProps extends Props {
  readonly view: PanelView;
  readonly data: SheetData;
  /** How far it bends, where that is asked. */
  readonly reach: ReachState | undefined;
  /** Selects cells of a row of the sheet. */
  onSelect(row: number, column: number, columns?: number): void;
  /** Selects the row of the log that a shot of the answer stands in. */
  onPick(index: number): void;
}

export function Steps(props: Props) {
  const [open, setOpen] = useState<string[]>(["answer", "look"]);
  const { port, state, onFailure } = props;
  const { view, data } = state;
  const reach = useReach(view?.reachAsked);
  if (!view || !data) return null;

  const onSelect = (row: number, column: number, columns = 1) =>
    selectCells(port, data.sheet, { row, column, rows: 1, columns }, onFailure);
  const onPick = (index: number) => {
    const row = sheetRowsOf(view)[index];
    if (!view.log || row === undefined) return;
    const columns = view.log.columns.map(({ column }) => column);
    const first = Math.min(...columns);
    onSelect(row, first, Math.max(...columns) - first + 1);
  };
  const step = { ...props, view, data, reach, onSelect, onPick };
  return (
    <>
      {view.problem && <Trouble text={view.problem} />}
      <Accordion multiple collapsible openItems={open} onToggle={(_, { openItems }) => setOpen(openItems as string[])}>
        <RowsStep {...step} />
        <CheckStep {...step} />
        <QuestionStep {...step} />
        <AnswerStep {...step} />
        <LookStep {...step} />
        <TrustStep {...step} />
        <ChangesStep {...step} />
        <KeepStep {...step} />
      </Accordion>
    </>
  );
}

/** The sheet's row of each shot or attempt that the answer uses. */
function sheetRowsOf({ analysis, made, reachAsked }: PanelView): readonly number[] {
  const attempts = reachAsked?.attempts;
  const ofAttempts = attempts?.rows.flatMap(({ index }) => attempts.log.rows[index] ?? []);
  return (analysis ?? made)?.sheetRows ?? ofAttempts ?? [];
}

function RowsStep({ state, view, data }: StepProps) {
  return (
    <Step id="rows" title="Choose rows" standing={view.log ? logName(view.log) : data.sheet}>
      <inside.rows {...state} />
    </Step>
  );
}

function CheckStep({ view: { log, check, choice }, onSelect }: StepProps) {
  if (!log || !check) return null;
  const { used, leftOut, suspicious } = check;
  const standing = `${used.length} used, ${leftOut.length} left out, ${suspicious.length} to look at`;
  return (
    <Step id="check" title="Check rows" standing={standing}>
      <inside.check log={log} check={check} confidence={choice?.confidence ?? 0.95} onSelect={onSelect} />
    </Step>
  );
}

function QuestionStep({ state: { settings, change }, view, data }: StepProps) {
  const { log } = view;
  if (!log || log.rows.length === 0) return null;
  return (
    <Step id="question" title="Choose a question" standing={questionStanding(view)}>
      <inside.question
        log={log}
        view={view}
        twice={settings.twice ?? NOWHERE}
        onChange={(next) => change({ sheet: data.sheet, ...next })}
      >
        {view.ask === "reach" && view.reaches && (
          <inside.reachQuestion
            log={log}
            choice={view.reaches}
            missing={view.missing}
            onChange={(reach) => change({ sheet: data.sheet, reach })}
          />
        )}
      </inside.question>
    </Step>
  );
}

/** The question in one line. */
function questionStanding({ ask, choice: explains, makes, compare, reaches }: PanelView): string {
  if (ask === "reach")
    return reaches ? `how far it bends, by ${reaches.position.heading} and ${reaches.outcome}` : "no attempts";
  const choice = ask === "made" ? makes : explains;
  if (ask === "compare")
    return compare ? `${compare.response} among the levels of ${compare.among}` : "nothing to compare";
  return choice
    ? `${choice.response} against ${choice.drivers.map(({ heading }) => heading).join(", ") || "nothing yet"}`
    : "nothing that can be asked";
}

function AnswerStep({ state: { settings, change }, view, reach }: StepProps) {
  const { analysis, comparison, made, reaches, aware, madeSessions, order } = view;
  const plain = {
    plainFirst: settings.plainFirst === true,
    onPlainFirst: (plainFirst: boolean) => change({ plainFirst }),
  };
  if (comparison) {
    const pairs = counted(comparison.comparison.pairs.length, "pair");
    return (
      <Step id="answer" title="Read the answer" standing={`${pairs} of ${comparison.among}`}>
        <inside.compare answer={comparison} aware={aware} {...plain} />
      </Step>
    );
  }
  if (analysis) {
    return (
      <Step id="answer" title="Read the answer" standing={answerStanding(analysis)}>
        <AnswerSection
          analysis={analysis}
          aware={aware}
          order={order}
          twice={settings.twice ?? NOWHERE}
          {...plain}
          at={settings.at ?? NOWHERE}
          onAt={(at) => change({ at })}
        />
      </Step>
    );
  }
  if (reach && reaches) {
    const { cleared, hit, measured } = reach.asked.attempts.counts;
    return (
      <Step id="answer" title="Read the answer" standing={`${cleared} got by, ${hit} hit, ${measured} measured`}>
        <inside.reach reach={reach} choice={reaches} onChange={(next) => change({ reach: next })} />
      </Step>
    );
  }
  if (!made) return null;
  const shots = counted(made.logistic.rows, "shot");
  return (
    <Step id="answer" title="Read the answer" standing={`${made.logistic.made} of ${shots} made`}>
      <inside.made
        made={made}
        sessions={madeSessions}
        order={order}
        {...plain}
        at={settings.madeAt ?? NOWHERE}
        onAt={(madeAt) => change({ madeAt })}
      />
    </Step>
  );
}

function answerStanding({ choice, regression: { residual, rSquared } }: Analysis): string {
  if (residual.sd === null) return "no rows left over to judge it by";
  if (rSquared === null || rSquared === undefined) return "no variation to explain";
  return `${significant(100 * rSquared, 3)} % of the variation${choice.constant ? "" : " about 0"} explained`;
}

function LookStep({ theme, view, reach, onPick, onFailure }: StepProps) {
  // Only the answer to what is asked now is drawn: its points are rows of the sheet.
  const drawn = reach?.stale ? undefined : reach?.shown;
  const choices = useMemo(() => figureChoices({ ...view, ...(drawn && { reach: drawn }) }), [view, drawn]);
  const sheetRows = useMemo(() => sheetRowsOf(view), [view]);
  if (!choices) return null;
  return (
    <Step id="look" title="Look" standing="plots; a click on a point selects its row">
      <LookSection
        choices={choices}
        sheetRows={sheetRows}
        analysis={view.analysis}
        theme={theme}
        onPick={onPick}
        onFailure={onFailure}
      />
    </Step>
  );
}

function TrustStep({ view: { analysis, made, order }, onPick }: StepProps) {
  if (analysis) {
    return (
      <Step id="trust" title="Trust the answer" standing="checks, rows that pull hardest, intervals drawn anew">
        <inside.trust analysis={analysis} order={order} onPick={onPick} />
      </Step>
    );
  }
  if (!made) return null;
  return (
    <Step id="trust" title="Trust the answer" standing="enough shots, a curve that fits, shots left out">
      <inside.madeTrust made={made} order={order} />
    </Step>
  );
}

function ChangesStep({ view: { analysis, made } }: StepProps) {
  const of = made ? { made } : analysis && { analysis };
  if (!of) return null;
  return (
    <Step id="changes" title="What each choice changed" standing="the effects with every choice made otherwise">
      <inside.changes of={of} />
    </Step>
  );
}

function KeepStep({ port, state: { settings }, view, onFailure }: StepProps) {
  if (!view.made && !view.analysis) return null;
  return (
    <Step id="keep" title="Keep" standing="write the results as a sheet">
      <inside.keep port={port} view={view} at={settings.madeAt ?? NOWHERE} onFailure={onFailure} />
    </Step>
  );
}

/** Nothing typed or chosen by heading, such as settings: the middle of the rows. */
const NOWHERE = {};
