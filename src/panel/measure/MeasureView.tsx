/** The Measure view: how exactly a bend is known, what would make it better, whether a target was beaten. */
import { Button, Checkbox, Field, Input, makeStyles } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { bendUncertainty } from "../../experiment/measure/bendUncertainty";
import {
  budgetOf,
  budgetSheet,
  drawnSentence,
  FIRST_MEASURE,
  inUnits,
  largestSource,
  measureSentences,
  readingsLines,
  readingsOf,
  rowsSentence,
  rowsSheet,
  type MeasureForm,
} from "../../experiment/measure/measureForm";
import { unitOf, type Quantity, type Unit } from "../../experiment/shot/shotSettings";
import type { TrialLog } from "../../experiment/log/trialLog";
import { listOf, significant } from "../../experiment/language/wording";
import type { Port } from "../../workbook/port";
import { NumberField } from "../fields/NumberField";
import { useSectionStyles } from "../frame/styles";
import { UnitsField } from "../fields/UnitsField";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";
import { JobBar } from "../worker/JobBar";
import { useJob } from "../worker/useJob";

interface Props {
  readonly port: Port;
  readonly log: TrialLog | undefined;
  /** As kept with the workbook. */
  readonly kept: MeasureForm | undefined;
  readonly onKeep: (form: MeasureForm) => void;
  readonly onFailure: (text: string | undefined) => void;
}

type NumberName = { [K in keyof MeasureForm]: MeasureForm[K] extends number ? K : never }[keyof MeasureForm];

const PERCENT: Unit = { size: 0.01, name: "%" };
const SOURCES: readonly (readonly [name: NumberName, label: string, quantity: Quantity, low: number, high: number])[] =
  [
    ["ballDiameter", "Ball's diameter", "small", 0.02, 0.1],
    ["ballTolerance", "Ball's diameter, ±", "small", 0, 0.005],
    ["rulerDivision", "Ruler's division", "small", 0, 0.05],
    ["scatter", "Readings scatter, 0: not known", "small", 0, 0.05],
    ["markError", "Near mark, ±", "small", 0, 0.05],
    ["alignmentError", "Sighted line, ±", "small", 0, 0.05],
    ["roundness", "Obstacle's radius, ±", "small", 0, 0.05],
  ];
const CAMERA: typeof SOURCES = [
  ["readHeight", "Read above the ruler by", "small", 0, 0.3],
  ["cameraHeight", "Camera above the ruler", "length", 0.31, 10],
  ["cameraOffset", "Camera off the plumb line", "length", 0, 10],
];

const useStyles = makeStyles({
  fields: {
    display: "grid",
    gridTemplateColumns: "repeat(auto-fit, minmax(130px, 1fr))",
    gap: "8px 12px",
    alignItems: "end",
  },
});

const DRAWS = 400_000;

