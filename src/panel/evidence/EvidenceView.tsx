/** The Evidence view: claimed bends, the checks of what was recorded after each, and their standing. */
import { Button, Checkbox, Dropdown, Field, Option } from "@fluentui/react-components";
import { useMemo } from "react";
import {
  CHECK_KINDS,
  evidenceSentences,
  missingChecks,
  missingSentence,
  reasonOf,
  standings,
} from "../../experiment/evidence/evidence";
import type { ReachChoice } from "../../experiment/attempts/reachChoice";
import { claimsSheet, standingSheet } from "../../experiment/evidence/claimSheets";
import { verdictSentences } from "../../experiment/evidence/claimWords";
import { claimsLog, readClaims } from "../../experiment/evidence/readClaims";
import { standingPage } from "../../experiment/evidence/standingPage";
import type { MeasureForm } from "../../experiment/measure/measureForm";
import { unitOf } from "../../experiment/shot/shotSettings";
import { findTrialLogs } from "../../experiment/log/trialLog";
import { significant } from "../../experiment/language/wording";
import type { Port, SheetSummary } from "../../workbook/port";
import { named, NumberField, PERCENT } from "../fields/NumberField";
import { claimsFigure } from "../plots/claimsFigure";
import { FigureView } from "../plots/FigureView";
import { download } from "../frame/download";
import { selectCells } from "../frame/selectCells";
import { useSectionStyles } from "../frame/styles";
import { useSheet } from "../frame/useSheet";
import type { ThemeName } from "../frame/palette";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";
import {
  budgetUncertainty,
  claimsSheetOf,
  FIRST_EVIDENCE,
  rulesOf,
  type EvidenceChoice,
} from "../../experiment/evidence/evidenceChoice";

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
  readonly theme: ThemeName;
  /** Makes the panel look at the sheets again. */
  readonly onRefresh: () => void;
  readonly onFailure: (text: string | undefined) => void;
}

