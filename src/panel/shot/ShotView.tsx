/**
 * The Shot view: sliders, the shot on the table to scale, what bends it, the best setting, the table's constants.
 *
 * The drawing and its numbers follow a slider at once; what needs hundreds of shots (band, curve, changes) follows from
 * a deferred copy of the settings, so that it never holds a slider back.
 */
import {
  Accordion,
  AccordionHeader,
  AccordionItem,
  AccordionPanel,
  Checkbox,
  Dropdown,
  Field,
  makeStyles,
  MessageBar,
  MessageBarBody,
  Option,
  tokens,
} from "@fluentui/react-components";
import { useCallback, useDeferredValue, useEffect, useMemo, useRef, useState, type ReactNode } from "react";
import type { Rail } from "../../bank/tableShape";
import { computeShot } from "../../experiment/shot/computedShot";
import { pathBand, shotLayout } from "../../experiment/shot/shotLayout";
import {
  conditionsOfShot,
  constantSets,
  DEFAULT_SHOT,
  fromOrigin,
  onRail,
  ORIGIN_LABELS,
  ORIGINS,
  SETTING_KINDS,
  type BendSetting,
  type Origin,
  type SettingName,
  type ShotSettings,
} from "../../experiment/shot/shotSettings";
import { bendRange, sensitivities } from "../../experiment/shot/shotSweep";
import {
  arrivalSentence,
  beforeSentence,
  bendSentence,
  SHOT_CAUTION,
  changeRows,
  clearanceSentence,
  oneChange,
  shotWarnings,
  shownSetting,
} from "../../experiment/shot/shotWords";
import type { TrialLog } from "../../experiment/log/trialLog";
import { significant } from "../../experiment/language/wording";
import type { Port } from "../../workbook/port";
import { PALETTES, type ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import type { CalibrationChoice } from "../frame/settings";
import { useWidth } from "../frame/useWidth";
import { BestSection } from "./BestSection";
import { CalibrateSection } from "../calibrate/CalibrateSection";
import { ChangesTable } from "./ChangesTable";
import { ConstantsSection } from "./ConstantsSection";
import { CurveSection } from "./CurveSection";
import { SendSection } from "./SendSection";
import { SettingSlider } from "./SettingSlider";
import { TableDrawing } from "./TableDrawing";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  /** The table of trials in the analysis, for the calibration. */
  readonly log: TrialLog | undefined;
  /** As kept with the workbook. */
  readonly kept: ShotSettings | undefined;
  readonly onKeep: (shot: ShotSettings) => void;
  /** Columns of the calibration, as kept with the workbook. */
  readonly calibration: CalibrationChoice | undefined;
  readonly onCalibration: (choice: CalibrationChoice) => void;
  readonly onFailure: (text: string | undefined) => void;
}

const useStyles = makeStyles({
  drawing: { display: "block", margin: "8px 0 0", "& svg": { maxWidth: "100%", display: "block" } },
  settings: { display: "grid", gridTemplateColumns: "repeat(auto-fit, minmax(250px, 1fr))", gap: "8px 24px" },
  row: { display: "flex", flexWrap: "wrap", gap: "8px 16px", alignItems: "end" },
  state: {
    display: "block",
    color: tokens.colorNeutralForeground2,
    fontSize: tokens.fontSizeBase200,
    fontWeight: tokens.fontWeightRegular,
  },
  head: { display: "block", padding: "6px 0" },
});

/** Settings are handed on to be kept once a slider has rested this long, in ms. */
const SHOWN_AFTER = 300;
const TALLEST = 520;
const ALWAYS: readonly SettingName[] = ["across", "along", "gap", "obstacleRadius"];
const SLIDERS: Readonly<Record<Origin, readonly SettingName[]>> = {
  cushion: ["speed", "angle", "roll", "side", ...ALWAYS],
  spot: ["speed", "angle", "roll", "side", "spotDistance", ...ALWAYS],
  stroke: ["cueSpeed", "tipUp", "tipRight", "cut", "cueRun", "angle", "spotDistance", ...ALWAYS],
};
const MEANINGS: Readonly<Record<Origin, string>> = {
  cushion:
    "Speed, angle, roll and side are those at the cushion. Roll: 1 natural roll, 0 stun, −1 full draw. Side: positive turns counter-clockwise seen from above. Angle: from square to the rail.",
  spot: "Speed, angle, roll and side are those with which the object ball leaves its spot. Roll: 1 natural roll, 0 stun, −1 full draw. Side: positive turns counter-clockwise seen from above. Angle: from square to the rail. Place on the rail: where it touches.",
  stroke:
    "Tip above and right of the ball's centre: in radii of the ball, at most half of one. Cut: from the stroke to the line of centres. Angle: of the line of centres, from square to the rail; throw turns the object ball off it. A level cue of 19 oz; no squirt. Friction of ball on ball 0.06, restitution 0.95 and that of the tip 0.75 are from memory, no source.",
};
const RAILS: Readonly<Record<Rail, string>> = { long: "long rail", short: "short rail" };
const UNITS = { us: "inches, mph", si: "metres, m/s" } as const;