export function MeasureView({ port, log, kept, onKeep, onFailure }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const form = kept ?? FIRST_MEASURE;
  const { units } = form;
  const change = (part: Partial<MeasureForm>) => onKeep({ ...form, ...part });
  const readings = useMemo(() => readingsOf(form), [form]);
  const result = useMemo(() => {
    if (typeof readings === "string") return undefined;
    const budget = budgetOf(form, readings);
    return { budget, found: bendUncertainty(budget), lines: readingsLines(budget, form.confidence) };
  }, [form, readings]);
  const { busy, done, write } = useWriting(onFailure);
  const job = useJob("bend");
  const [asked, setAsked] = useState<MeasureForm>();
  const drawn = job.state.kind === "done" && asked === form ? job.state.answer : undefined;
  const number = ([name, label, quantity, low, high]: (typeof SOURCES)[number]) => {
    const unit = unitOf(quantity, units);
    const text = `${label} (${unit.name})`;
    return (
      <NumberField
        key={name}
        label={text}
        name={text}
        value={form[name]}
        unit={unit}
        low={low}
        high={high}
        onChange={(value) => change({ [name]: value })}
      />
    );
  };
  const percent = (name: "confidence" | "sure", label: string, low: number) => (
    <NumberField
      label={label}
      name={label}
      value={form[name]}
      unit={PERCENT}
      low={low}
      high={0.9999}
      onChange={(value) => change({ [name]: value })}
    />
  );
  const unit = unitOf("small", units);
  const length = (value: number) => significant(value / unit.size, 2);
  return (
    <div data-view="measure" className={section.stack}>
      <p className={section.note}>
        Everything that may make a measured bend wrong, put together as the guide to uncertainty in measurement does.
        Half-widths (±) are limits within which an error may lie anywhere alike.
      </p>
      <div className={styles.fields}>
        <UnitsField value={units} onChange={(next) => onKeep(inUnits(form, next))} />
        {SOURCES.map(number)}
      </div>
      <Field
        label={`Gap readings of one layout (${unit.name})`}
        validationState={typeof readings === "string" ? "error" : "none"}
        validationMessage={typeof readings === "string" ? readings : undefined}
      >
        <Input value={form.readings} onChange={(_, { value }) => change({ readings: value })} />
      </Field>
      <h2 className={section.subhead}>Parallax</h2>
      <div className={styles.fields}>{CAMERA.map(number)}</div>
      <h2 className={section.subhead}>A target</h2>
      <div className={styles.fields}>
        {number(["target", "Target bend", "small", 0, 0.1])}
        {percent("sure", "Wanted certainty (%)", 0.5001)}
        {percent("confidence", "Confidence of ± (%)", 0.5)}
      </div>
      {result && (
        <>
          <div data-part="measured" aria-live="polite">
            {[...measureSentences(form, result.found), largestSource(result.found)].map(
              (text) =>
                text && (
                  <p key={text} className={section.sentence}>
                    {text}
                  </p>
                ),
            )}
          </div>
          <div className={section.scroll}>
            <table className={section.table} data-part="budget">
              <thead>
                <tr>
                  <th>Source</th>
                  <th className="number">{`Standard uncertainty (${unit.name})`}</th>
                  <th className="number">Share of the variance</th>
                </tr>
              </thead>
              <tbody>
                {result.found.contributions.map(({ name, standard, df }) => (
                  <tr key={name}>
                    <th>{Number.isFinite(df) ? `${name} (${df} degrees of freedom)` : name}</th>
                    <td className="number">{length(standard)}</td>
                    <td className="number">
                      {result.found.standard > 0
                        ? `${Math.round((100 * standard ** 2) / result.found.standard ** 2)} %`
                        : "–"}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          {result.lines.length > 0 ? (
            <div className={section.scroll}>
              <table className={section.table} data-part="more-readings">
                <thead>
                  <tr>
                    <th>If the gap were read</th>
                    <th className="number">{`Standard uncertainty (${unit.name})`}</th>
                    <th className="number">{`± (${unit.name})`}</th>
                  </tr>
                </thead>
                <tbody>
                  {result.lines.map(({ n, standard, expanded }) => (
                    <tr key={n}>
                      <th>{n === 1 ? "once" : `${n} times`}</th>
                      <td className="number">{length(standard)}</td>
                      <td className="number">{length(expanded)}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
              <p className={section.note}>
                With the scatter that these readings show. Repeating lowers only the readings&apos; own part.
              </p>
            </div>
          ) : (
            <p className={section.note}>
              A single reading shows no scatter. Read the gap again, setting the ruler anew each time, to see what
              repeating would bring; or give the scatter known from earlier readings, as Repeat and bendbook repeat find
              it.
            </p>
          )}
          {result.found.standard > 0 && result.found.scatterKnown && (
            <div className={section.stack}>
              {job.state.kind === "running" ? (
                <JobBar doing="Drawing" share={job.state.share} onCancel={job.cancel} />
              ) : (
                <Button
                  onClick={() => {
                    setAsked(form);
                    job.start({
                      budget: result.budget,
                      options: { draws: DRAWS, seed: form.seed, confidence: form.confidence },
                    });
                  }}
                >{`Check by ${DRAWS.toLocaleString("en")} draws`}</Button>
              )}
              {drawn && (
                <p className={section.sentence} role="status" data-part="drawn">
                  {drawnSentence(form, result.found, drawn)}
                </p>
              )}
              {job.state.kind === "failed" && <Warning text={`The draws were not made: ${job.state.message}.`} />}
            </div>
          )}
          <Button
            appearance="primary"
            disabled={busy}
            onClick={() =>
              write(
                "The budget was not written",
                async () =>
                  `Written to the new sheet "${await port.addSheet(budgetSheet(form, result.budget, result.found, drawn))}". No other cell was touched.`,
              )
            }
          >
            Write the budget to a sheet
          </Button>
        </>
      )}
      {log && <AllRows port={port} log={log} form={form} busy={busy} write={write} />}
      <div role="status">{done}</div>
    </div>
  );
}

function AllRows({
  port,
  log,
  form,
  busy,
  write,
}: {
  port: Port;
  log: TrialLog;
  form: MeasureForm;
  busy: boolean;
  write: ReturnType<typeof useWriting>["write"];
}) {
  const section = useSectionStyles();
  const headed = log.columns.filter(({ meaning }) => meaning === "gap");
  const gaps = headed.filter(({ kind }) => kind !== "empty").map(({ heading }) => heading.text);
  const [chosen, setChosen] = useState<readonly string[]>();
  const columns = (chosen ?? gaps.filter((heading) => /^gap\b/i.test(heading))).filter((heading) =>
    gaps.includes(heading),
  );
  if (gaps.length === 0)
    return (
      <p className={section.note}>
        {headed.length > 0
          ? `No gap stands under ${listOf(headed.map(({ heading }) => heading.text))} of ${log.sheet} yet; once there is one, every bend gets its budget here.`
          : `The log of ${log.sheet} has no column of gaps, so its bends have no budget here.`}
      </p>
    );
  return (
    <div className={section.stack} role="group" aria-label="Every bend of the log">
      <h2 className={section.subhead}>{`Every bend of ${log.sheet}`}</h2>
      <p className={section.note}>
        The same budget for each row, with its own gaps. Several columns of gaps in one row are repeated readings.
      </p>
      {gaps.map((heading) => (
        <Checkbox
          key={heading}
          label={heading}
          checked={columns.includes(heading)}
          onChange={(_, { checked }) =>
            setChosen(checked ? [...columns, heading] : columns.filter((one) => one !== heading))
          }
        />
      ))}
      <Button
        disabled={busy || columns.length === 0}
        onClick={() =>
          write("The uncertainties were not written", async () => {
            const made = rowsSheet(log, columns, form);
            return rowsSentence(made, await port.addSheet(made.sheet));
          })
        }
      >
        Write every bend with its uncertainty
      </Button>
    </div>
  );
}
