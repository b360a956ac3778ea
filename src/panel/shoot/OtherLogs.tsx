/** Where attempts can go: other sheets that take them, and a new log; and why this one does not, where it does not. */
import { Button } from "@fluentui/react-components";
import { useEffect, useState } from "react";
import { attemptSheet } from "../../experiment/shoot/attemptSheet";
import { attemptPlaces } from "../../experiment/log/attemptLog";
import { findTrialLogs } from "../../experiment/log/trialLog";
import type { Port } from "../../workbook/port";
import { useSectionStyles } from "../frame/styles";
import { useWriting } from "../frame/useWriting";

interface Props {
  readonly port: Port;
  /** What keeps the sheet from taking attempts, if anything. */
  readonly why?: string;
  readonly sheet: string | undefined;
  /** Of a new log. */
  readonly units: "us" | "si";
  readonly onSheet: (sheet: string) => void;
  readonly onFailure: (text: string | undefined) => void;
}

const LARGE = { minHeight: "48px" } as const;

export function OtherLogs({ port, why, sheet, units, onSheet, onFailure }: Props) {
  const section = useSectionStyles();
  const { busy, write } = useWriting(onFailure);
  const others = useOtherLogs(port, sheet);
  const make = () =>
    write("The log was not made", async () => {
      const made = await port.addSheet(attemptSheet(units));
      onSheet(made);
      return `The new sheet "${made}" takes the attempts.`;
    });
  return (
    <div className={section.stack} data-part="no-log">
      {why !== undefined && <p className={section.sentence}>{why}</p>}
      {others.map((name) => (
        <Button
          key={name}
          size="large"
          style={LARGE}
          onClick={() => onSheet(name)}
        >{`Shoot on the sheet "${name}"`}</Button>
      ))}
      <Button
        appearance={others.length > 0 ? "secondary" : "primary"}
        size="large"
        style={LARGE}
        disabled={busy}
        onClick={make}
      >
        Make a log of attempts
      </Button>
      <p className={section.note}>
        {`A new sheet, in ${units === "us" ? "inches" : "millimetres"} (Preferences say which): trial, date, session, table, cloth, humidity, gap, required bend, outcome, film bend, remarks. Nothing else is touched.`}
      </p>
    </div>
  );
}

/** Other sheets that show and can take attempts. */
function useOtherLogs(port: Port, sheet: string | undefined): readonly string[] {
  const [found, setFound] = useState<readonly string[]>([]);
  useEffect(() => {
    let here = true;
    const look = async () => {
      const names: string[] = [];
      for (const { name, hidden } of await port.sheets()) {
        if (hidden || name === sheet || !here) continue;
        const logs = findTrialLogs(await port.read(name));
        if (logs[0] && attemptPlaces(logs[0])) names.push(name);
      }
      if (here) setFound(names);
    };
    // A sheet that cannot be read is no log to go to.
    look().catch(() => undefined);
    return () => {
      here = false;
    };
  }, [port, sheet]);
  return found;
}
