/** The Next view: which setting to shoot next, within limits and at what is set up now. */
import { Button, Checkbox, Dropdown, Field, makeStyles, Option } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import type { ReachAsked } from "../frame/view";
import { NextOfAttempts } from "./NextOfAttempts";
import { NoAnswer } from "../../experiment/question/analysis";
import type { Choice } from "../../experiment/question/choice";
import { parseHeading } from "../../experiment/log/header";
import {
  basisSentences,
  nextSheet,
  proposalSentence,
  PROPOSAL_TITLES,
  type NextForm,
  type ProposalName,
} from "../../experiment/next/nextWords";
import { levelOf } from "../../experiment/log/reading";
import { UnknownColumn } from "../../experiment/question/rowCheck";
import { DEFAULT_SHOT, type ShotSettings } from "../../experiment/shot/shotSettings";
import type { TrialLog } from "../../experiment/log/trialLog";
import { capital } from "../../experiment/language/wording";
import { firstNext, whatNext, type WhatNext } from "../../experiment/next/whatNext";
import { extent } from "../../statistics/numeric/extent";
import type { Port } from "../../workbook/port";
import { NumberField } from "../fields/NumberField";
import { useSectionStyles } from "../frame/styles";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";
import { there } from "../../there";

interface Props {
  readonly port: Port;
  readonly log: TrialLog | undefined;
  /** The question of the Analysis view. */
  readonly choice: Choice | undefined;
  /** How far it bends, where the Analysis view asks that of a log of attempts. */
  readonly reach: ReachAsked | undefined;
  /** Whether the plain fit is read where sessions would count. */
  readonly plainFirst: boolean;
  readonly shot: ShotSettings | undefined;
  /** As kept with the workbook. */
  readonly kept: NextForm | undefined;
  readonly onKeep: (form: NextForm) => void;
  readonly onFailure: (text: string | undefined) => void;
}

const AIMS = { most: "the most", least: "the least" } as const;
const ORDER: readonly ProposalName[] = ["highest", "trade", "teaching"];

const useStyles = makeStyles({
  limits: {
    display: "grid",
    gridTemplateColumns: "minmax(0, 1.2fr) minmax(0, 1fr) minmax(0, 1fr)",
    gap: "6px 8px",
    alignItems: "center",
  },
  proposal: { borderLeft: "3px solid currentColor", paddingLeft: "10px" },
});

export function NextView(props: Props) {
  const { port, log, choice, reach, plainFirst, shot = DEFAULT_SHOT, kept, onKeep, onFailure } = props;
  const section = useSectionStyles();
  const form = useMemo(() => (log && choice ? merged(log, choice, kept) : undefined), [log, choice, kept]);
  const [found, setFound] = useState<{
    readonly of: NextForm;
    readonly log: TrialLog;
    readonly next: WhatNext | string;
  }>();
  const { busy, done, write } = useWriting(onFailure);
  if (reach) return <NextOfAttempts asked={reach} />;
  if (!log || !choice || !form)
    return (
      <p className={section.note}>
        No question with an answer is at hand. Choose rows and a question in the Analysis view, then come back.
      </p>
    );
  const change = (part: Partial<NextForm>) => onKeep({ ...form, ...part });
  const look = () => setFound({ of: form, log, next: looked(log, choice, form, shot, plainFirst) });
  const current = found && found.log === log ? found : undefined;
  const stale = current !== undefined && JSON.stringify(current.of) !== JSON.stringify(form);
  return (
    <div data-view="next" className={section.stack}>
      <p
        className={section.note}
      >{`From the rows so far: where ${choice.response} is predicted to be highest, where a shot would teach most, and the best trade between the two. The question is that of the Analysis view.`}</p>
      <Field label={`${choice.response}: look for`}>
        <Dropdown
          value={AIMS[form.aim]}
          selectedOptions={[form.aim]}
          onOptionSelect={(_, { optionValue }) => optionValue && change({ aim: optionValue as NextForm["aim"] })}
        >
          {(["most", "least"] as const).map((aim) => (
            <Option key={aim} value={aim}>
              {AIMS[aim]}
            </Option>
          ))}
        </Dropdown>
      </Field>
      <Drivers log={log} choice={choice} form={form} onChange={change} />
      <Checkbox
        label="Begin from the shot model with the constants of the Shot view (calibrate them first)"
        checked={form.physics}
        onChange={(_, { checked }) => change({ physics: checked === true })}
      />
      <Button appearance="primary" onClick={look}>
        Look for the next shots
      </Button>
      {current && typeof current.next === "string" && <Warning text={current.next} />}
      {current && typeof current.next !== "string" && (
        <div className={section.stack} data-part="proposals" role="status">
          {stale && <p className={section.note}>The limits or what is set up have changed since: look again.</p>}
          {basisSentences(current.next).map((text) => (
            <p key={text} className={section.sentence}>
              {text}
            </p>
          ))}
          {ORDER.map(
            (name) =>
              current.next &&
              typeof current.next !== "string" &&
              current.next[name] && <Told key={name} name={name} next={current.next} />,
          )}
          <NumberField
            name="Shots of each"
            value={form.repeats}
            unit={{ size: 1, name: "" }}
            low={1}
            high={50}
            onChange={(repeats) =>
              Number.isInteger(repeats) ? change({ repeats }) : "Shots of each: give a whole number."
            }
          />
          <Button
            disabled={busy}
            onClick={() =>
              write(
                "The next shots were not written",
                async () =>
                  `Written to the new sheet "${await port.addSheet(nextSheet(current.next as WhatNext, form.repeats, measuredOf(log)))}". No other cell was touched.`,
              )
            }
          >
            Write them as rows to shoot
          </Button>
        </div>
      )}
      <div role="status">{done}</div>
    </div>
  );
}

