/** Keep: writes the results as a new sheet. */
import { Button, Field, Input } from "@fluentui/react-components";
import { useState } from "react";
import type { NewSheet, Port } from "../../workbook/port";
import { useWriting } from "../frame/useWriting";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly port: Port;
  /** The sheet under a name. */
  readonly make: (name: string, made: Date) => NewSheet;
  readonly onFailure: (text: string | undefined) => void;
}

export function KeepSection({ port, make, onFailure }: Props) {
  const styles = useSectionStyles();
  const [name, setName] = useState("Results");
  const { busy, done, write } = useWriting(onFailure);
  const keep = () =>
    write(
      "The results sheet was not written",
      async () =>
        `Written to the new sheet "${await port.addSheet(make(name.trim() || "Results", new Date()))}". No other cell was touched.`,
    );
  return (
    <div className={styles.stack}>
      <p className={styles.note}>
        Values, settings, row counts, version and date go on a sheet of their own. Your cells are not touched.
      </p>
      <Field label="Name of the new sheet">
        <Input value={name} maxLength={31} onChange={(_, { value }) => setName(value)} />
      </Field>
      <Button appearance="primary" disabled={busy} onClick={keep}>
        Write results sheet
      </Button>
      <div role="status">{done}</div>
    </div>
  );
}
