/**
 * The Shot view: the shot on the table to scale and in one line, its sliders, what bends it, the best setting, what to
 * measure on the own table.
 *
 * The drawing and its numbers follow a slider at once; what needs hundreds of shots (band, curve, changes) follows from
 * a deferred copy of the settings, so that it never holds a slider back.
 */
import { say, toText } from "../../experiment/language/said";
import { Accordion } from "@fluentui/react-components";
import { useCallback, useState } from "react";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { Setup } from "../../experiment/setup/setup";
import {
  DEFAULT_SHOT,
  ORIGIN_LABELS,
  SETTING_KINDS,
  type BendSetting,
  type ShotSettings,
} from "../../experiment/shot/shotSettings";
import { bendSentence, changeRows, clearanceSentence } from "../../experiment/shot/shotWords";
import type { Port } from "../../workbook/port";
import { CalibrateSection } from "../calibrate/CalibrateSection";
import { Step } from "../fields/Step";
import type { ThemeName } from "../frame/palette";
import type { CalibrationChoice, ViewName } from "../frame/settings";
import { useSectionStyles } from "../frame/styles";
import { BestSection } from "./BestSection";
import { ChangesTable } from "./ChangesTable";
import { CurveSection } from "./CurveSection";
import { MeasureFirst } from "./MeasureFirst";
import { SendSection } from "./SendSection";
import { RAILS, ShotFields } from "./ShotFields";
import { ShotPicture } from "./ShotPicture";
import { useShot, type ShownShot } from "./useShot";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  /** The table of trials in the analysis, for the calibration. */
  readonly log: TrialLog | undefined;
  /** As kept with the workbook. */
  readonly kept: ShotSettings | undefined;
  readonly onKeep: (shot: ShotSettings) => void;
  readonly setup: Setup;
  readonly onSetup: (setup: Setup) => void;
  readonly onView: (view: ViewName) => void;
  /** Columns of the calibration, as kept with the workbook. */
  readonly calibration: CalibrationChoice | undefined;
  /** Of every interval, where the person chose one. */
  readonly confidence: number | undefined;
  readonly onCalibration: (choice: CalibrationChoice) => void;
  readonly onFailure: (text: string | undefined) => void;
}

export function ShotView(props: Props) {
  const { theme, kept = DEFAULT_SHOT, setup, onKeep } = props;
  const [close, setClose] = useState(false);
  const shown = useShot(kept, setup, onKeep);
  const { shot, computed, layout, spread } = shown;
  const said = bendSentence(computed, spread.range, shot.units);
  const label = say`The table from above, banked from the ${RAILS[shot.rail]}, which is on top. ${said} ${clearanceSentence(shot, layout)}`;
  return (
    <div data-view="shot">
      <ShotPicture shown={shown} theme={theme} label={toText(label)} close={close} onClose={setClose} />
      <ShotSteps {...props} shown={shown} label={toText(label)} close={close} />
    </div>
  );
}

type StepsProps = Props & { readonly shown: ShownShot; readonly label: string; readonly close: boolean };

function ShotSteps(props: StepsProps) {
  const { shown, setup, log, calibration, onCalibration, onSetup, onView } = props;
  const { shot, later, conditions, change, setOne, turn } = shown;
  const [open, setOpen] = useState<string[]>(["set", "curve"]);
  const { slipFriction, noseFriction, restitution } = shot.constants;
  return (
    <Accordion multiple collapsible openItems={open} onToggle={(_, { openItems }) => setOpen(openItems as string[])}>
      <Step id="set" title="Set the shot" standing={`at ${ORIGIN_LABELS[shot.origin]}`}>
        <ShotFields shot={shot} onTurn={turn} onSetting={setOne} />
      </Step>
      <Step
        id="curve"
        title="See what bends it"
        standing={`bend against ${SETTING_KINDS[shot.against].label.toLowerCase()}`}
      >
        <Bends shown={shown} theme={props.theme} />
      </Step>
      <Step id="best" title="Find the best setting" standing="that somebody can shoot into the pocket">
        <BestSection shot={shot} conditions={conditions} onChange={change} />
      </Step>
      <Step
        id="constants"
        title="What to measure on your table"
        standing={`slip ${slipFriction.value}, nose ${noseFriction.value}, restitution ${restitution.value}`}
      >
        <MeasureFirst shot={later} setup={setup} onSetup={() => onView("setup")} />
      </Step>
      <Step id="calibrate" title="Calibrate to your rows" standing="fit the constants to measured bends">
        <CalibrateSection
          log={log}
          shot={later}
          choice={calibration}
          confidence={props.confidence}
          onChoice={onCalibration}
          onChange={(constants) => onSetup({ ...setup, ...constants })}
        />
      </Step>
      <Step id="send" title="Keep the shot" standing="a row on a sheet, the drawing as a file">
        <Keep {...props} />
      </Step>
    </Accordion>
  );
}

function Bends({ shown: { shot, later, computed, spread, change }, theme }: Pick<StepsProps, "shown" | "theme">) {
  const section = useSectionStyles();
  const against = useCallback((setting: BendSetting) => change({ against: setting }), [change]);
  const rows = changeRows(spread.steps, computed.bank?.path?.bend ?? 0, shot.units);
  return (
    <div className={section.stack}>
      <CurveSection shot={later} against={shot.against} theme={theme} onAgainst={against} />
      <ChangesTable rows={rows} units={shot.units} />
    </div>
  );
}

function Keep({ port, shown, label, close, onFailure }: StepsProps) {
  const { shot, computed, conditions, layout, spread } = shown;
  return (
    <SendSection
      port={port}
      shot={shot}
      computed={computed}
      conditions={conditions}
      layout={layout}
      band={spread.band}
      range={spread.range}
      label={label}
      close={close}
      onFailure={onFailure}
    />
  );
}