function Told({ name, next }: { name: ProposalName; next: WhatNext }) {
  const styles = useStyles();
  const section = useSectionStyles();
  return (
    <p className={`${section.sentence} ${styles.proposal}`} data-proposal={name} aria-label={PROPOSAL_TITLES[name]}>
      {proposalSentence(name, there(next[name], "the proposal"), next)}
    </p>
  );
}

/** Every driver: whether it may change and within which limits, or what it is now. */
function Drivers({
  log,
  choice,
  form,
  onChange,
}: {
  log: TrialLog;
  choice: Choice;
  form: NextForm;
  onChange: (part: Partial<NextForm>) => void;
}) {
  const styles = useStyles();
  const section = useSectionStyles();
  const first = useMemo(() => firstNext(log, choice), [log, choice]);
  return (
    <div className={section.stack} role="group" aria-label="What may change">
      <div className={styles.limits}>
        <span className={section.note}>May change</span>
        <span className={section.note}>from, or now</span>
        <span className={section.note}>to</span>
        {choice.drivers.map(({ heading, as }) => {
          const unit = { size: 1, name: parseHeading(heading).unit };
          const side = form.limits[heading];
          const now = form.held[heading];
          const free = (checked: boolean) => {
            const { [heading]: _side, ...limits } = form.limits;
            const { [heading]: _now, ...held } = form.held;
            const last =
              first.limits[heading] ??
              extent(
                (log.columns.find((one) => one.heading.text === heading)?.readings ?? []).flatMap((reading) =>
                  reading.kind === "number" ? [reading.value] : [],
                ),
              );
            onChange(
              checked
                ? { limits: { ...limits, [heading]: last }, held }
                : { limits, held: { ...held, [heading]: (last.low + last.high) / 2 } },
            );
          };
          if (as === "category") {
            const column = log.columns.find((one) => one.heading.text === heading);
            const levels = [...new Set((column?.readings ?? []).map(levelOf).filter((text) => text !== ""))];
            return [
              <span key={`${heading} name`}>{heading}</span>,
              <Dropdown
                key={heading}
                aria-label={`${heading} now`}
                style={{ minWidth: 0, gridColumn: "span 2" }}
                value={String(now ?? "")}
                selectedOptions={[String(now ?? "")]}
                onOptionSelect={(_, { optionValue }) =>
                  optionValue && onChange({ held: { ...form.held, [heading]: optionValue } })
                }
              >
                {levels.map((level) => (
                  <Option key={level} value={level}>
                    {level}
                  </Option>
                ))}
              </Dropdown>,
            ];
          }
          const number = (name: string, value: number, take: (value: number) => void) => (
            <NumberField
              key={`${heading} ${name}`}
              unlabelled
              name={`${heading} ${name}`}
              value={value}
              unit={unit}
              low={-1e9}
              high={1e9}
              onChange={take}
            />
          );
          return [
            <Checkbox
              key={heading}
              label={heading}
              checked={side !== undefined}
              onChange={(_, { checked }) => free(checked === true)}
            />,
            ...(side
              ? [
                  number("from", side.low, (low) =>
                    onChange({ limits: { ...form.limits, [heading]: { ...side, low } } }),
                  ),
                  number("to", side.high, (high) =>
                    onChange({ limits: { ...form.limits, [heading]: { ...side, high } } }),
                  ),
                ]
              : [
                  number("now", typeof now === "number" ? now : 0, (value) =>
                    onChange({ held: { ...form.held, [heading]: value } }),
                  ),
                  <span key={`${heading} end`} />,
                ]),
          ];
        })}
      </div>
    </div>
  );
}

/** The kept form as far as it fits the question, and a first guess for the rest. */
function merged(log: TrialLog, choice: Choice, kept: NextForm | undefined): NextForm {
  const first = firstNext(log, choice);
  const limits: NextForm["limits"] = Object.fromEntries(
    choice.drivers.flatMap(({ heading }) => {
      const before = kept && Object.hasOwn(kept.limits, heading) ? kept.limits[heading] : undefined;
      if (before) return [[heading, before]];
      if (kept && Object.hasOwn(kept.held, heading)) return [];
      const guessed = Object.hasOwn(first.limits, heading) ? first.limits[heading] : undefined;
      return guessed ? [[heading, guessed]] : [];
    }),
  );
  const held = Object.fromEntries(
    choice.drivers.flatMap(({ heading }) =>
      Object.hasOwn(limits, heading) ? [] : [[heading, kept?.held[heading] ?? first.held[heading] ?? ""]],
    ),
  );
  return { aim: kept?.aim ?? first.aim, limits, held, physics: kept?.physics ?? false, repeats: kept?.repeats ?? 3 };
}

/** The headings under which a shot is measured, as the log has them. */
function measuredOf(log: TrialLog): string[] {
  return log.columns
    .filter(({ meaning }) => meaning === "gap" || meaning === "made" || meaning === "bend")
    .map(({ heading }) => heading.text);
}

/** The answer, or why there is none. */
function looked(
  log: TrialLog,
  choice: Choice,
  form: NextForm,
  shot: ShotSettings,
  plainFirst: boolean,
): WhatNext | string {
  try {
    return whatNext(log, choice, { ...form, physics: form.physics ? shot : undefined }, plainFirst);
  } catch (problem) {
    if (problem instanceof RangeError || problem instanceof NoAnswer || problem instanceof UnknownColumn)
      return `${capital(problem.message.replace(/\.$/, ""))}.`;
    throw problem;
  }
}
