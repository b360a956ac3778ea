/** What makes a session, by one column or several, and how shots of one go together. */
import { listOf } from "../../experiment/language/said";
import { Button, Dropdown, Field, Option } from "@fluentui/react-components";
import { useMemo } from "react";
import { headingsOf, type Choice, type ScatterChoice } from "../../experiment/question/choice";
import { noticedSentence, noticedSession, sessionCandidates } from "../../experiment/question/sessions";
import type { TrialLog } from "../../experiment/log/trialLog";
import { useSectionStyles } from "../frame/styles";

type Sessions = Pick<Choice, "scatter" | "sessions">;

interface Props {
  readonly log: TrialLog;
  readonly choice: Pick<Choice, "response" | "drivers"> & Sessions;
  /** Heading of what is compared. */
  readonly except?: string;
  /** Made or missed: how single shots scatter follows from the chance. */
  readonly made?: boolean;
  readonly onChange: (part: Sessions) => void;
}

const NONE = "no column";

export function SessionPicker({ log, choice, except, made = false, onChange }: Props) {
  const styles = useSectionStyles();
  const { scatter } = choice;
  const asked = useMemo(
    () => new Set([choice.response, ...choice.drivers.map(({ heading }) => heading), ...(except ? [except] : [])]),
    [choice.response, choice.drivers, except],
  );
  const found = useMemo(() => noticed(log, asked, choice.response), [log, asked, choice.response]);
  const grouped = headingsOf(scatter);
  const named = grouped.length > 0 ? grouped : (choice.sessions ?? found.headings);
  const offered = log.columns.filter(
    ({ heading, kind, meaning }) =>
      kind !== "empty" && heading.text !== choice.response && meaning !== "trial" && meaning !== "remarks",
  );
  const name = (headings: readonly string[]) =>
    onChange({ sessions: headings.length > 0 ? headings : undefined, scatter: regrouped(scatter, headings) });
  return (
    <>
      <Field
        label="What makes a session"
        hint="Shots taken in one go share their luck. Of several columns each combination is a session, as of a date with a session that is counted anew each day."
      >
        <Dropdown
          multiselect
          value={named.length > 0 ? listOf(named) : NONE}
          selectedOptions={[...named]}
          onOptionSelect={(_, { selectedOptions }) => name(inOrder(named, selectedOptions))}
        >
          {offered.map(({ heading: { text } }) => (
            <Option key={text} value={text} text={text}>
              {text}
            </Option>
          ))}
        </Dropdown>
      </Field>
      {found.asked && !choice.sessions && grouped.length === 0 && (
        <div className={styles.stack} data-part="noticed-session">
          <p className={styles.sentence}>{noticedSentence(found.asked)}</p>
          <Button
            size="small"
            onClick={() => name([found.asked?.column.heading.text ?? ""])}
          >{`${found.asked.column.heading.text} makes the sessions`}</Button>
        </div>
      )}
      <ScatterPicker
        scatter={scatter}
        named={named}
        made={made}
        onChange={(next) => onChange({ ...choice, scatter: next })}
      />
    </>
  );
}

/** What the headings suggest, and a column to be asked about. */
function noticed(log: TrialLog, asked: ReadonlySet<string>, response: string) {
  const rows = log.rows.map((_, index) => index);
  const taken = log.columns.filter(({ heading }) => asked.has(heading.text));
  const [first] = sessionCandidates(log, taken, rows);
  const drivers = taken.filter(({ heading }) => heading.text !== response);
  return {
    headings: first ? (first.parts ?? [first.heading.text]) : [],
    asked: noticedSession(log, drivers, taken, rows),
  };
}

/** The way in which shots go together, with other sessions; none without any. */
function regrouped(scatter: ScatterChoice | undefined, headings: readonly string[]): ScatterChoice | undefined {
  if (!scatter || scatter.as === "robust") return scatter;
  const [heading, ...also] = headings;
  return heading === undefined ? undefined : { as: scatter.as, heading, ...(also.length > 0 && { also }) };
}

/** Those kept in their order, new ones behind. */
function inOrder(before: readonly string[], now: readonly string[]): string[] {
  return [...before.filter((one) => now.includes(one)), ...now.filter((one) => !before.includes(one))];
}

/** How rows scatter about the fit. */
function ScatterPicker({
  scatter,
  named,
  made,
  onChange,
}: {
  scatter: ScatterChoice | undefined;
  named: readonly string[];
  made: boolean;
  onChange: (scatter: ScatterChoice | undefined) => void;
}) {
  const text = listOf(named);
  const options: readonly (readonly [string, ScatterChoice | undefined])[] = [
    ["Every shot on its own", undefined],
    ...(made ? [] : [["On its own, some scatter more than others", { as: "robust" }] as const]),
    ...(["random", "cluster"] as const).flatMap((as): (readonly [string, ScatterChoice | undefined])[] =>
      named.length === 0
        ? []
        : [
            [
              as === "random" ? `Each ${text} shifted by a random amount` : `Shots of one ${text} together in any way`,
              regrouped({ as, heading: "" }, named),
            ],
          ],
    ),
  ];
  const current = options.find(([, one]) => one?.as === scatter?.as) ?? options[0];
  return (
    <Field label="Which shots go together">
      <Dropdown
        value={current?.[0] ?? ""}
        selectedOptions={current ? [current[0]] : []}
        onOptionSelect={(_, { optionValue }) => onChange(options.find(([one]) => one === optionValue)?.[1])}
      >
        {options.map(([one]) => (
          <Option key={one} value={one}>
            {one}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