export function EvidenceView({ port, sheets, kept, onKeep, measure, reach, theme, onRefresh, onFailure }: Props) {
  const section = useSectionStyles();
  const choice = kept ?? FIRST_EVIDENCE;
  const change = (part: Partial<EvidenceChoice>) => onKeep({ ...choice, ...part });
  const visible = sheets.filter(({ hidden }) => !hidden).map(({ name }) => name);
  const sheet = choice.sheet ?? claimsSheetOf(choice, sheets);
  const data = useSheet(port, sheet);
  const { busy, done, write } = useWriting(onFailure);
  const { rules } = useMemo(() => rulesOf(choice, measure), [choice, measure]);
  const { unit } = rules;
  const log = useMemo(() => {
    if (!data) return undefined;
    const logs = findTrialLogs(data);
    return claimsLog(logs) ?? logs[0];
  }, [data]);
  const claims = useMemo(() => (log ? readClaims(log, rules, reach) : []), [log, rules, reach]);
  const sides = useMemo(() => standings(claims, choice.certainty), [claims, choice.certainty]);
  const small = unitOf("small", choice.units);
  const target = measure && measure.target / small.size;
  const figure = useMemo(() => claimsFigure(sides, rules, target), [sides, rules, target]);
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
  const select = (row: number) => {
    if (!log || sheet === undefined) return;
    const columns = log.columns.map(({ column }) => column);
    selectCells(
      port,
      sheet,
      {
        row,
        column: Math.min(...columns),
        rows: 1,
        columns: Math.max(...columns) - Math.min(...columns) + 1,
      },
      onFailure,
    );
  };
  const make = () =>
    write("The sheet of claims was not made", async () => {
      const name = await port.addSheet(claimsSheet({ unit }));
      onKeep({ ...choice, sheet: name });
      onRefresh();
      return `The new sheet "${name}" has a column for everything that is checked: one claim a row.`;
    });
  return (
    <div data-view="evidence" className={section.stack}>
      <p className={section.note}>
        A claim stands when what was recorded after the shot shows that the layout still held. One that does not stays
        where it is, with the reason.
      </p>
      <div className={section.fields}>
        <Field label="Sheet of claims" style={{ minWidth: 0 }}>
          <Dropdown
            style={{ minWidth: 0 }}
            value={sheet ?? "none yet"}
            selectedOptions={sheet === undefined ? [] : [sheet]}
            onOptionSelect={(_, { optionValue }) => optionValue && change({ sheet: optionValue })}
          >
            {visible.map((name) => (
              <Option key={name} value={name}>
                {name}
              </Option>
            ))}
          </Dropdown>
        </Field>
        <NumberField
          name={named("May be off by", small)}
          value={choice.tolerance}
          unit={small}
          low={0.0001}
          high={0.05}
          onChange={(tolerance) => change({ tolerance })}
        />
        <NumberField
          name={named("Uncertainty where none is named", small)}
          value={choice.uncertainty}
          unit={small}
          low={0.00001}
          high={0.05}
          onChange={(uncertainty) => change({ uncertainty })}
        />
        <NumberField
          name="Larger with (%)"
          value={choice.certainty}
          unit={PERCENT}
          low={0.5001}
          high={0.9999}
          onChange={(certainty) => change({ certainty })}
        />
      </div>
      <Button disabled={busy} onClick={make}>
        Make a sheet for claims
      </Button>
      {data === null && sheet !== undefined && (
        <Warning text={`The sheet "${sheet}" is not in this workbook any more: choose another, or make one.`} />
      )}
      {measure && (
        <Checkbox
          label={`Where none is named take the Measure view's budget of one reading (${significant(budgetUncertainty(measure) / small.size, 2)} ${small.name})`}
          checked={choice.byBudget}
          onChange={(_, { checked }) => change({ byBudget: checked === true })}
        />
      )}
      {data && (!log || !claimsLog([log])) && (
        <p
          className={section.sentence}
        >{`The sheet "${sheet}" holds no claims yet: a row needs a bend and at least one of the checks, or it is an attempt with its gap and outcome.`}</p>
      )}
      {log && claims.length > 0 && (
        <>
          <div data-part="evidence" aria-live="polite">
            {[...evidenceSentences(claims, rules), missingSentence(missingChecks(log))].map(
              (text) =>
                text && (
                  <p key={text} className={section.sentence}>
                    {text}
                  </p>
                ),
            )}
          </div>
          <h2 className={section.subhead}>Standing</h2>
          {sides.length === 0 && <p className={section.note}>No claim stands.</p>}
          {sides.map(({ side, standing }) => (
            <div key={side} className={section.scroll}>
              <table className={section.table} data-part={`standing-${side}`}>
                <caption>{`Bends ${side}`}</caption>
                <thead>
                  <tr>
                    <th>Rank</th>
                    <th>Claim</th>
                    <th className="number">{`Bend (${unit})`}</th>
                    <th>Tied with</th>
                  </tr>
                </thead>
                <tbody>
                  {standing.map(({ claim, rank, tiedWith }) => (
                    <tr key={claim.row}>
                      <th style={{ minWidth: 0 }}>{rank}</th>
                      <td>{claim.label}</td>
                      <td className="number">{`${significant(claim.bend, 4)} (u ${significant(claim.uncertainty, 2)})`}</td>
                      <td>{tiedWith.join(", ") || "nobody"}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          ))}
          {figure && (
            <FigureView figure={figure} theme={theme} />
          )}
          <h2 className={section.subhead}>Was it reached?</h2>
          {claims
            .filter(({ bend }) => bend !== undefined)
            .map((claim) => (
              <p key={claim.row} className={section.sentence} data-part="verdict">
                {verdictSentences(claim, rules, target, measure?.sure).join(" ")}
              </p>
            ))}
          <h2 className={section.subhead}>Every claim</h2>
          <ul className={section.list} aria-label="Claims" style={{ maxHeight: "none" }}>
            {claims.map((claim) => (
              <li key={claim.row}>
                <Button appearance="subtle" className={section.entry} onClick={() => select(claim.row)}>
                  <span>
                    {`${claim.label}: ${claim.stands ? "stands" : "does not stand"}. ${claim.checks.map(({ name, verdict }) => `${CHECK_KINDS[name].asks}: ${verdict === "holds" ? "yes" : verdict === "fails" ? "no" : "not recorded"}`).join("; ")}. ${reasonOf(claim) ? `Because ${reasonOf(claim)}` : ""}`}
                  </span>
                </Button>
              </li>
            ))}
          </ul>
          <Button
            appearance="primary"
            disabled={busy}
            onClick={() =>
              write(
                "The standing was not written",
                async () =>
                  `Written to the new sheet "${await port.addSheet(standingSheet(log, claims, rules, choice.certainty))}". The claims were not touched.`,
              )
            }
          >
            Write the standing to a sheet
          </Button>
          <Button onClick={publish}>Publish the standing as a page</Button>
          <p className={section.note}>
            One file, standing.html, without scripts. For claims of several workbooks: bendbook gather FOLDER --claims.
          </p>
        </>
      )}
      <div role="status">{done}</div>
    </div>
  );
}
