/**
 * The panel: the analysis, six steps that are each closed to a line saying how it stands, and beside it the Shot view.
 */
import {
  Accordion,
  AccordionHeader,
  AccordionItem,
  AccordionPanel,
  FluentProvider,
  makeStyles,
  MessageBar,
  MessageBarBody,
  Spinner,
  Tab,
  TabList,
  teamsHighContrastTheme,
  tokens,
  webDarkTheme,
  webLightTheme,
  type Theme,
} from "@fluentui/react-components";
import { Fragment, useMemo, useState, type ReactNode } from "react";
import { changedChoices, changedMade } from "../experiment/trust/changedChoices";
import { madeSheet, resultsSheet } from "../experiment/report/resultsSheet";
import { logName } from "../experiment/log/trialLog";
import { counted, significant } from "../experiment/language/wording";
import type { Port } from "../workbook/port";
import { VERSION } from "../version";
import { figureChoices } from "./plots/figureChoices";
import type { ThemeName } from "./frame/palette";
import { AnswerSection } from "./question/AnswerSection";
import { ChangesSection } from "./trust/ChangesSection";
import { CheckSection } from "./question/CheckSection";
import { CompareSection } from "./question/CompareSection";
import { KeepSection } from "./question/KeepSection";
import { LookSection } from "./question/LookSection";
import { MadeSection } from "./question/MadeSection";
import { QuestionSection } from "./question/QuestionSection";
import { RowsSection } from "./question/RowsSection";
import { MadeTrustSection, TrustSection } from "./trust/TrustSection";
import { EvidenceView } from "./evidence/EvidenceView";
import { HELP } from "./frame/help";
import { HelpNote } from "./frame/HelpNote";
import { LayoutView } from "./layout/LayoutView";
import { MeasureView } from "./measure/MeasureView";
import { NextView } from "./next/NextView";
import { OutsideNote } from "./frame/OutsideNote";
import { PlanView } from "./plan/PlanView";
import { ReportView } from "./report/ReportView";
import { selectCells } from "./frame/selectCells";
import { differsBeyondView, VIEWS, type PanelSettings, type ViewName } from "./frame/settings";
import { ShotView } from "./shot/ShotView";
import { StartView } from "./start/StartView";
import { UndoBar } from "./frame/UndoBar";
import { usePanel, type PanelState } from "./frame/usePanel";
import { ViewGuard } from "./frame/ViewGuard";
import type { PanelView } from "./frame/view";
import { useTheme } from "./frame/useTheme";
import { useUndo } from "./frame/useUndo";

const THEMES: Readonly<Record<ThemeName, Theme>> = {
  light: webLightTheme,
  dark: webDarkTheme,
  contrast: teamsHighContrastTheme,
};

const useStyles = makeStyles({
  tabs: { flexWrap: "wrap" },
  page: {
    minHeight: "100%",
    boxSizing: "border-box",
    padding: "8px 12px 24px",
    overflowX: "hidden",
    backgroundColor: tokens.colorNeutralBackground1,
    color: tokens.colorNeutralForeground1,
  },
  title: {
    fontSize: tokens.fontSizeBase500,
    lineHeight: tokens.lineHeightBase500,
    fontWeight: tokens.fontWeightSemibold,
    margin: "4px 40px 4px 0",
  },
  state: {
    display: "block",
    color: tokens.colorNeutralForeground2,
    fontSize: tokens.fontSizeBase200,
    fontWeight: tokens.fontWeightRegular,
  },
  head: { display: "block", padding: "6px 0" },
});

interface PanelProps {
  readonly port: Port;
  /** Theme that the host wants; the system's when missing. */
  readonly theme?: ThemeName;
  /** View to show first; the one that was kept with the workbook when missing. */
  readonly first?: ViewName;
}

export function Panel({ port, theme: wanted, first }: PanelProps) {
  const system = useTheme();
  const theme = wanted ?? system;
  return (
    <FluentProvider theme={THEMES[theme]} style={{ minHeight: "100%" }}>
      <Views port={port} theme={theme} first={first} />
    </FluentProvider>
  );
}

