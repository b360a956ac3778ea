/** The view that the tabs put in front, with what it needs of the panel's state. */
import { Spinner } from "@fluentui/react-components";
import { Suspense, useMemo, type ReactElement } from "react";
import { namedSessions } from "../experiment/question/choice";
import type { Port } from "../workbook/port";
import type { ThemeName } from "./frame/palette";
import type { PanelSettings, ViewName } from "./frame/settings";
import { withSetup } from "./frame/setupSettings";
import type { PanelState } from "./frame/usePanel";
import type { SetupState } from "./frame/useSetup";
import { logIn } from "./frame/view";
import { Steps, type OpenSteps } from "./Steps";
import { later } from "./laterViews";

interface Props {
  readonly view: ViewName;
  readonly port: Port;
  /** The same workbook without memory of what was written, for a view that takes back by itself. */
  readonly host: Port;
  readonly theme: ThemeName;
  readonly state: PanelState;
  readonly setup: SetupState;
  /** Whether the panel stands there for its first shot. */
  readonly eager: boolean;
  /** Steps of the analysis that are open, and how to open others. */
  readonly openSteps: OpenSteps;
  onView(view: ViewName): void;
  onFailure(text: string | undefined): void;
}

/** The view in front. Views other than the analysis come when they are first asked for, or when the page has time. */
export function ViewInFront(props: Props) {
  return (
    <Suspense fallback={<Spinner label="Opening the view …" />}>
      <ChosenView {...props} />
    </Suspense>
  );
}

/** What the views take of the panel's state. */
function usePartsOf({ port, state, setup: { setup }, onFailure }: Props) {
  const settings = useMemo(() => withSetup(state.settings, setup, navigator.language), [state.settings, setup]);
  return {
    settings,
    setup,
    confidence: settings.confidence,
    log: state.view?.log,
    sessions: state.view?.choice && namedSessions(state.view.choice),
    keep:
      <Name extends keyof PanelSettings>(name: Name) =>
      (value: PanelSettings[Name]) =>
        state.change({ [name]: value }),
    common: { port, onFailure },
  };
}

type Parts = Omit<Props, "view" | "setup"> & ReturnType<typeof usePartsOf> & { readonly set: SetupState };

function ChosenView({ view, setup: set, ...rest }: Props) {
  return SHOWN[view]({ ...rest, set, ...usePartsOf({ view, setup: set, ...rest }) });
}

/** Each view, made of what it needs. */
const SHOWN: Readonly<Record<ViewName, (parts: Parts) => ReactElement>> = {
  start: ({ setup, confidence, log, sessions, common, theme, state, eager, onView }) => (
    <later.start
      {...common}
      theme={theme}
      log={log}
      data={state.data}
      sessions={sessions}
      confidence={confidence}
      units={setup.units}
      ball={setup.ballDiameter.value}
      eager={eager}
      onLog={(sheet) => state.change({ sheet, table: undefined, headingRow: undefined })}
      onView={onView}
    />
  ),
  setup: ({ set, port, theme }) => <later.setup port={port} theme={theme} state={set} />,
  plan: ({ settings, setup, log, sessions, keep, common, theme }) => (
    <later.plan
      {...common}
      theme={theme}
      log={log}
      sessions={sessions}
      kept={settings.plan}
      units={setup.units}
      onKeep={keep("plan")}
    />
  ),
  shot: ({ set, settings, setup, confidence, log, keep, common, theme, onView }) => (
    <later.shot
      {...common}
      theme={theme}
      log={log}
      kept={settings.shot}
      setup={setup}
      onSetup={set.change}
      onKeep={keep("shot")}
      onView={onView}
      confidence={confidence}
      calibration={settings.calibration}
      onCalibration={keep("calibration")}
    />
  ),
  layout: ({ settings, keep, common, theme }) => (
    <later.layout {...common} theme={theme} kept={settings.layout} onKeep={keep("layout")} shot={settings.shot} />
  ),
  shoot: ({ settings, setup, log, keep, common, host, theme, state }) => (
    <later.shoot
      {...common}
      host={host}
      theme={theme}
      data={state.data}
      log={log}
      readLog={(data) => logIn(data, settings)}
      kept={settings.shoot}
      onKeep={keep("shoot")}
      setup={setup}
      onSheet={(sheet) => state.change({ sheet, table: undefined, headingRow: undefined })}
    />
  ),
  video: ({ settings, confidence, log, keep, common, theme, state }) => (
    <later.video
      {...common}
      theme={theme}
      log={log}
      sheets={state.sheets}
      claims={settings.evidence}
      kept={settings.video}
      confidence={confidence}
      onKeep={keep("video")}
    />
  ),
  analysis: ({ common, theme, state, openSteps }) => <Steps {...common} theme={theme} state={state} open={openSteps} />,
  next: ({ settings, log, keep, common, theme, state }) => (
    <later.next
      {...common}
      theme={theme}
      log={log}
      choice={state.view?.choice}
      reach={state.view?.reachAsked}
      plainFirst={settings.plainFirst === true}
      shot={settings.shot}
      kept={settings.next}
      onKeep={keep("next")}
    />
  ),
  measure: ({ settings, confidence, log, keep, common, theme, state }) => (
    <later.measure
      {...common}
      theme={theme}
      layout={settings.layout}
      log={log}
      kept={confidence === undefined ? settings.measure : { ...settings.measure, confidence }}
      untyped={state.settings.measure === undefined}
      onKeep={keep("measure")}
    />
  ),
  evidence: ({ settings, confidence, keep, common, theme, state }) => (
    <later.evidence
      {...common}
      sheets={state.sheets}
      kept={settings.evidence}
      measure={settings.measure}
      reach={settings.reach}
      confidence={confidence}
      theme={theme}
      onKeep={keep("evidence")}
      onRefresh={state.refresh}
    />
  ),
  report: ({ settings, keep, common, theme, state }) => (
    <later.report
      {...common}
      theme={theme}
      view={state.view}
      settings={settings}
      kept={settings.report}
      onKeep={keep("report")}
    />
  ),
};
