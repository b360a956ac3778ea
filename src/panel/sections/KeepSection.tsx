/** Keep: writes the results as a new sheet. May import: panel/, workbook/port.ts. */
import { Button, Field, Input } from "@fluentui/react-components";
import { useState } from "react";
import type { NewSheet, Port } from "../../workbook/port";
import { useSectionStyles } from "./styles";

interface Props {
  readonly port: Port;
  /** The sheet under a name. */
  readonly make: (name: string, made: Date) => NewSheet;
  readonly onFailure: (text: string) => void;
}

export function KeepSection({ port, make, onFailure }: Props) {
  const styles = useSectionStyles();
  const [name, setName] = useState("Results");
  const [kept, setKept] = useState<string>();
  const [busy, setBusy] = useState(false);
  const keep = async () => {
    setBusy(true);
    try {
      const got = await port.addSheet(make(name.trim() || "Results", new Date()));
      setKept(`Written to the new sheet "${got}". No other cell was touched.`);
    } catch (problem) {
      onFailure(`The results sheet was not written: ${problem instanceof Error ? problem.message : String(problem)}`);
    } finally {
      setBusy(false);
    }
  };
  return (
    <div className={styles.stack}>
      <p className={styles.note}>Values, settings, row counts, version and date go on a sheet of their own. Your cells are not touched.</p>
      <Field label="Name of the new sheet"><Input value={name} maxLength={31} onChange={(_, { value }) => setName(value)} /></Field>
      <Button appearance="primary" disabled={busy} onClick={keep}>Write results sheet</Button>
      <div role="status">{kept}</div>
    </div>
  );
}
