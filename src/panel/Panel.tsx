/**
 * The panel: what is said above all views, the way from one to the other, and the view in front.
 */
import {
  FluentProvider,
  makeStyles,
  Spinner,
  teamsHighContrastTheme,
  tokens,
  webDarkTheme,
  webLightTheme,
  type Theme,
} from "@fluentui/react-components";
import { useEffect, useMemo, useState } from "react";
import { nextStep, type NextStep } from "../experiment/start/nextStep";
import type { Port } from "../workbook/port";
import { FileNotice } from "./frame/FileNotice";
import { HELP } from "./frame/help";
import { OutsideNote } from "./frame/OutsideNote";
import type { HostTheme, ThemeName } from "./frame/palette";
import { PanelHead } from "./frame/PanelHead";
import { setupInUnits, unitsInForce } from "./frame/personSettings";
import { PreferencesContext, usePreferences, type KeptPreferences } from "./frame/preferences";
import { differsBeyondView, type PanelSettings, type ViewName } from "./frame/settings";
import { Trouble } from "./frame/Trouble";
import { UndoBar } from "./frame/UndoBar";
import { usePanel, type PanelState } from "./frame/usePanel";
import { useSetup, type SetupState } from "./frame/useSetup";
import { useTheme } from "./frame/useTheme";
import { useUndo } from "./frame/useUndo";
import { ViewGuard } from "./frame/ViewGuard";
import { ViewTabs } from "./frame/ViewTabs";
import { fetchViews } from "./laterViews";
import { ViewInFront } from "./ViewInFront";

const THEMES: Readonly<Record<ThemeName, Theme>> = {
  light: webLightTheme,
  dark: webDarkTheme,
  contrast: teamsHighContrastTheme,
};

const useStyles = makeStyles({
  page: {
    minHeight: "100%",
    boxSizing: "border-box",
    padding: "4px 12px 0",
    // Not hidden, which would be a scroll of its own: what lies at the lower edge lies at that of the panel.
    overflowX: "clip",
    overflowWrap: "break-word",
    backgroundColor: tokens.colorNeutralBackground1,
    color: tokens.colorNeutralForeground1,
    // On the full page lines stay short enough to be read.
    maxWidth: "1100px",
    margin: "0 auto",
    "@media (pointer: coarse)": {
      "& .fui-Button, & .fui-Input, & [role=combobox], & summary, & .fui-Slider": { minHeight: "48px" },
      "& .fui-Checkbox, & .fui-Radio, & .fui-Switch": { minHeight: "48px", alignItems: "center" },
    },
    // What has the keyboard is not hidden behind the bar at the lower edge.
    "& :focus-visible": { scrollMarginBottom: "60px" },
    "@media (prefers-reduced-motion: reduce)": {
      "& *": { transitionDuration: "0.01ms !important", animationDuration: "0.01ms !important" },
    },
  },
});

interface PanelProps {
  readonly port: Port;
  /** Theme that the host wants; the system's when missing. */
  readonly theme?: HostTheme;
  /** View to show first; the one that was kept with the workbook when missing. */
  readonly first?: ViewName;
  /** What the person prefers, in every workbook. */
  readonly preferences: KeptPreferences;
}

export function Panel({ port, theme, first, preferences }: PanelProps) {
  return (
    <PreferencesContext.Provider value={preferences}>
      <Themed port={port} theme={theme} first={first} />
    </PreferencesContext.Provider>
  );
}

function Themed({ port, theme: host, first }: Omit<PanelProps, "preferences">) {
  const [{ theme: chosen }] = usePreferences();
  const system = useTheme();
  const theme = system === "contrast" ? system : chosen === "system" ? (host ?? system) : chosen;
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
  const { undo, state, restored } = usePanelWithUndo(host, first);
  const { port } = undo;
  const { settings, change } = state;
  // What is open stays open when something is taken back.
  const openSteps = useState<readonly string[]>([]);
  const { view, showView, eager, failure, setFailure } = useViewInFront(state, first);
  const setup = usePersonSetup(port, settings);
  const next = useNextStep(state, setup.sheet !== undefined);
  const trouble = failure ?? state.failure;
  const read = state.settled && (view !== "analysis" || state.data);
  if (!read && !(state.settled && trouble)) {
    return (
      <div className={styles.page}>
        <Spinner label="Reading the workbook …" />
      </div>
    );
  }
  return (
    <main className={styles.page} aria-label="Bendbook">
      <PanelHead view={view} host={port.host} units={setup.setup.units} confidence={confidenceOf(state)} />
      <ViewTabs view={view} next={next} onView={showView} />
      <FileNotice />
      {trouble && <Trouble text={trouble} />}
      <OutsideNote log={state.view?.log} takeIn={settings.takeIn} onChange={change} />
      <div role="tabpanel" id="view-in-front" aria-labelledby={`tab-${view}`} key={restored}>
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
            eager={eager}
            openSteps={openSteps}
            onView={showView}
            onFailure={setFailure}
          />
        </ViewGuard>
      </div>
      <UndoBar undo={undo} />
    </main>
  );
}

/** The panel's state over a port that can take back; `restored` counts how often settings were taken back. */
function usePanelWithUndo(host: Port, first: ViewName | undefined) {
  const [restored, setRestored] = useState(0);
  const undo = useUndo(host, differsBeyondView, (text) => {
    state.restore(text);
    setRestored((before) => before + 1);
  });
  const state = usePanel(undo.port, first);
  return { undo, state, restored };
}

/** Which view is in front, and what failed in it. */
function useViewInFront({ settings, change }: PanelState, first: ViewName | undefined) {
  const [failure, setFailure] = useState<string>();
  const [eager, setEager] = useState(first === "start");
  const view: ViewName = settings.view ?? "analysis";
  /** What failed in the view before is no trouble of the next one. */
  const showView = (to: ViewName) => {
    setFailure(undefined);
    setEager(false);
    change({ view: to });
  };
  return { view, showView, eager, failure, setFailure };
}

/** The set-up in the units that the person prefers. */
function usePersonSetup(port: Port, settings: PanelSettings): SetupState {
  const setup = useSetup(port, settings);
  const [{ units }] = usePreferences();
  return setupInUnits(setup, unitsInForce(units, setup, settings));
}

function useNextStep({ data, view, sheets }: PanelState, setup: boolean): NextStep | undefined {
  const log = view?.log;
  return useMemo(
    () => (data ? nextStep({ log, setup, sheets: sheets.map(({ name }) => name) }) : undefined),
    [data, log, setup, sheets],
  );
}

/** Of the intervals that are shown: the person's, else the question's own. */
function confidenceOf({ settings, view }: PanelState): number {
  const asked =
    view && { explain: view.choice, made: view.makes, compare: view.compare, reach: view.reaches }[view.ask];
  return settings.confidence ?? asked?.confidence ?? 0.95;
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
