/** The Shoot view, for standing at the table: which log takes the attempts, or what is offered where none does. */
import { Spinner } from "@fluentui/react-components";
import { useMemo, useRef } from "react";
import { NEW_SHOOT, type ShootForm } from "../../experiment/shoot/shootForm";
import { shootOfSetup } from "../../experiment/shoot/setupShoot";
import type { Setup } from "../../experiment/setup/setup";
import { shootLog } from "../../experiment/shoot/shootLog";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { Port, SheetData } from "../../workbook/port";
import type { ThemeName } from "../frame/palette";
import { OtherLogs } from "./OtherLogs";
import { Shooting } from "./Shooting";

interface Props {
  readonly port: Port;
  /** Attempts go through it: they are taken back where they were pressed. */
  readonly host: Port;
  readonly theme: ThemeName;
  readonly data: SheetData | undefined;
  readonly log: TrialLog | undefined;
  /** The log that is looked at, in the sheet as it is by now. */
  readonly readLog: (data: SheetData) => TrialLog | undefined;
  /** As kept with the workbook. */
  readonly kept: ShootForm | undefined;
  readonly onKeep: (form: ShootForm) => void;
  readonly setup: Setup;
  readonly onSheet: (sheet: string) => void;
  readonly onFailure: (text: string | undefined) => void;
}

export function ShootView({ port, host, theme, data, log, readLog, kept, onKeep, setup, onSheet, onFailure }: Props) {
  const shoot = useMemo(
    () => data && log && shootLog(log, data, setup.ballDiameter.value),
    [data, log, setup.ballDiameter.value],
  );
  const form = useRef(kept ?? NEW_SHOOT);
  form.current = kept ?? form.current;
  const onForm = (change: (before: ShootForm) => Partial<ShootForm>) => {
    form.current = { ...form.current, ...change(form.current) };
    onKeep(form.current);
  };
  if (!data) return <Spinner label="Reading the workbook …" />;
  if (!shoot || "problem" in shoot) {
    const why =
      shoot?.problem ??
      `The sheet "${data.sheet}" is no log of attempts: that has a gap of the obstacle, or the bend that it asks for, and an Outcome column.`;
    return (
      <OtherLogs port={port} why={why} sheet={data.sheet} units={setup.units} onSheet={onSheet} onFailure={onFailure} />
    );
  }
  return (
    <Shooting
      key={shoot.log.sheet}
      port={host}
      theme={theme}
      shoot={shoot}
      form={shootOfSetup(form.current, setup, shoot.unit)}
      readLog={readLog}
      onForm={onForm}
    >
      <OtherLogs port={port} sheet={data.sheet} units={setup.units} onSheet={onSheet} onFailure={onFailure} />
    </Shooting>
  );
}
