/** One press writes the filmed shot: into the log, among the claims, or on a sheet for films. */
import { Button, Checkbox, Dropdown, Field, makeStyles, Option } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { claimsSheet } from "../../experiment/evidence/claimSheets";
import { claimColumns } from "../../experiment/evidence/evidence";
import { claimsSheetOf, type EvidenceChoice } from "../../experiment/evidence/evidenceChoice";
import { findTrialLogs, type TrialLog } from "../../experiment/log/trialLog";
import type { VideoForm } from "../../experiment/video/videoForm";
import { filmRow, headingsOnly, filmedCells, rowsWithoutBend, type Filmed } from "../../experiment/video/videoRow";
import type { Port, SheetData, SheetSummary } from "../../workbook/port";
import { messageOf } from "../frame/messageOf";
import { useSectionStyles } from "../frame/styles";
import { useSheet } from "../frame/useSheet";
import { useWriting } from "../frame/useWriting";
import { writeIntoLog } from "./writeIntoLog";

interface Props {
  readonly port: Port;
  readonly log: TrialLog | undefined;
  readonly sheets: readonly SheetSummary[];
  readonly claims: EvidenceChoice | undefined;
  readonly filmed: Filmed;
  onChange(part: Partial<VideoForm>): void;
  readonly onFailure: (text: string | undefined) => void;
}

const VIEWS: Readonly<Record<VideoForm["bothViews"], string>> = { "": "not said", yes: "yes", no: "no" };
/** The table of claims on a sheet, though it may have no rows yet. */
function claimLogIn(data: SheetData): TrialLog | undefined {
  return [...findTrialLogs(data), ...headingsOnly(data)].find((one) => claimColumns(one));
}

/** Rows that are offered. */
const OFFERED = 8;
const NEW = "new";

const useStyles = makeStyles({
  row: { display: "flex", flexWrap: "wrap", gap: "8px", alignItems: "end" },
});

export function WriteSection({ port, log, sheets, claims, filmed, onChange, onFailure }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const { busy, done, write } = useWriting(onFailure);
  const [chosen, setChosen] = useState(NEW);
  const [asClaim, setAsClaim] = useState(true);
  const open = useMemo(() => (log ? rowsWithoutBend(log).slice(0, OFFERED) : []), [log]);
  const row = open.find((one) => String(one) === chosen);
  const enterClaim = useClaims(port, claimsSheetOf(claims, sheets));
  const fits = log && filmedCells(log, filmed) !== undefined;
  const writeAll = () =>
    write("The row was not written", async () => {
      const told = log && fits ? await writeIntoLog(port, log, filmed, row) : await addFilm(port, log, filmed);
      return asClaim ? `${told} As a claim: ${await enterClaim(filmed, told)}` : told;
    });
  return (
    <>
      <h2 className={section.subhead}>Keep it</h2>
      <div className={styles.row}>
        {fits && <RowField rows={open} row={row} onChoose={setChosen} />}
        <ViewsField views={filmed.form.bothViews} onChange={(bothViews) => onChange({ bothViews })} />
      </div>
      <Checkbox
        label="Enter it as a claim, too, for the Evidence view"
        checked={asClaim}
        onChange={(_, { checked }) => setAsClaim(checked === true)}
      />
      <div className={styles.row}>
        <Button appearance="primary" disabled={busy} onClick={writeAll}>
          {fits ? `Write the row to "${log.sheet}"` : "Write the row to a sheet"}
        </Button>
      </div>
      <div role="status" data-part="written">
        {done}
      </div>
      <p className={section.note}>
        Bend, its uncertainty, speed, film and time of the contact go under the log&apos;s own headings, in its units.
        Whether the recording is unbroken is said only after all frames were looked through.
      </p>
    </>
  );
}

/** A row of the sheet for films, where no log takes it. @returns what was written, in a sentence */
async function addFilm(port: Port, log: TrialLog | undefined, filmed: Filmed): Promise<string> {
  const added = await port.addRow(filmRow(filmed));
  return `Written to row ${added.row + 1} of the sheet "${added.sheet}": ${log ? `the log on "${log.sheet}" has no column of measured bends with a unit` : "there is no log"}.`;
}

/** Enters a filmed shot among the claims, on a new sheet where there is none. */
function useClaims(port: Port, sheet: string | undefined) {
  const data = useSheet(port, sheet);
  const log = useMemo(() => data && claimLogIn(data), [data]);
  /** @param before what was written already, for a message when this is not */
  return async (filmed: Filmed, before: string): Promise<string> => {
    try {
      if (log) return await writeIntoLog(port, log, filmed, undefined);
      const name = await port.addSheet(claimsSheet({ unit: filmed.form.units === "us" ? "in" : "mm" }));
      const made = claimLogIn(await port.read(name));
      if (!made) throw new Error(`the new sheet "${name}" was not understood.`);
      return await writeIntoLog(port, made, filmed, undefined);
    } catch (problem) {
      throw new Error(`only the claim is missing (${messageOf(problem)}). ${before}`, { cause: problem });
    }
  };
}

interface RowProps {
  /** Rows of the log without a bend, from 0. */
  readonly rows: readonly number[];
  /** The chosen one; undefined for a new row. */
  readonly row: number | undefined;
  onChoose(row: string): void;
}

function RowField({ rows, row, onChoose }: RowProps) {
  const text = (one: number | undefined) => (one === undefined ? "a new row" : `row ${one + 1}, no bend yet`);
  const value = (one: number | undefined) => (one === undefined ? NEW : String(one));
  return (
    <Field label="Row of the log" style={{ minWidth: 0 }}>
      <Dropdown
        style={{ minWidth: 0 }}
        value={text(row)}
        selectedOptions={[value(row)]}
        onOptionSelect={(_, { optionValue }) => onChoose(optionValue ?? NEW)}
      >
        {[undefined, ...rows].map((one) => (
          <Option key={value(one)} value={value(one)}>
            {text(one)}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}

interface ViewsProps {
  readonly views: VideoForm["bothViews"];
  onChange(views: VideoForm["bothViews"]): void;
}

function ViewsField({ views, onChange }: ViewsProps) {
  return (
    <Field label="Both views were filmed" style={{ minWidth: 0 }}>
      <Dropdown
        style={{ minWidth: 0 }}
        value={VIEWS[views]}
        selectedOptions={[views]}
        onOptionSelect={(_, { optionValue }) =>
          onChange(optionValue === "yes" || optionValue === "no" ? optionValue : "")
        }
      >
        {(["", "yes", "no"] as const).map((one) => (
          <Option key={one} value={one}>
            {VIEWS[one]}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
