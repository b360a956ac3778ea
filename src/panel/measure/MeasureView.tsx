/** The Measure view: how exactly a bend is known, what would make it better, whether a target was beaten. */
import { say, toText, joinTexts } from "../../experiment/language/said";
import { Button } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { bendUncertainty, type BendBudget, type BendUncertainty } from "../../experiment/measure/bendUncertainty";
import { layoutProblem, type LayoutForm } from "../../experiment/layout/layoutForm";
import { laidShot } from "../../experiment/layout/layoutCheck";
import {
  budgetOf,
  budgetSheet,
  drawnSentence,
  FIRST_MEASURE,
  largestSource,
  measureSentences,
  readingsOf,
  type MeasureForm,
} from "../../experiment/measure/measureForm";
import { lastReadings } from "../../experiment/measure/lastReadings";
import type { TrialLog } from "../../experiment/log/trialLog";
import { shownLength } from "../../experiment/shot/findingWords";
import type { Port } from "../../workbook/port";
import type { ThemeName } from "../frame/palette";
import { Fold } from "../frame/Fold";
import { useSectionStyles } from "../frame/styles";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";
import { JobBar } from "../worker/JobBar";
import { useJob } from "../worker/useJob";
import { AllRows } from "./AllRows";
import { BudgetTables } from "./BudgetTables";
import { MeasureFields } from "./MeasureFields";
import { MeasurePicture } from "./MeasurePicture";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly log: TrialLog | undefined;
  /** As kept with the workbook. */
  readonly kept: MeasureForm | undefined;
  /** Whether nobody has changed anything here yet. */
  readonly untyped: boolean;
  readonly onKeep: (form: MeasureForm) => void;
  /** Whose departure gate can be taken over. */
  readonly layout: LayoutForm;
  readonly onFailure: (text: string | undefined) => void;
}

export function MeasureView({ port, theme, log, kept, untyped, onKeep, layout, onFailure }: Props) {
  const section = useSectionStyles();
  const last = useMemo(() => (log && kept ? lastReadings(log, kept.units) : undefined), [log, kept]);
  // Until somebody types, the readings are those of the last shot, and never made up where there is one.
  const form = useMemo(
    () => ({ ...(kept ?? FIRST_MEASURE), ...(untyped && last && { readings: last.text }) }),
    [kept, untyped, last],
  );
  const change = (part: Partial<MeasureForm>) => onKeep({ ...form, ...part });
  const readings = useMemo(() => readingsOf(form), [form]);
  const result = useMemo(() => {
    if (typeof readings === "string") return undefined;
    const budget = budgetOf(form, readings);
    return { budget, found: bendUncertainty(budget) };
  }, [form, readings]);
  const writing = useWriting(onFailure);
  const sentences = result
    ? [...measureSentences(form, result.found), largestSource(result.found)].filter((text) => text !== undefined)
    : [];
  const [line, ...more] = sentences;
  return (
    <div data-view="measure" className={section.stack}>
      {line !== undefined && result && (
        <div data-part="measured" aria-live="polite">
          <p className={section.line}>{toText(line)}</p>
          <MeasurePicture form={form} found={result.found} theme={theme} label={toText(joinTexts(sentences, " "))} />
          {more.map((text) => (
            <p key={toText(text)} className={section.sentence}>
              {toText(text)}
            </p>
          ))}
        </div>
      )}
      {untyped && (
        <p className={section.note} data-part="from">
          {last && log
            ? `The gap is that of row ${last.row + 1} of ${log.sheet}; ball, obstacle, ruler and target are those of the set-up.`
            : "No gap is in the workbook yet: the readings are an example. Type your own."}
        </p>
      )}
      <MeasureFields form={form} readings={readings} onChange={change} />
      <TakeGate form={form} layout={layout} onChange={change} />
      {result && <Result form={form} {...result} port={port} writing={writing} />}
      {log && <AllRows port={port} log={log} form={form} busy={writing.busy} write={writing.write} />}
      <div role="status">{writing.done}</div>
      <Fold title="Why?" standing="what ± stands for, and where it comes from" part="why">
        <p className={section.note}>
          Everything that may make a measured bend wrong, put together as the guide to uncertainty in measurement does.
          Half-widths (±) are limits within which an error may lie anywhere alike. Ball, obstacle, ruler and target
          stand in the set-up.
        </p>
      </Fold>
    </div>
  );
}

interface GateProps {
  readonly form: MeasureForm;
  readonly layout: LayoutForm;
  readonly onChange: (part: Partial<MeasureForm>) => void;
}

/** What the departure gate of the layout takes off R − gap. */
function TakeGate({ form, layout, onChange }: GateProps) {
  const section = useSectionStyles();
  const correction = useMemo(
    () => (layoutProblem(layout) === undefined ? laidShot(layout).gated.correction : form.gateCorrection),
    [layout, form.gateCorrection],
  );
  if (Math.abs(correction - form.gateCorrection) < 5e-6) return null;
  const said = shownLength(Math.abs(correction), form.units);
  return (
    <div>
      <p className={section.note}>
        {toText(
          say`The departure gate of the Layout view ${correction < 0 ? "adds" : "takes off"} ${said}; here ${shownLength(form.gateCorrection, form.units)} is counted.`,
        )}
      </p>
      <Button size="small" onClick={() => onChange({ gateCorrection: correction })}>
        Take the layout&apos;s gate
      </Button>
    </div>
  );
}

const DRAWS = 400_000;

interface ResultProps {
  readonly form: MeasureForm;
  readonly budget: BendBudget;
  readonly found: BendUncertainty;
  readonly port: Port;
  readonly writing: ReturnType<typeof useWriting>;
}

/** Tables, draws, and the budget as a sheet. */
function Result({ form, budget, found, port, writing: { busy, write } }: ResultProps) {
  const section = useSectionStyles();
  const job = useJob("bend");
  const [asked, setAsked] = useState<MeasureForm>();
  const drawn = job.state.kind === "done" && asked === form ? job.state.answer : undefined;
  const draw = () => {
    setAsked(form);
    job.start({ budget, options: { draws: DRAWS, seed: form.seed, confidence: form.confidence } });
  };
  const toSheet = () =>
    write(
      "The budget was not written",
      async () =>
        `Written to the new sheet "${await port.addSheet(budgetSheet(form, budget, found, drawn))}". No other cell was touched.`,
    );
  return (
    <>
      <BudgetTables form={form} budget={budget} found={found} />
      {found.standard > 0 && found.scatterKnown && (
        <div className={section.stack}>
          {job.state.kind === "running" ? (
            <JobBar doing="Drawing" share={job.state.share} onCancel={job.cancel} />
          ) : (
            <Button onClick={draw}>{`Check by ${DRAWS.toLocaleString("en")} draws`}</Button>
          )}
          {drawn && (
            <p className={section.sentence} role="status" data-part="drawn">
              {toText(drawnSentence(form, found, drawn))}
            </p>
          )}
          {job.state.kind === "failed" && <Warning text={`The draws were not made: ${job.state.message}.`} />}
        </div>
      )}
      <Button appearance="primary" disabled={busy} onClick={toSheet}>
        Write the budget to a sheet
      </Button>
    </>
  );
}
