/**
 * The analysis: the answer as a picture and one line, then in steps what can be changed, why it is so, and what is kept
 * of it; a step shows when there is something for it.
 */
import { say, toText } from "../experiment/language/said";
import { Accordion } from "@fluentui/react-components";
import { useMemo, type ReactNode } from "react";
import { counted, significant } from "../experiment/language/wording";
import { logName } from "../experiment/log/trialLog";
import type { Analysis } from "../experiment/question/analysis";
import type { Port, SheetData } from "../workbook/port";
import type { ThemeName } from "./frame/palette";
import { saidFirst } from "./frame/saidFirst";
import { selectCells } from "./frame/selectCells";
import { Trouble } from "./frame/Trouble";
import type { PanelState } from "./frame/usePanel";
import type { PanelView } from "./frame/view";
import { figureChoices } from "./plots/figureChoices";
import { useReach, type ReachState } from "./attempts/useReach";
import { AnswerPicture } from "./question/AnswerPicture";
import { ReachProgress } from "./attempts/ReachProgress";
import { Step } from "./fields/Step";
import { inside } from "./laterSteps";

/** The names of the steps that are open, and how to open others. */
export type OpenSteps = readonly [open: readonly string[], setOpen: (open: readonly string[]) => void];

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly state: PanelState;
  readonly open: OpenSteps;
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
  const { port, state, onFailure } = props;
  const [open, setOpen] = props.open;
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
      {reach && <ReachProgress reach={reach} />}
      <AnswerInFront {...step} />
      <Accordion
        multiple
        collapsible
        openItems={[...open]}
        onToggle={(_, { openItems }) => setOpen(openItems as string[])}
      >
        <RowsStep {...step} />
        <CheckStep {...step} />
        <QuestionStep {...step} />
        <AtStep {...step} />
        <WhyStep {...step} />
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

function WhyStep({ state: { settings, change }, view, reach }: StepProps) {
  const { analysis, comparison, made, aware, madeSessions, order } = view;
  const plain = {
    plainFirst: settings.plainFirst === true,
    onPlainFirst: (plainFirst: boolean) => change({ plainFirst }),
  };
  const why = (standing: string, content: ReactNode) => (
    <Step id="answer" title="Why?" standing={standing}>
      {content}
    </Step>
  );
  if (comparison) {
    const pairs = counted(comparison.comparison.pairs.length, "pair");
    return why(`${pairs} of ${comparison.among}`, <inside.compare answer={comparison} aware={aware} {...plain} />);
  }
  if (analysis)
    return why(
      answerStanding(analysis),
      <inside.answer analysis={analysis} aware={aware} order={order} twice={settings.twice ?? NOWHERE} {...plain} />,
    );
  if (reach?.shown) {
    const { cleared, hit, measured } = reach.asked.attempts.counts;
    return why(
      `${cleared} got by, ${hit} hit, ${measured} measured`,
      <inside.reach asked={reach.asked} shown={reach.shown} />,
    );
  }
  if (!made) return null;
  const shots = counted(made.logistic.rows, "shot");
  return why(
    `${made.logistic.made} of ${shots} made`,
    <inside.made made={made} sessions={madeSessions} order={order} {...plain} />,
  );
}

/** Settings at which the same is asked. */
function AtStep({ state: { settings, change }, view, reach }: StepProps) {
  const { analysis, comparison, made, reaches } = view;
  const at = (standing: string, content: ReactNode) => (
    <Step id="at" title="At settings of yours" standing={standing}>
      {content}
    </Step>
  );
  if (analysis && !comparison && analysis.columns.length > 0)
    return at(
      "the mean, and a single shot there",
      <inside.at analysis={analysis} at={settings.at ?? NOWHERE} onAt={(next) => change({ at: next })} />,
    );
  if (made && made.columns.length > 0)
    return at(
      "the success rate there",
      <inside.rateAt made={made} at={settings.madeAt ?? NOWHERE} onAt={(madeAt) => change({ madeAt })} />,
    );
  if (reach && reaches)
    return at(
      "and how likely a target is",
      <inside.reachAt asked={reach.asked} choice={reaches} onChange={(next) => change({ reach: next })} />,
    );
  return null;
}

function answerStanding({ choice, regression: { residual, rSquared } }: Analysis): string {
  if (residual.sd === null) return "no rows left over to judge it by";
  if (rSquared === null || rSquared === undefined) return "no variation to explain";
  return toText(
    say`${significant(100 * rSquared, 3)} % of the variation${choice.constant ? "" : " about 0"} explained`,
  );
}

function AnswerInFront({ state: { settings }, theme, view, reach, onPick }: StepProps) {
  const plainFirst = settings.plainFirst === true;
  // Only the answer to what is asked now is drawn: its points are rows of the sheet.
  const drawn = reach?.stale ? undefined : reach?.shown;
  const choices = useMemo(() => figureChoices({ ...view, ...(drawn && { reach: drawn }) }), [view, drawn]);
  const sheetRows = useMemo(() => sheetRowsOf(view), [view]);
  const { line, by } = useMemo(
    () => saidFirst(view, plainFirst, reach?.shown?.sentences),
    [view, plainFirst, reach?.shown?.sentences],
  );
  if (!choices) return line === "" ? null : <p data-part="line">{toText(line)}</p>;
  return (
    <AnswerPicture
      line={toText(line)}
      by={toText(by)}
      choices={choices}
      sheetRows={sheetRows}
      analysis={view.analysis}
      theme={theme}
      onPick={onPick}
    />
  );
}

function TrustStep({ theme, view: { analysis, made, order }, onPick }: StepProps) {
  if (analysis) {
    return (
      <Step id="trust" title="Trust the answer" standing="checks, rows that pull hardest, intervals drawn anew">
        <inside.trust analysis={analysis} order={order} onPick={onPick} theme={theme} />
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

function ChangesStep({ theme, view: { analysis, made } }: StepProps) {
  const of = made ? { made } : analysis && { analysis };
  if (!of) return null;
  return (
    <Step id="changes" title="What each choice changed" standing="the effects with every choice made otherwise">
      <inside.changes of={of} theme={theme} />
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
