/** The Report view: one command that makes a sheet and a page for printing. */
import { Button, Dropdown, Field, Input, Option, Textarea } from "@fluentui/react-components";
import { useState } from "react";
import type { Paper } from "../../experiment/layout/layoutForm";
import { usableLanguage } from "../../experiment/language/locale";
import { reportSheet } from "../../experiment/report/reportSheet";
import type { Port } from "../../workbook/port";
import { download } from "../frame/download";
import { Fold } from "../frame/Fold";
import type { ThemeName } from "../frame/palette";
import { printOrGive } from "../frame/fileDoor";
import { useSectionStyles } from "../frame/styles";
import type { PanelSettings } from "../frame/settings";
import { useWriting } from "../frame/useWriting";
import type { PanelView } from "../frame/view";
import { collectReport } from "./collect";
import { firstReport, type ReportForm } from "../../experiment/report/reportForm";
import { printPage } from "./printPage";
import { ReportInFront } from "./ReportInFront";
import { reportPage } from "./reportPage";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  /** The answer that is reported. */
  readonly view: PanelView | undefined;
  readonly settings: PanelSettings;
  /** As kept with the workbook. */
  readonly kept: ReportForm | undefined;
  readonly onKeep: (form: ReportForm) => void;
  readonly onFailure: (text: string | undefined) => void;
}

export function ReportView({ port, theme, view, settings, kept, onKeep, onFailure }: Props) {
  const section = useSectionStyles();
  const language = usableLanguage(navigator.language);
  const form = kept ?? firstReport(language);
  const change = (part: Partial<ReportForm>) => onKeep({ ...form, ...part });
  const { busy, done, write } = useWriting(onFailure);
  const [page, setPage] = useState<string>();
  const make = () =>
    write("The report was not made", async () => {
      const { report, drawings } = await collectReport(port, view, settings, form, new Date(), language);
      const sheet = await port.addSheet(reportSheet(report, language));
      const html = reportPage(report, drawings, language, form.paper);
      setPage(html);
      download(new Blob([html], { type: "text/html" }), "report.html");
      return `The report is on the new sheet "${sheet}" and, with its plots, in the file report.html, which opens and prints anywhere. No other cell was touched.`;
    });
  const subject = subjectOf(view);
  return (
    <div data-view="report" className={section.stack}>
      {subject === undefined || !view?.log ? (
        <p className={section.line} data-part="line">
          There is no answer to report yet: choose rows and a question in the Analysis view.
        </p>
      ) : (
        <ReportInFront view={view} plainFirst={settings.plainFirst === true} theme={theme} />
      )}
      <Field label="Title">
        <Input
          value={form.title}
          placeholder={subject === undefined ? "" : `${subject}: a report`}
          onChange={(_, { value }) => change({ title: value })}
        />
      </Field>
      <Field label="Why it was asked, in your own words">
        <Textarea value={form.purpose} resize="vertical" onChange={(_, { value }) => change({ purpose: value })} />
      </Field>
      <PaperField paper={form.paper} onChange={(paper) => change({ paper })} />
      <Button appearance="primary" disabled={busy || subject === undefined} onClick={make}>
        Make the report
      </Button>
      {page && <Button onClick={() => printOrGive(page, "report.html", printPage)}>Print it</Button>}
      <div role="status">{done}</div>
      <Fold title="What is in it" standing="the answer first, then all that it takes to check and repeat it" part="why">
        <p className={section.note}>
          Question, table and conditions, plan, method, every row counted in or out, results with intervals in inches
          and metric, a verdict on the target, plots, evidence, limits, and what it takes to repeat it. The answer is
          that of the Analysis view; plan, budget and claims come from their views.
        </p>
      </Fold>
    </div>
  );
}

/** What the report is about, in a few words; undefined without an answer. */
function subjectOf(view: PanelView | undefined): string | undefined {
  if (view?.reachAsked) return "how far it bends, and how surely";
  if (view?.comparison) return `${view.comparison.analysis.choice.response} among ${view.comparison.among}`;
  return (view?.made ?? view?.analysis)?.choice.response;
}

function PaperField({ paper, onChange }: { paper: Paper; onChange: (paper: Paper) => void }) {
  return (
    <Field label="Paper">
      <Dropdown
        value={paper}
        selectedOptions={[paper]}
        onOptionSelect={(_, { optionValue }) => optionValue && onChange(optionValue as Paper)}
      >
        <Option value="A4">A4</Option>
        <Option value="Letter">Letter</Option>
      </Dropdown>
    </Field>
  );
}
