/** The plan on a sheet: writing it, going on after a break, changing it with what was shot kept. */
import { Button } from "@fluentui/react-components";
import type { Plan } from "../../experiment/plan/plan";
import type { PlanDraft } from "../../experiment/plan/planDraft";
import {
  changedPlan,
  planNotes,
  planSentence,
  planSheet,
  type ChangedPlan,
  type PlanProgress,
} from "../../experiment/plan/planSheet";
import { counted } from "../../experiment/language/wording";
import { VERSION } from "../../version";
import type { Port } from "../../workbook/port";
import { GoToButton } from "../frame/GoToButton";
import { useSectionStyles } from "../frame/styles";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";
import type { ShownProgress } from "./useProgress";

interface Props {
  readonly port: Port;
  /** Undefined while the draft is no plan. */
  readonly plan: Plan | undefined;
  readonly draft: PlanDraft;
  readonly progress: ShownProgress;
  readonly onSheet: (sheet: string) => void;
  readonly onFailure: (text: string | undefined) => void;
}

export function PlanSheets({ port, plan, draft, progress: { going, problem, gone }, onSheet, onFailure }: Props) {
  const section = useSectionStyles();
  const { busy, done, write } = useWriting(onFailure);
  /** Writes rows and notes; gives the sheet of the rows. */
  const add = async (rows: ReturnType<typeof planSheet>, wanted: Plan) => {
    const sheet = await port.addSheet(rows);
    await port.addSheet(planNotes(wanted, sheet, new Date(), VERSION));
    onSheet(sheet);
    return sheet;
  };
  const writePlan = (wanted: Plan) =>
    write("The plan was not written", async () =>
      planSentence(wanted, await add(planSheet(wanted, draft.units), wanted)),
    );
  const writeChanged = (wanted: Plan, before: string) =>
    write("The changed plan was not written", async () => {
      const changed = changedPlan(await port.read(before), wanted, draft.units);
      return changedSentence(changed, await add(changed.sheet, wanted), before);
    });
  return (
    <div className={section.stack}>
      {problem !== undefined && <Warning text={problem} />}
      {going && draft.sheet !== undefined && (
        <div className={section.stack} data-part="plan-progress">
          <p className={section.sentence}>{progressSentence(going, draft.sheet)}</p>
          {going.next && (
            <GoToButton
              port={port}
              sheet={draft.sheet}
              cell={going.next}
              label="Go to the next shot"
              onFailure={onFailure}
            />
          )}
          <Button
            disabled={busy || !plan}
            onClick={() => plan && draft.sheet !== undefined && writeChanged(plan, draft.sheet)}
          >
            Change the plan, keep what was shot
          </Button>
        </div>
      )}
      <Button
        appearance={going ? "secondary" : "primary"}
        disabled={busy || !plan}
        onClick={() => plan && writePlan(plan)}
      >
        Write the plan
      </Button>
      {gone && (
        <p
          className={section.note}
        >{`The sheet "${draft.sheet}" of the last plan is not in this workbook any more.`}</p>
      )}
      <div role="status">{done}</div>
    </div>
  );
}

function progressSentence({ shot, planned, next }: PlanProgress, sheet: string): string {
  return `On the sheet "${sheet}", ${shot} of ${counted(planned, "shot")} ${shot === 1 ? "is" : "are"} measured. ${next ? `Next: ${next.words}.` : "The plan is done."}`;
}

function changedSentence({ kept, covered, remaining }: ChangedPlan, sheet: string, before: string): string {
  return `${counted(kept, "row")} already shot ${kept === 1 ? "stands" : "stand"} first on the new sheet "${sheet}"; ${covered} of them ${covered === 1 ? "counts" : "count"} for the new plan, ${counted(remaining, "shot")} ${remaining === 1 ? "is" : "are"} left. The sheet "${before}" was not touched.`;
}
