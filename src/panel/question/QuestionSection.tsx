/** Choose a question: of which kind, the response, the drivers and how each is taken. */
import { Dropdown, Field, Input, Option } from "@fluentui/react-components";
import type { ReactNode } from "react";
import {
  headingsOf,
  possibleDrivers,
  withoutDriver,
  type Choice,
  type DriverChoice,
} from "../../experiment/question/choice";
import { ColumnPicker } from "../fields/ColumnPicker";
import { OptionPicker } from "../fields/OptionPicker";
import { parseHeading } from "../../experiment/log/header";
import { comparable, madeColumns, readMargin, type CompareChoice } from "../../experiment/question/otherQuestions";
import { levelOf } from "../../experiment/log/reading";
import type { TrialLog } from "../../experiment/log/trialLog";
import { ASKS, type QuestionKind, type PanelSettings } from "../frame/settings";
import type { PanelView } from "../frame/view";
import { useSectionStyles } from "../frame/styles";
import { DriversField } from "./DriversField";
import { JointPicker } from "./JointPicker";
import { OrderPicker } from "./OrderPicker";
import { SessionPicker } from "./SessionPicker";
import { TwicePicker } from "./TwicePicker";
import { WeightPicker } from "./WeightPicker";

interface Props {
  readonly log: TrialLog;
  readonly view: PanelView;
  /** Second readings, by the driver that was read twice. */
  readonly twice: NonNullable<PanelSettings["twice"]>;
  readonly onChange: (part: Partial<PanelSettings>) => void;
  /** The rest of a question that has a room of its own. */
  readonly children?: ReactNode;
}

const KINDS: Readonly<Record<QuestionKind, string>> = {
  explain: "What explains a number",
  made: "What makes a shot",
  compare: "Which levels differ, such as tables or cloths",
  reach: "How far does it bend, and how surely?",
};

export function QuestionSection({ log, view, twice, onChange, children }: Props) {
  const styles = useSectionStyles();
  const { ask, choice, makes, compare, missing } = view;
  return (
    <div className={styles.stack}>
      <Field label="Kind of question">
        <Dropdown
          value={KINDS[ask]}
          selectedOptions={[ask]}
          onOptionSelect={(_, { optionValue }) => optionValue && onChange({ ask: optionValue as QuestionKind })}
        >
          {ASKS.map((kind) => (
            <Option key={kind} value={kind}>
              {KINDS[kind]}
            </Option>
          ))}
        </Dropdown>
      </Field>
      {ask === "explain" && choice && (
        <ExplainQuestion log={log} choice={choice} missing={missing} onChange={(next) => onChange({ choice: next })} />
      )}
      {ask === "made" && makes && (
        <MadeQuestion log={log} choice={makes} missing={missing} onChange={(next) => onChange({ made: next })} />
      )}
      {ask === "compare" && compare && (
        <CompareQuestion
          log={log}
          choice={compare}
          missing={missing}
          onChange={(next) => onChange({ comparison: next })}
        />
      )}
      {ask === "explain" && view.analysis && (
        <TwicePicker analysis={view.analysis} twice={twice} onChange={(next) => onChange({ twice: next })} />
      )}
      <OrderPicker view={view} onChange={(order) => onChange({ order })} />
      {children}
    </div>
  );
}

/** What all questions have: a response and drivers. */
type Common = Pick<Choice, "response" | "drivers" | "confidence" | "scatter" | "sessions" | "weight">;

interface PartProps<T extends Common> {
  readonly log: TrialLog;
  readonly choice: T;
  readonly missing: readonly string[];
  readonly onChange: (choice: T) => void;
}

function ExplainQuestion({ log, choice, missing, onChange }: PartProps<Choice>) {
  const change = (part: Partial<Choice>) => onChange({ ...choice, ...part });
  return (
    <>
      <ColumnPicker
        label="What to explain"
        columns={log.columns.filter(({ kind }) => kind === "number")}
        value={choice.response}
        onChange={(response) =>
          change({
            response,
            drivers: withoutDriver(choice.drivers, response),
            joint: choice.joint.filter((pair) => !pair.includes(response)),
          })
        }
      />
      <DriversField
        log={log}
        choice={choice}
        missing={missing}
        onChange={(drivers) => change({ drivers, joint: jointOf(choice.joint, drivers) })}
      />
      {choice.drivers.length > 1 && <JointPicker choice={choice} onChange={(joint) => change({ joint })} />}
      <SessionPicker log={log} choice={choice} onChange={change} />
      <WeightPicker log={log} choice={choice} onChange={(weight) => change({ weight })} />
    </>
  );
}

