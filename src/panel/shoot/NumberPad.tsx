/** Large keys for a reading of the ruler; a keyboard types into its field as well. */
import { toText, type Said } from "../../experiment/language/said";
import { Button, Field, Input, makeStyles } from "@fluentui/react-components";
import { useState } from "react";
import { readLength } from "../../experiment/shoot/shootNow";
import type { ShootLog } from "../../experiment/shoot/shootLog";

interface Props {
  readonly label: string;
  readonly unit: ShootLog["unit"];
  readonly action: string;
  readonly hint?: string;
  /** Takes the reading; returns what is wrong with it, if anything. */
  readonly onTake: (value: number, text: string) => Said | undefined;
}

const useStyles = makeStyles({
  keys: { display: "grid", gridTemplateColumns: "repeat(4, minmax(0, 1fr))", gap: "6px", marginTop: "6px" },
  key: { minHeight: "52px", minWidth: 0, fontSize: "20px", padding: 0 },
  take: { gridColumn: "1 / -1", minHeight: "52px", fontSize: "16px", minWidth: 0 },
});

const KEYS = ["7", "8", "9", "/", "4", "5", "6", "space", "1", "2", "3", ".", "0", "−"] as const;

/** What keys are called that are no digits. */
const NAMES: Readonly<Partial<Record<(typeof KEYS)[number], string>>> = {
  "/": "fraction stroke",
  ".": "point",
  "−": "minus",
};

export function NumberPad({ label, unit, action, hint, onTake }: Props) {
  const styles = useStyles();
  const [text, setText] = useState("");
  const [problem, setProblem] = useState<string>();
  const type = (next: string) => {
    setText(next);
    setProblem(undefined);
  };
  const take = () => {
    const read = readLength(text, unit);
    const wrong =
      typeof read === "number"
        ? onTake(read, text)
        : `"${text}" ${read.why}: give a length in ${unit}, such as ${unit === "in" ? "13/32 or 0.41" : "10.5"}.`;
    setProblem(wrong && toText(wrong));
    if (wrong === undefined) setText("");
  };
  return (
    <div>
      <Field
        label={`${label} (${unit})`}
        hint={hint}
        validationState={problem ? "error" : "none"}
        validationMessage={problem}
      >
        <Input
          size="large"
          value={text}
          inputMode="none"
          input={{ style: { minWidth: 0, width: "100%" } }}
          style={{ minWidth: 0, minHeight: "48px" }}
          onChange={(_, { value }) => type(value)}
          onKeyDown={({ key }) => key === "Enter" && take()}
        />
      </Field>
      <div className={styles.keys} role="group" aria-label={`Keys: ${label}`}>
        {KEYS.map((key) => (
          <Button
            key={key}
            className={styles.key}
            disabled={unit !== "in" && (key === "/" || key === "space")}
            aria-label={NAMES[key]}
            onClick={() => type(text + (key === "space" ? " " : key))}
          >
            {key === "space" ? "␣" : key}
          </Button>
        ))}
        <Button className={styles.key} aria-label="delete the last character" onClick={() => type(text.slice(0, -1))}>
          ⌫
        </Button>
        <Button className={styles.take} appearance="primary" disabled={text.trim() === ""} onClick={take}>
          {action}
        </Button>
      </div>
    </div>
  );
}
