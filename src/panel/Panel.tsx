/**
 * The panel: the tabs of its views, what is said above all of them, and the view in front.
 */
import {
  FluentProvider,
  makeStyles,
  Spinner,
  Tab,
  TabList,
  teamsHighContrastTheme,
  tokens,
  webDarkTheme,
  webLightTheme,
  type Theme,
} from "@fluentui/react-components";
import { Fragment, useEffect, useState } from "react";
import type { Port } from "../workbook/port";
import { FileNotice } from "./frame/FileNotice";
import { HELP } from "./frame/help";
import { HelpNote } from "./frame/HelpNote";
import { OutsideNote } from "./frame/OutsideNote";
import type { ThemeName } from "./frame/palette";
import { differsBeyondView, VIEWS, type PanelSettings, type ViewName } from "./frame/settings";
import { Trouble } from "./frame/Trouble";
import { UndoBar } from "./frame/UndoBar";
import { usePanel } from "./frame/usePanel";
import { useSetup } from "./frame/useSetup";
import { useTheme } from "./frame/useTheme";
import { useUndo } from "./frame/useUndo";
import { ViewGuard } from "./frame/ViewGuard";
import { fetchViews } from "./laterViews";
import { ViewInFront } from "./ViewInFront";

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
  useEffect(fetchViews, []);
  const [restored, setRestored] = useState(0);
  const undo = useUndo(host, differsBeyondView, (text) => {
    state.restore(text);
    setRestored((before) => before + 1);
  });
  const { port } = undo;
  const state = usePanel(port, first);
  const [failure, setFailure] = useState<string>();
  const { settled, settings, change } = state;
  const setup = useSetup(port, settings);
  const trouble = failure ?? state.failure;
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
      <FileNotice />
      {trouble && <Trouble text={trouble} />}
      <OutsideNote log={state.view?.log} takeIn={settings.takeIn} onChange={change} />
      <Fragment key={restored}>
        <ViewGuard
          key={view}
          name={HELP[view].name}
          onForget={FORGOTTEN[view] && (() => change({ ...FORGOTTEN[view] }))}
        >
          <ViewInFront
            view={view}
            port={port}
            host={host}
            theme={theme}
            state={state}
            setup={setup}
            onView={showView}
            onFailure={setFailure}
          />
        </ViewGuard>
      </Fragment>
    </main>
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
    reach: undefined,
    table: undefined,
    headingRow: undefined,
  },
  shot: { shot: undefined, calibration: undefined },
  plan: { plan: undefined },
  shoot: { shoot: undefined },
  layout: { layout: undefined },
  video: { video: undefined },
  measure: { measure: undefined },
  evidence: { evidence: undefined },
  next: { next: undefined },
  report: { report: undefined },
};
