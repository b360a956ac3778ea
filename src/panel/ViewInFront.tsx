/** The view that the tabs put in front, with what it needs of the panel's state. */
import type { Port } from "../workbook/port";
import { EvidenceView } from "./evidence/EvidenceView";
import type { ThemeName } from "./frame/palette";
import type { PanelSettings, ViewName } from "./frame/settings";
import type { PanelState } from "./frame/usePanel";
import { LayoutView } from "./layout/LayoutView";
import { MeasureView } from "./measure/MeasureView";
import { NextView } from "./next/NextView";
import { PlanView } from "./plan/PlanView";
import { ReportView } from "./report/ReportView";
import { ShotView } from "./shot/ShotView";
import { StartView } from "./start/StartView";
import { Steps } from "./Steps";

interface Props {
  readonly view: ViewName;
  readonly port: Port;
  readonly theme: ThemeName;
  readonly state: PanelState;
  onView(view: ViewName): void;
  onFailure(text: string | undefined): void;
}

export function ViewInFront({ view, port, theme, state, onView, onFailure }: Props) {
  const { settings, change } = state;
  const log = state.view?.log;
  const keep =
    <Name extends keyof PanelSettings>(name: Name) =>
    (value: PanelSettings[Name]) =>
      change({ [name]: value });
  const common = { port, onFailure };
  switch (view) {
    case "analysis":
      return <Steps {...common} theme={theme} state={state} />;
    case "shot":
      return (
        <ShotView
          {...common}
          theme={theme}
          log={log}
          kept={settings.shot}
          onKeep={keep("shot")}
          calibration={settings.calibration}
          onCalibration={keep("calibration")}
        />
      );
    case "plan":
      return <PlanView {...common} log={log} kept={settings.plan} onKeep={keep("plan")} />;
    case "layout":
      return (
        <LayoutView {...common} theme={theme} kept={settings.layout} onKeep={keep("layout")} shot={settings.shot} />
      );
    case "measure":
      return <MeasureView {...common} log={log} kept={settings.measure} onKeep={keep("measure")} />;
    case "evidence":
      return (
        <EvidenceView
          {...common}
          sheets={state.sheets}
          kept={settings.evidence}
          onKeep={keep("evidence")}
          onRefresh={state.refresh}
        />
      );
    case "next":
      return (
        <NextView
          {...common}
          log={log}
          choice={state.view?.choice}
          shot={settings.shot}
          kept={settings.next}
          onKeep={keep("next")}
        />
      );
    case "report":
      return (
        <ReportView {...common} view={state.view} settings={settings} kept={settings.report} onKeep={keep("report")} />
      );
    case "start":
      return (
        <StartView
          {...common}
          log={log}
          onLog={(sheet) => change({ sheet, table: undefined, headingRow: undefined })}
          onView={onView}
        />
      );
    default:
      return view satisfies never;
  }
}
