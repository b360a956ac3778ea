/** How often is drawn, from which seed, and what is drawn. */
import { Dropdown, Field, Input, Option } from "@fluentui/react-components";
import { useState } from "react";

/** What is drawn when shots do not go together. */
export const SINGLE = "single shots";

const DRAWS = [1000, 2000, 10_000, 50_000];

export interface Draws {
  readonly count: number;
  onCount(count: number): void;
  /** As typed. */
  readonly seedText: string;
  onSeedText(text: string): void;
  /** Undefined when what was typed is none. */
  readonly seed: number | undefined;
}

export function useDraws(): Draws {
  const [count, onCount] = useState(2000);
  const [seedText, onSeedText] = useState("1");
  const seed = /^\s*\d{1,9}\s*$/.test(seedText) ? Number(seedText) : undefined;
  return { count, onCount, seedText, onSeedText, seed };
}

interface Props {
  readonly draws: Draws;
  /** Names of groups that can be drawn together. */
  readonly groups: readonly string[];
  /** The one chosen, or SINGLE. */
  readonly group: string;
  onGroup(name: string): void;
}

export function DrawsFields({ draws: { count, onCount, seedText, onSeedText, seed }, groups, group, onGroup }: Props) {
  const seedProblem =
    seed === undefined ? `The seed is "${seedText}": give a whole number from 0 to 999999999.` : undefined;
  const saying = (name: string) => (name === SINGLE ? SINGLE : `all shots of one ${name} together`);
  return (
    <>
      <Field label="Draws">
        <Dropdown
          value={count.toLocaleString("en")}
          selectedOptions={[String(count)]}
          onOptionSelect={(_, { optionValue }) => optionValue && onCount(Number(optionValue))}
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
        <Input value={seedText} inputMode="numeric" onChange={(_, { value }) => onSeedText(value)} />
      </Field>
      {groups.length > 0 && (
        <Field label="What is drawn">
          <Dropdown
            value={saying(group)}
            selectedOptions={[group]}
            onOptionSelect={(_, { optionValue }) => optionValue && onGroup(optionValue)}
          >
            {[SINGLE, ...groups].map((name) => (
              <Option key={name} value={name}>
                {saying(name)}
              </Option>
            ))}
          </Dropdown>
        </Field>
      )}
    </>
  );
}
