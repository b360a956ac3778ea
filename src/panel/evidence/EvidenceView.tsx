/** The Evidence view: claimed bends, the checks of what was recorded after each, and their standing. */
import { say, toText } from "../../experiment/language/said";
import { Button } from "@fluentui/react-components";
import { CHECK_KINDS, reasonOf, type Claim } from "../../experiment/evidence/evidence";
import type { ReachChoice } from "../../experiment/attempts/reachChoice";
import { claimsSheet, standingSheet } from "../../experiment/evidence/claimSheets";
import { claimsLog } from "../../experiment/evidence/readClaims";
import { standingPage } from "../../experiment/evidence/standingPage";
import type { EvidenceChoice } from "../../experiment/evidence/evidenceChoice";
import type { MeasureForm } from "../../experiment/measure/measureForm";
import type { Port, SheetSummary } from "../../workbook/port";
import { download } from "../frame/download";
import { selectCells } from "../frame/selectCells";
import { useSectionStyles } from "../frame/styles";
import type { ThemeName } from "../frame/palette";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";
import { ClaimsInFront } from "./ClaimsInFront";
import { RulesFields } from "./RulesFields";
import { useClaims, type ShownClaims } from "./useClaims";
import { WhyClaims } from "./WhyClaims";

interface Props {
  readonly port: Port;
  readonly sheets: readonly SheetSummary[];
  /** As kept with the workbook. */
  readonly kept: EvidenceChoice | undefined;
  readonly onKeep: (choice: EvidenceChoice) => void;
  /** The Measure view's budget and target; undefined where none is kept. */
  readonly measure: MeasureForm | undefined;
  /** How a log of attempts is asked. */
  readonly reach: ReachChoice | undefined;
  /** Of every interval; undefined for the usual. */
  readonly confidence: number | undefined;
  readonly theme: ThemeName;
  /** Makes the panel look at the sheets again. */
  readonly onRefresh: () => void;
  readonly onFailure: (text: string | undefined) => void;
}

export function EvidenceView(props: Props) {
  const { port, sheets, kept, onKeep, measure, reach, confidence, theme, onRefresh, onFailure } = props;
  const section = useSectionStyles();
  const shown = useClaims(port, sheets, kept, measure, reach, confidence);
  const { choice, sheet, data, log, claims, rules } = shown;
  const writing = useWriting(onFailure);
  const make = () =>
    writing.write("The sheet of claims was not made", async () => {
      const name = await port.addSheet(claimsSheet({ unit: rules.unit }));
      onKeep({ ...choice, sheet: name });
      onRefresh();
      return `The new sheet "${name}" has a column for everything that is checked: one claim a row.`;
    });
  const holdsNone = data && (!log || !claimsLog([log]));
  return (
    <div data-view="evidence" className={section.stack}>
      <ClaimsInFront shown={shown} theme={theme} />
      {data === null && sheet !== undefined && (
        <Warning text={`The sheet "${sheet}" is not in this workbook any more: choose another, or make one.`} />
      )}
      {holdsNone && (
        <p
          className={section.sentence}
        >{`The sheet "${sheet}" holds no claims yet: a row needs a bend and at least one of the checks, or it is an attempt with its gap and outcome.`}</p>
      )}
      {claims.length > 0 && sheet !== undefined && (
        <EveryClaim port={port} sheet={sheet} shown={shown} onFailure={onFailure} />
      )}
      <RulesFields
        shown={shown}
        sheets={sheets}
        measure={measure}
        onChange={(part) => onKeep({ ...choice, ...part })}
      />
      <Button disabled={writing.busy} onClick={make}>
        Make a sheet for claims
      </Button>
      {claims.length > 0 && <Publish port={port} shown={shown} writing={writing} />}
      <div role="status">{writing.done}</div>
      {claims.length > 0 && <WhyClaims shown={shown} sure={measure?.sure} />}
      <p className={section.note}>
        A claim stands when what was recorded after the shot shows that the layout still held. One that does not stays
        where it is, with the reason.
      </p>
    </div>
  );
}

interface ListProps {
  readonly port: Port;
  readonly sheet: string;
  readonly shown: ShownClaims;
  readonly onFailure: Props["onFailure"];
}

/** Each claim with its checks; a press selects its row. */
function EveryClaim({ port, sheet, shown: { log, claims }, onFailure }: ListProps) {
  const section = useSectionStyles();
  const select = (row: number) => {
    if (!log) return;
    const columns = log.columns.map(({ column }) => column);
    const first = Math.min(...columns);
    selectCells(port, sheet, { row, column: first, rows: 1, columns: Math.max(...columns) - first + 1 }, onFailure);
  };
  return (
    <ul className={section.list} aria-label="Claims" style={{ maxHeight: "none" }}>
      {claims.map((claim) => (
        <li key={claim.row}>
          <Button appearance="subtle" className={section.entry} onClick={() => select(claim.row)}>
            <span>{claimText(claim)}</span>
          </Button>
        </li>
      ))}
    </ul>
  );
}

const VERDICTS = { holds: "yes", fails: "no", "not recorded": "not recorded" } as const;

function claimText(claim: Claim): string {
  const checks = claim.checks.map(({ name, verdict }) => `${CHECK_KINDS[name].asks}: ${VERDICTS[verdict]}`).join("; ");
  const reason = reasonOf(claim);
  return toText(
    say`${claim.label}: ${claim.stands ? "stands" : "does not stand"}. ${checks}.${reason === undefined ? "" : say` Because ${reason}`}`,
  );
}

interface PublishProps {
  readonly port: Port;
  readonly shown: ShownClaims;
  readonly writing: ReturnType<typeof useWriting>;
}

function Publish({ port, shown, writing: { busy, write } }: PublishProps) {
  const section = useSectionStyles();
  const { log, claims, rules, choice, target, sheet } = shown;
  if (!log) return null;
  const publish = () => {
    const origin = sheet ?? "";
    const page = standingPage({
      title: "Standing of claimed bends",
      made: new Date(),
      rules,
      certainty: choice.certainty,
      target,
      claims: claims.map((claim) => ({ claim, origin })),
    });
    download(new Blob([page], { type: "text/html" }), "standing.html");
  };
  const toSheet = () =>
    write("The standing was not written", async () => {
      const name = await port.addSheet(standingSheet(log, claims, rules, choice.certainty));
      return `Written to the new sheet "${name}". The claims were not touched.`;
    });
  return (
    <>
      <Button appearance="primary" disabled={busy} onClick={toSheet}>
        Write the standing to a sheet
      </Button>
      <Button onClick={publish}>Publish the standing as a page</Button>
      <p className={section.note}>
        One file, standing.html, without scripts. For claims of several workbooks: bendbook gather FOLDER --claims.
      </p>
    </>
  );
}
