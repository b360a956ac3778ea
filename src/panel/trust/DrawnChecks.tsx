/** The bootstrap and the permutation test, made in the worker, beside the plain answer. */
import { Button, Dropdown, Field, Input, MessageBar, MessageBarBody, Option } from "@fluentui/react-components";
import { useEffect, useState } from "react";
import type { Analysis } from "../../experiment/question/analysis";
import {
  bootstrapSentences,
  permutationSentences,
  type BootstrapOrder,
  type PermutationOrder,
} from "../../experiment/trust/drawnChecks";
import type { groupings } from "../../experiment/question/groupings";
import { confidenceText, decimalsFor, fixed } from "../../experiment/language/wording";
import { JobBar } from "../worker/JobBar";
import { useJob } from "../worker/useJob";
import { Sentences } from "../frame/Sentences";
import { useSectionStyles } from "../frame/styles";
import { TableHead } from "../frame/TableHead";

interface Props {
  readonly analysis: Analysis;
  readonly groups: ReturnType<typeof groupings>;
}

const DRAWS = [1000, 2000, 10_000, 50_000];
const SINGLE = "single shots";

export function DrawnChecks({ analysis, groups }: Props) {
  const styles = useSectionStyles();
  const { regression, columns } = analysis;
  const { question } = regression;
  const [draws, setDraws] = useState(2000);
  const [seedText, setSeedText] = useState("1");
  const named = question.errors && question.errors.kind !== "robust" ? question.errors.by : undefined;
  const choices = [...(named ? [named] : []), ...groups.map(({ by }) => by)].filter(
    (by, index, all) => all.findIndex(({ name }) => name === by.name) === index,
  );
  const [wanted, setWanted] = useState<string>();
  const group = wanted === SINGLE ? undefined : (choices.find(({ name }) => name === wanted) ?? named);
  const [driverName, setDriverName] = useState<string>();
  const driver = Math.max(
    0,
    columns.findIndex(({ heading }) => heading.text === driverName),
  );
  const bootstrap = useJob("bootstrap");
  const permutation = useJob("permutation");
  const [drawn, setDrawn] = useState<BootstrapOrder>();
  const [mixed, setMixed] = useState<PermutationOrder>();
  const { cancel: endBootstrap } = bootstrap;
  const { cancel: endPermutation } = permutation;
  // Draws for rows or a question that have changed say nothing any more.
  useEffect(() => {
    endBootstrap();
    endPermutation();
  }, [analysis, endBootstrap, endPermutation]);

  const seed = /^\s*\d{1,9}\s*$/.test(seedText) ? Number(seedText) : undefined;
  const seedProblem =
    seed === undefined ? `The seed is "${seedText}": give a whole number from 0 to 999999999.` : undefined;
  const percent = `${confidenceText(regression.confidence)} %`;
  const judged = regression.residual.sd !== null;
  const failure = [bootstrap.state, permutation.state].find((state) => state.kind === "failed");
  const option = (name: string) => (name === SINGLE ? SINGLE : `all shots of one ${name} together`);
  if (!judged) return <p className={styles.note}>There are no rows to spare, so drawing anew tells nothing.</p>;
  return (
    <section aria-label="Drawn anew" className={styles.stack}>
      <h3 className={styles.subhead}>Drawn anew</h3>
      <p className={styles.note}>
        Intervals and p-values of the answer lean on an idea of how shots scatter. These lean on the rows alone: rows
        drawn again and again with replacement, and rows exchanged. They take the rows as they are and cannot see what
        no row shows.
      </p>
      <Field label="Draws">
        <Dropdown
          value={draws.toLocaleString("en")}
          selectedOptions={[String(draws)]}
          onOptionSelect={(_, { optionValue }) => optionValue && setDraws(Number(optionValue))}
        >
          {DRAWS.map((one) => (
            <Option key={one} value={String(one)}>
              {one.toLocaleString("en")}
            </Option>
          ))}
        </Dropdown>
      </Field>
      <Field
        label="Seed"
        hint="The same seed gives the same draws."
        validationState={seedProblem ? "error" : "none"}
        validationMessage={seedProblem}
      >
        <Input value={seedText} inputMode="numeric" onChange={(_, { value }) => setSeedText(value)} />
      </Field>
      {choices.length > 0 && (
        <Field label="What is drawn">
          <Dropdown
            value={option(group?.name ?? SINGLE)}
            selectedOptions={[group?.name ?? SINGLE]}
            onOptionSelect={(_, { optionValue }) => optionValue && setWanted(optionValue)}
          >
            {[SINGLE, ...choices.map(({ name }) => name)].map((name) => (
              <Option key={name} value={name}>
                {option(name)}
              </Option>
            ))}
          </Dropdown>
        </Field>
      )}
      {bootstrap.state.kind === "running" ? (
        <JobBar doing="Drawing rows" share={bootstrap.state.share} onCancel={bootstrap.cancel} />
      ) : (
        <Button
          disabled={seed === undefined}
          onClick={() => {
            if (seed === undefined) return;
            const order = { question, draws, seed, ...(group && { by: group }) };
            setDrawn(order);
            bootstrap.start(order);
          }}
        >
          {`Check the intervals by ${draws.toLocaleString("en")} draws`}
        </Button>
      )}
      {bootstrap.state.kind === "done" && drawn?.question === question && (
        <>
          <Sentences sentences={bootstrapSentences(regression, bootstrap.state.answer, drawn)} part="bootstrap" />
          <div className={styles.scroll}>
            <table className={styles.table} data-part="bootstrap-terms">
              <TableHead first="Term" numbers={["Answer: low", "high", "Draws: low", "high"]} />
              <tbody>
                {bootstrap.state.answer.terms.map(({ label, low, high }, index) => {
                  const plain = regression.terms[index];
                  const decimals = decimalsFor(plain.standardError ?? 0);
                  return (
                    <tr key={label}>
                      <th scope="row">{label}</th>
                      {[plain.low, plain.high, low, high].map((value, place) => (
                        <td key={place} className="number">
                          {value === null ? "–" : fixed(value, decimals)}
                        </td>
                      ))}
                    </tr>
                  );
                })}
              </tbody>
            </table>
          </div>
          <p
            className={styles.note}
          >{`${percent} intervals of the coefficients (${analysis.response.heading.unit || "the response's unit"} per unit of the driver).`}</p>
        </>
      )}
      {columns.length > 0 && (
        <>
          <Field label="Driver to test by exchanging rows">
            <Dropdown
              value={columns[driver].heading.text}
              selectedOptions={[columns[driver].heading.text]}
              onOptionSelect={(_, { optionValue }) => setDriverName(optionValue)}
            >
              {columns.map(({ heading }) => (
                <Option key={heading.text} value={heading.text}>
                  {heading.text}
                </Option>
              ))}
            </Dropdown>
          </Field>
          {permutation.state.kind === "running" ? (
            <JobBar doing="Exchanging rows" share={permutation.state.share} onCancel={permutation.cancel} />
          ) : (
            <Button
              disabled={seed === undefined}
              onClick={() => {
                if (seed === undefined) return;
                const order = { question, driver, draws, seed, ...(group && { within: group }) };
                setMixed(order);
                permutation.start(order);
              }}
            >
              {`Check the p-value by ${draws.toLocaleString("en")} exchanges`}
            </Button>
          )}
          {permutation.state.kind === "done" && mixed?.question === question && (
            <Sentences
              sentences={permutationSentences(regression, permutation.state.answer, mixed)}
              part="permutation"
            />
          )}
        </>
      )}
      {failure?.kind === "failed" && (
        <MessageBar intent="warning" layout="multiline">
          <MessageBarBody>{`That could not be drawn: ${failure.message}.`}</MessageBarBody>
        </MessageBar>
      )}
    </section>
  );
}