export function ShotView({ port, theme, log, kept, onKeep, calibration, onCalibration, onFailure }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const [shot, setShot] = useState(kept ?? DEFAULT_SHOT);
  const [close, setClose] = useState(false);
  const [open, setOpen] = useState<string[]>(["set", "curve"]);
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  useKept(shot, onKeep);

  const change = useCallback((part: Partial<ShotSettings>) => setShot((before) => ({ ...before, ...part })), []);
  const setOne = useCallback(
    (setting: SettingName, value: number) => setShot((before) => ({ ...before, [setting]: value })),
    [],
  );
  const against = useCallback((setting: BendSetting) => setShot((before) => ({ ...before, against: setting })), []);

  const conditions = useMemo(
    () => conditionsOfShot({ constants: shot.constants, cushionModel: shot.cushionModel }),
    [shot.constants, shot.cushionModel],
  );
  const computed = useMemo(() => computeShot(shot, conditions), [shot, conditions]);
  const layout = useMemo(() => shotLayout(shot, computed, conditions), [shot, computed, conditions]);
  const later = useDeferredValue(shot);
  const spread = useMemo(() => {
    const sets = constantSets(later);
    return {
      band: pathBand(later, sets),
      range: bendRange(later, sets),
      slopes: sensitivities(later, conditionsOfShot(later)),
    };
  }, [later]);

  const { units } = shot;
  const path = computed.bank?.path;
  const bend = path?.bend ?? 0;
  const rows = changeRows(spread.slopes, bend, units);
  const warnings = shotWarnings(shot, computed, layout);
  const said = bendSentence(computed, spread.range, units);
  const label = `The table from above, banked from the ${RAILS[shot.rail]}, which is on top. ${said} ${clearanceSentence(shot, layout)}`;
  const view = close ? 0.62 : layout.table.depth / layout.table.width;
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
  return (
    <div data-view="shot">
      <MessageBar intent="info" layout="multiline" style={{ margin: "8px 0 0" }}>
        <MessageBarBody>{SHOT_CAUTION}</MessageBarBody>
      </MessageBar>
      <div ref={frame} className={styles.drawing}>
        <TableDrawing
          layout={layout}
          band={spread.band}
          palette={PALETTES[theme]}
          width={Math.min(width, view > 1 ? TALLEST / view : width)}
          close={close}
          label={label}
        />
      </div>
      <Checkbox label="Look closer" checked={close} onChange={(_, { checked }) => setClose(checked === true)} />
      <p className={section.note}>
        Full line: the ball&apos;s centre, its band from the table&apos;s constants; dashed: the straight chord; filled
        balls: gates; crosses: marks at the widest swing; dark disc: obstacle, set by the gap from the near mark.
        {shot.origin !== "cushion" && " Ring away from the rail: the object ball's spot."}
        {shot.origin === "stroke" && " Grey ball: the cue ball, dotted where it hits."}
      </p>
      <div aria-live="polite" data-part="said" style={{ marginTop: "8px" }}>
        <p className={section.sentence}>{said}</p>
        <p className={section.sentence}>{clearanceSentence(shot, layout)}</p>
        {path && (
          <p
            className={`${section.sentence} ${section.quiet}`}
          >{`Leaves at ${shownSetting(path.departureAngle, "angle", units)}, arrives at ${shownSetting(path.arrival.angle, "angle", units)} with ${shownSetting(path.arrival.speed, "speed", units)}, ${{ slip: "still slipping", roll: "rolling", rest: "at rest" }[path.arrival.phase]}, after ${significant(path.arrival.time, 3)} s; widest ${shownSetting(path.swing.along, "across", units)} along the chord.`}</p>
        )}
        {shot.origin !== "cushion" && (
          <p className={`${section.sentence} ${section.quiet}`}>{beforeSentence(shot, computed, conditions)}</p>
        )}
        {path && <p className={`${section.sentence} ${section.quiet}`}>{arrivalSentence(shot, layout)}</p>}
        {path && <p className={section.sentence}>{oneChange(rows, units)}</p>}
        {warnings.map((text) => (
          <MessageBar key={text} intent="warning" layout="multiline" style={{ margin: "4px 0" }}>
            <MessageBarBody>{text}</MessageBarBody>
          </MessageBar>
        ))}
      </div>
      <Accordion multiple collapsible openItems={open} onToggle={(_, { openItems }) => setOpen(openItems as string[])}>
        {step(
          "set",
          "Set the shot",
          `at ${ORIGIN_LABELS[shot.origin]}`,
          <div className={section.stack}>
            <div className={styles.row}>
              <Field label="Set at">
                <Dropdown
                  style={{ minWidth: "120px" }}
                  value={ORIGIN_LABELS[shot.origin]}
                  selectedOptions={[shot.origin]}
                  onOptionSelect={(_, { optionValue }) =>
                    optionValue && setShot((before) => fromOrigin(before, optionValue as Origin))
                  }
                >
                  {ORIGINS.map((origin) => (
                    <Option key={origin} value={origin}>
                      {ORIGIN_LABELS[origin]}
                    </Option>
                  ))}
                </Dropdown>
              </Field>
              <Field label="Banked from">
                <Dropdown
                  style={{ minWidth: "120px" }}
                  value={RAILS[shot.rail]}
                  selectedOptions={[shot.rail]}
                  onOptionSelect={(_, { optionValue }) =>
                    optionValue && setShot((before) => onRail(before, optionValue as Rail))
                  }
                >
                  {(Object.keys(RAILS) as Rail[]).map((rail) => (
                    <Option key={rail} value={rail}>
                      {RAILS[rail]}
                    </Option>
                  ))}
                </Dropdown>
              </Field>
              <Field label="Units">
                <Dropdown
                  style={{ minWidth: "120px" }}
                  value={UNITS[units]}
                  selectedOptions={[units]}
                  onOptionSelect={(_, { optionValue }) =>
                    optionValue && change({ units: optionValue as ShotSettings["units"] })
                  }
                >
                  {(["us", "si"] as const).map((one) => (
                    <Option key={one} value={one}>
                      {UNITS[one]}
                    </Option>
                  ))}
                </Dropdown>
              </Field>
            </div>
            <div className={styles.settings}>
              {SLIDERS[shot.origin].map((setting) => (
                <SettingSlider key={setting} setting={setting} shot={shot} onChange={setOne} />
              ))}
            </div>
            <p className={section.note}>{MEANINGS[shot.origin]}</p>
          </div>,
        )}
        {step(
          "curve",
          "See what bends it",
          `bend against ${SETTING_KINDS[shot.against].label.toLowerCase()}`,
          <div className={section.stack}>
            <CurveSection shot={later} against={shot.against} theme={theme} onAgainst={against} />
            <ChangesTable rows={rows} units={units} />
          </div>,
        )}
        {step(
          "best",
          "Find the best setting",
          "within limits that you set",
          <BestSection shot={shot} conditions={conditions} onChange={change} />,
        )}
        {step(
          "constants",
          "Table constants",
          `slip ${shot.constants.slipFriction.value}, nose ${shot.constants.noseFriction.value}, restitution ${shot.constants.restitution.value}`,
          <ConstantsSection constants={shot.constants} cushionModel={shot.cushionModel} onChange={change} />,
        )}
        {step(
          "calibrate",
          "Calibrate to your rows",
          "fit the constants to measured bends",
          <CalibrateSection
            log={log}
            shot={later}
            choice={calibration}
            onChoice={onCalibration}
            onChange={(constants) => change({ constants })}
          />,
        )}
        {step(
          "send",
          "Keep the shot",
          "a row on a sheet, the drawing as a file",
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
          />,
        )}
      </Accordion>
    </div>
  );
}

/** Hands the settings on once they rest, and at the latest when the view goes. */
function useKept(shot: ShotSettings, onKeep: (shot: ShotSettings) => void): void {
  const first = useRef(shot);
  const latest = useRef({ shot, onKeep });
  latest.current = { shot, onKeep };
  useEffect(() => {
    if (first.current === shot) return;
    const timer = setTimeout(() => {
      first.current = shot;
      latest.current.onKeep(shot);
    }, SHOWN_AFTER);
    return () => clearTimeout(timer);
  }, [shot]);
  useEffect(
    () => () => {
      if (first.current !== latest.current.shot) latest.current.onKeep(latest.current.shot);
    },
    [],
  );
}
