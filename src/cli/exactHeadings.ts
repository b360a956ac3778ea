/** Headings as the sheet spells them. */
import { headingsOf, type Choice } from "../experiment/question/choice";
import { columnNamed } from "../experiment/question/rowCheck";
import { sessionColumn, togetherBy } from "../experiment/question/sessions";
import type { TrialLog } from "../experiment/log/trialLog";

/** The choice with every heading spelled as the sheet has it. @throws UnknownColumn when one is not there */
export function exactHeadings(log: TrialLog, choice: Choice): Choice {
  const exact = (heading: string) => columnNamed(log, heading).heading.text;
  return {
    ...choice,
    response: exact(choice.response),
    drivers: choice.drivers.map((driver) => ({ ...driver, heading: exact(driver.heading) })),
    joint: choice.joint.map(([a, b]) => [exact(a), exact(b)] as const),
    ...(choice.weight !== undefined && { weight: exact(choice.weight) }),
    ...(choice.scatter && {
      scatter:
        choice.scatter.as === "robust"
          ? choice.scatter
          : togetherBy(choice.scatter.as, sessionColumn(log, headingsOf(choice.scatter))),
    }),
  };
}