/** The views and the switch between them; only the analysis needs a sheet. */
function Views({ port: host, theme, first }: { port: Port; theme: ThemeName; first: ViewName | undefined }) {
  const styles = useStyles();
  const [restored, setRestored] = useState(0);
  const undo = useUndo(host, differsBeyondView, (text) => {
    state.restore(text);
    setRestored((before) => before + 1);
  });
  const { port } = undo;
  const state = usePanel(port, first);
  const [failure, setFailure] = useState<string>();
  const { settled, settings, change } = state;
  const trouble = failure ?? state.failure;
  const keep =
    <Name extends keyof PanelSettings>(name: Name) =>
    (value: PanelSettings[Name]) =>
      change({ [name]: value });
  const reading = !settled || ((settings.view ?? "analysis") === "analysis" && !state.data);
  if (reading && !(settled && trouble)) {
    return (
      <div className={styles.page}>
        <Spinner label="Reading the workbook …" />
      </div>
    );
  }
  const view: ViewName = settings.view ?? "analysis";
  /** What failed in the view before is no trouble of the next one. */
  const showView = (next: ViewName) => {
    setFailure(undefined);
    change({ view: next });
  };
  return (
    <main className={styles.page} aria-label="Bendbook">
      <h1 className={styles.title}>Bendbook</h1>
      <TabList
        size="small"
        className={styles.tabs}
        selectedValue={view}
        onTabSelect={(_, { value }) => showView(value as ViewName)}
        aria-label="Views"
      >
        {VIEWS.map((name) => (
          <Tab key={name} value={name}>
            {HELP[name].name}
          </Tab>
        ))}
      </TabList>
      <HelpNote key={view} view={view} host={port.host} />
      <UndoBar undo={undo} />
      {trouble && <Trouble text={trouble} />}
      <OutsideNote log={state.view?.log} takeIn={settings.takeIn} onChange={change} />
      <Fragment key={restored}>
        <ViewGuard
          key={view}
          name={HELP[view].name}
          onForget={FORGOTTEN[view] && (() => change({ ...FORGOTTEN[view] }))}
        >
          {view === "shot" && (
            <ShotView
              port={port}
              theme={theme}
              log={state.view?.log}
              kept={settings.shot}
              onKeep={keep("shot")}
              calibration={settings.calibration}
              onCalibration={keep("calibration")}
              onFailure={setFailure}
            />
          )}
          {view === "plan" && (
            <PlanView
              port={port}
              log={state.view?.log}
              kept={settings.plan}
              onKeep={keep("plan")}
              onFailure={setFailure}
            />
          )}
          {view === "layout" && (
            <LayoutView
              port={port}
              kept={settings.layout}
              onKeep={keep("layout")}
              shot={settings.shot}
              onFailure={setFailure}
            />
          )}
          {view === "measure" && (
            <MeasureView
              port={port}
              log={state.view?.log}
              kept={settings.measure}
              onKeep={keep("measure")}
              onFailure={setFailure}
            />
          )}
          {view === "evidence" && (
            <EvidenceView
              port={port}
              sheets={state.sheets}
              kept={settings.evidence}
              onKeep={keep("evidence")}
              onRefresh={state.refresh}
              onFailure={setFailure}
            />
          )}
          {view === "next" && (
            <NextView
              port={port}
              log={state.view?.log}
              choice={state.view?.choice}
              shot={settings.shot}
              kept={settings.next}
              onKeep={keep("next")}
              onFailure={setFailure}
            />
          )}
          {view === "report" && (
            <ReportView
              port={port}
              view={state.view}
              settings={settings}
              kept={settings.report}
              onKeep={keep("report")}
              onFailure={setFailure}
            />
          )}
          {view === "start" && (
            <StartView
              port={port}
              log={state.view?.log}
              onLog={(sheet) => change({ sheet, table: undefined, headingRow: undefined })}
              onView={showView}
              onFailure={setFailure}
            />
          )}
          {view === "analysis" && <Steps port={port} theme={theme} state={state} onFailure={setFailure} />}
        </ViewGuard>
      </Fragment>
    </main>
  );
}

