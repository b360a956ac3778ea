/** The view that the tabs put in front, with what it needs of the panel's state. */
import { Spinner } from "@fluentui/react-components";
import { Suspense, useMemo } from "react";
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

function ChosenView({ view, port, host, theme, state, setup: set, eager, openSteps, onView, onFailure }: Props) {
  const { change } = state;
  const { setup } = set;
  const settings = useMemo(() => withSetup(state.settings, setup, navigator.language), [state.settings, setup]);
  const { units } = setup;
  const { confidence } = settings;
  const log = state.view?.log;
  const sessions = state.view?.choice && namedSessions(state.view.choice);
  const keep =
    <Name extends keyof PanelSettings>(name: Name) =>
    (value: PanelSettings[Name]) =>
      change({ [name]: value });
  const common = { port, onFailure };
  switch (view) {
    case "analysis":
      return <Steps {...common} theme={theme} state={state} open={openSteps} />;
    case "shot":
      return (
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
      );
    case "setup":
      return <later.setup port={port} theme={theme} state={set} />;
    case "shoot":
      return (
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
          onSheet={(sheet) => change({ sheet, table: undefined, headingRow: undefined })}
        />
      );
    case "plan":
      return (
        <later.plan
          {...common}
          theme={theme}
          log={log}
          sessions={sessions}
          kept={settings.plan}
          units={units}
          onKeep={keep("plan")}
        />
      );
    case "layout":
      return (
        <later.layout {...common} theme={theme} kept={settings.layout} onKeep={keep("layout")} shot={settings.shot} />
      );
    case "video":
      return (
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
      );
    case "measure":
      return (
        <later.measure
          {...common}
          theme={theme}
          layout={settings.layout}
          log={log}
          kept={confidence === undefined ? settings.measure : { ...settings.measure, confidence }}
          untyped={state.settings.measure === undefined}
          onKeep={keep("measure")}
        />
      );
    case "evidence":
      return (
        <later.evidence
          {...common}
          sheets={state.sheets}
          kept={settings.evidence}
          measure={settings.measure}
          reach={settings.reach}
          theme={theme}
          onKeep={keep("evidence")}
          onRefresh={state.refresh}
        />
      );
    case "next":
      return (
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
      );
    case "report":
      return (
        <later.report
          {...common}
          theme={theme}
          view={state.view}
          settings={settings}
          kept={settings.report}
          onKeep={keep("report")}
        />
      );
    case "start":
      return (
        <later.start
          {...common}
          theme={theme}
          log={log}
          data={state.data}
          sessions={sessions}
          confidence={confidence}
          units={units}
          ball={setup.ballDiameter.value}
          eager={eager}
          onLog={(sheet) => change({ sheet, table: undefined, headingRow: undefined })}
          onView={onView}
        />
      );
    default:
      return view satisfies never;
  }
}
