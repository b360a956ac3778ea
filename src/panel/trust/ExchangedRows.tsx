/** The p-value of a driver from rows exchanged. */
import { Button, Dropdown, Field, Option } from "@fluentui/react-components";
import { useState } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import { permutationSentences, type PermutationOrder } from "../../experiment/trust/drawnChecks";
import { Sentences } from "../frame/Sentences";
import { JobBar } from "../worker/JobBar";
import type { Job } from "../worker/useJob";
import type { Draws } from "./DrawsFields";

interface Props {
  readonly analysis: Analysis;
  readonly job: Job<"permutation">;
  readonly draws: Draws;
  /** Rows that are exchanged among each other only. */
  readonly group: PermutationOrder["within"];
}

export function ExchangedRows({ analysis: { regression, columns }, job, draws: { count, seed }, group }: Props) {
  const { question } = regression;
  const [name, setName] = useState<string>();
  const headings = columns.map(({ heading }) => heading.text);
  const driver = Math.max(
    0,
    headings.findIndex((heading) => heading === name),
  );
  const [mixed, setMixed] = useState<PermutationOrder>();
  const start = () => {
    if (seed === undefined) return;
    const order = { question, driver, draws: count, seed, ...(group && { within: group }) };
    setMixed(order);
    job.start(order);
  };
  return (
    <>
      <Field label="Driver to test by exchanging rows">
        <Dropdown
          value={headings[driver] ?? ""}
          selectedOptions={headings.slice(driver, driver + 1)}
          onOptionSelect={(_, { optionValue }) => setName(optionValue)}
        >
          {headings.map((heading) => (
            <Option key={heading} value={heading}>
              {heading}
            </Option>
          ))}
        </Dropdown>
      </Field>
      {job.state.kind === "running" ? (
        <JobBar doing="Exchanging rows" share={job.state.share} onCancel={job.cancel} />
      ) : (
        <Button
          disabled={seed === undefined}
          onClick={start}
        >{`Check the p-value by ${count.toLocaleString("en")} exchanges`}</Button>
      )}
      {job.state.kind === "done" && mixed?.question === question && (
        <Sentences sentences={permutationSentences(regression, job.state.answer, mixed)} part="permutation" />
      )}
    </>
  );
}