function MadeQuestion({ log, choice, missing, onChange }: PartProps<Choice>) {
  const styles = useSectionStyles();
  const change = (part: Partial<Choice>) => onChange({ ...choice, ...part });
  return (
    <>
      <ColumnPicker
        label="Column that says how a shot ended"
        columns={madeColumns(log)}
        value={choice.response}
        onChange={(response) =>
          change({
            response,
            drivers: withoutDriver(choice.drivers, response),
            joint: choice.joint.filter((pair) => !pair.includes(response)),
          })
        }
      />
      <DriversField
        log={log}
        choice={choice}
        missing={missing}
        onChange={(drivers) => change({ drivers, joint: jointOf(choice.joint, drivers) })}
      />
      {choice.drivers.length > 1 && <JointPicker choice={choice} onChange={(joint) => change({ joint })} />}
      <SessionPicker log={log} choice={choice} made onChange={change} />
      <p className={styles.note}>
        How single shots scatter follows from the rate itself, so there are no weights and no unequal scatter to choose
        here.
      </p>
    </>
  );
}

function CompareQuestion({ log, choice, missing, onChange }: PartProps<CompareChoice>) {
  const change = (part: Partial<CompareChoice>) => onChange({ ...choice, ...part });
  const { unit } = parseHeading(choice.response);
  const margin = readMargin(choice.margin, choice.response);
  const levels = levelsOf(log, choice.among);
  const numbers = possibleDrivers(log, choice.response).filter(
    ({ heading, kind }) =>
      kind === "number" &&
      heading.text !== choice.among &&
      !choice.drivers.some((one) => one.heading === heading.text && one.as === "category"),
  );
  return (
    <>
      <ColumnPicker
        label="What is compared"
        columns={log.columns.filter(({ kind }) => kind === "number")}
        value={choice.response}
        onChange={(response) => change({ response, drivers: withoutDriver(choice.drivers, response) })}
      />
      <ColumnPicker
        label="Among the levels of"
        columns={comparable(log, choice.response)}
        value={choice.among}
        onChange={(heading) => change(amongOf(choice, heading))}
      />
      <Field
        label={`Counts as the same within${unit ? ` (${unit})` : ""}`}
        hint="Leave it empty to ask for differences only."
        validationState={typeof margin === "string" ? "error" : "none"}
        validationMessage={typeof margin === "string" ? margin : undefined}
      >
        <Input value={choice.margin} onChange={(_, { value }) => change({ margin: value })} />
      </Field>
      <OptionPicker
        label="Compared with"
        none={EACH_OTHER}
        values={levels}
        value={choice.reference}
        onChange={(reference) => change({ reference })}
      />
      <OptionPicker
        label="Does an effect differ between them?"
        none={NO_EFFECT}
        values={numbers.map(({ heading }) => heading.text)}
        value={choice.slope}
        onChange={(slope) => change({ slope })}
      />
      <DriversField
        log={log}
        choice={choice}
        missing={missing}
        legend="Held alike"
        except={choice.among}
        onChange={(drivers) => change({ drivers })}
      />
      <SessionPicker log={log} choice={choice} except={choice.among} onChange={change} />
      <WeightPicker log={log} choice={choice} except={choice.among} onChange={(weight) => change({ weight })} />
    </>
  );
}

/** The levels of another column are compared: it has no other part in the question then. */
function amongOf(choice: CompareChoice, heading: string): Partial<CompareChoice> {
  return {
    among: heading,
    reference: undefined,
    ...(choice.slope === heading && { slope: undefined }),
    drivers: withoutDriver(choice.drivers, heading),
    ...(headingsOf(choice.scatter).includes(heading) && { scatter: undefined }),
    ...(choice.sessions?.includes(heading) && { sessions: undefined }),
  };
}

const EACH_OTHER = "each other, all pairs";
const NO_EFFECT = "not asked";

/** More levels than this are not offered one by one. */
const MOST_LEVELS = 50;

/** The levels of a column in order of appearance. */
function levelsOf(log: TrialLog, heading: string): string[] {
  const column = log.columns.find((one) => one.heading.text === heading);
  return [
    ...new Set(column?.readings.flatMap((reading) => (reading.kind === "blank" ? [] : [levelOf(reading)]))),
  ].slice(0, MOST_LEVELS);
}

/** The joint effects whose two drivers are still there. */
function jointOf(joint: Choice["joint"], drivers: readonly DriverChoice[]): Choice["joint"] {
  const asked = new Set(drivers.map(({ heading }) => heading));
  return joint.filter((pair) => pair.every((heading) => asked.has(heading)));
}