function Steps({
  port,
  theme,
  state,
  onFailure: setFailure,
}: {
  port: Port;
  theme: ThemeName;
  state: PanelState;
  onFailure: (text: string | undefined) => void;
}) {
  const styles = useStyles();
  const [open, setOpen] = useState<string[]>(["answer", "look"]);
  const { view, data, change } = state;

  const select = (row: number, column: number, columns = 1) => {
    if (!data) return;
    selectCells(port, data.sheet, { row, column, rows: 1, columns }, setFailure);
  };
  const shown = view?.analysis ?? view?.made;
  const rowsOf = shown?.sheetRows ?? [];
  const pickRow = (index: number) => {
    if (!shown) return;
    const columns = shown.log.columns.map(({ column }) => column);
    const first = Math.min(...columns);
    select(rowsOf[index], first, Math.max(...columns) - first + 1);
  };
  const changes = useMemo(
    () =>
      view?.made
        ? changedMade.bind(undefined, view.made)
        : view?.analysis && changedChoices.bind(undefined, view.analysis),
    [view],
  );
  const choices = useMemo(() => (view ? figureChoices(view) : undefined), [view]);

  if (!view || !data) return null;
  const { log, check, analysis, comparison, made, problem } = view;
  const plainFirst = state.settings.plainFirst === true;
  const onPlainFirst = (plain: boolean) => change({ plainFirst: plain });
  const step = (id: string, title: string, standing: string, content: ReactNode) => (
    <AccordionItem value={id} key={id}>
      <AccordionHeader as="h2" expandIconPosition="end">
        <span className={styles.head}>
          {title}
          <span className={styles.state}>{standing}</span>
        </span>
      </AccordionHeader>
      <AccordionPanel style={{ margin: 0 }} data-step={id}>
        {content}
      </AccordionPanel>
    </AccordionItem>
  );
  const share = analysis?.regression.rSquared;
  return (
    <>
      {problem && <Trouble text={problem} />}
      <Accordion multiple collapsible openItems={open} onToggle={(_, { openItems }) => setOpen(openItems as string[])}>
        {step("rows", "Choose rows", log ? logName(log) : data.sheet, <RowsSection {...state} />)}
        {log &&
          check &&
          step(
            "check",
            "Check rows",
            `${check.used.length} used, ${check.leftOut.length} left out, ${check.suspicious.length} to look at`,
            <CheckSection log={log} check={check} confidence={view.choice?.confidence ?? 0.95} onSelect={select} />,
          )}
        {log &&
          log.rows.length > 0 &&
          step(
            "question",
            "Choose a question",
            questionStanding(view),
            <QuestionSection log={log} view={view} onChange={(next) => change({ sheet: data.sheet, ...next })} />,
          )}
        {analysis &&
          !comparison &&
          step(
            "answer",
            "Read the answer",
            analysis.regression.residual.sd === null
              ? "no rows left over to judge it by"
              : share === null || share === undefined
                ? "no variation to explain"
                : `${significant(100 * share, 3)} % of the variation${analysis.choice.constant ? "" : " about 0"} explained`,
            <AnswerSection
              analysis={analysis}
              aware={view.aware}
              plainFirst={plainFirst}
              onPlainFirst={onPlainFirst}
              at={state.settings.at ?? NOWHERE}
              onAt={(at) => change({ at })}
            />,
          )}
        {comparison &&
          step(
            "answer",
            "Read the answer",
            `${counted(comparison.comparison.pairs.length, "pair")} of ${comparison.among}`,
            <CompareSection
              answer={comparison}
              aware={view.aware}
              plainFirst={plainFirst}
              onPlainFirst={onPlainFirst}
            />,
          )}
        {made &&
          step(
            "answer",
            "Read the answer",
            `${made.logistic.made} of ${counted(made.logistic.rows, "shot")} made`,
            <MadeSection
              made={made}
              sessions={view.madeSessions}
              plainFirst={plainFirst}
              onPlainFirst={onPlainFirst}
              at={state.settings.madeAt ?? NOWHERE}
              onAt={(madeAt) => change({ madeAt })}
            />,
          )}
        {choices &&
          step(
            "look",
            "Look",
            "plots; a click on a point selects its row",
            <LookSection
              choices={choices}
              sheetRows={rowsOf}
              analysis={analysis}
              theme={theme}
              onPick={pickRow}
              onFailure={setFailure}
            />,
          )}
        {analysis &&
          step(
            "trust",
            "Trust the answer",
            "checks, rows that pull hardest, intervals drawn anew",
            <TrustSection analysis={analysis} onPick={pickRow} />,
          )}
        {made &&
          step(
            "trust",
            "Trust the answer",
            "enough shots, a curve that fits, shots left out",
            <MadeTrustSection made={made} />,
          )}
        {changes &&
          shown &&
          step(
            "changes",
            "What each choice changed",
            "the effects with every choice made otherwise",
            <ChangesSection make={changes} confidence={shown.choice.confidence} />,
          )}
        {(analysis || made) &&
          step(
            "keep",
            "Keep",
            "write the results as a sheet",
            <KeepSection
              port={port}
              make={(name, at) =>
                made
                  ? madeSheet(made, state.settings.madeAt ?? NOWHERE, name, at, VERSION)
                  : resultsSheet(analysis!, name, at, VERSION, comparison)
              }
              onFailure={setFailure}
            />,
          )}
      </Accordion>
    </>
  );
}

/** What is forgotten to begin a view anew. */
const FORGOTTEN: Readonly<Partial<Record<ViewName, Partial<PanelSettings>>>> = {
  analysis: {
    ask: undefined,
    choice: undefined,
    made: undefined,
    madeAt: undefined,
    at: undefined,
    comparison: undefined,
    table: undefined,
    headingRow: undefined,
  },
  shot: { shot: undefined, calibration: undefined },
  plan: { plan: undefined },
  layout: { layout: undefined },
  measure: { measure: undefined },
  evidence: { evidence: undefined },
  next: { next: undefined },
  report: { report: undefined },
};

/** Nothing typed as settings: the middle of the rows. */
const NOWHERE = {};

/** The question in one line. */
function questionStanding({ ask, choice: explains, makes, compare }: PanelView): string {
  const choice = ask === "made" ? makes : explains;
  if (ask === "compare")
    return compare ? `${compare.response} among the levels of ${compare.among}` : "nothing to compare";
  return choice
    ? `${choice.response} against ${choice.drivers.map(({ heading }) => heading).join(", ") || "nothing yet"}`
    : "nothing that can be asked";
}

function Trouble({ text }: { text: string }) {
  return (
    <MessageBar intent="warning" layout="multiline" style={{ margin: "8px 0" }}>
      <MessageBarBody>{text}</MessageBarBody>
    </MessageBar>
  );
}
