/** The same budget for every row of the log, written to a new sheet. */
import { listOf } from "../../experiment/language/said";
import { Button, Checkbox } from "@fluentui/react-components";
import { useState } from "react";
import type { MeasureForm } from "../../experiment/measure/measureForm";
import { rowsSentence, rowsSheet } from "../../experiment/measure/rowsSheet";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { Port } from "../../workbook/port";
import { useSectionStyles } from "../frame/styles";
import type { useWriting } from "../frame/useWriting";

export function AllRows({
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
