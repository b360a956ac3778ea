/** The shot in one line and drawn to scale, its warnings, and what else it does in sentences. */
import { say, toText, type Said } from "../../experiment/language/said";
import { Checkbox, makeStyles, MessageBar, MessageBarBody, tokens } from "@fluentui/react-components";
import { useMemo } from "react";
import {
  arrivalSentence,
  bandSentence,
  beforeSentence,
  bendSentence,
  clearanceSentence,
  oneChange,
  SHOT_CAUTION,
  shotWarnings,
  shownSetting,
} from "../../experiment/shot/shotWords";
import { significant } from "../../experiment/language/wording";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { DrawnPicture } from "../plots/DrawnPicture";
import type { PictureTable } from "../plots/figureTable";
import { Handles } from "../plots/Handles";
import { shotHandles } from "./shotHandles";
import { TableDrawing, tableScale } from "./TableDrawing";
import type { ShownShot } from "./useShot";

interface Props {
  readonly shown: ShownShot;
  readonly theme: ThemeName;
  readonly label: string;
  readonly close: boolean;
  readonly onClose: (close: boolean) => void;
}

const TALLEST = 520;

const useStyles = makeStyles({
  line: { margin: "4px 0", fontWeight: tokens.fontWeightSemibold },
});

export function ShotPicture({ shown, theme, label, close, onClose }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const handles = useMemo(() => shotHandles(shown), [shown]);
  const { shot, computed, layout, spread, conditions } = shown;
  return (
    <div data-part="said" aria-live="polite">
      <p className={styles.line}>{toText(bendSentence(computed, spread.range, shot.units))}</p>
      <DrawnPicture
        title="Shot"
        theme={theme}
        drawing={TableDrawing}
        of={{ layout, band: spread.band, tallest: TALLEST, close, label }}
        table={() => tableOf(shown)}
        over={(drawn, width) => (
          <Handles handles={handles} scale={tableScale(layout, close, width, TALLEST)}>
            {drawn}
          </Handles>
        )}
      />
      {shotWarnings(shot, computed, layout, conditions).map((text) => (
        <MessageBar key={toText(text)} intent="warning" layout="multiline" style={{ margin: "4px 0" }}>
          <MessageBarBody>{toText(text)}</MessageBarBody>
        </MessageBar>
      ))}
      <Checkbox label="Look closer" checked={close} onChange={(_, { checked }) => onClose(checked === true)} />
      <MessageBar intent="info" layout="multiline" style={{ margin: "0 0 8px" }}>
        <MessageBarBody>{SHOT_CAUTION}</MessageBarBody>
      </MessageBar>
      <Said shown={shown} />
      <p className={section.note} data-part="in-the-band">
        {toText(bandSentence(shot))}
      </p>
      <p className={section.note}>
        Rings move contact, arrival, gates and obstacle, by hand or by the arrow keys. Full line: the ball&apos;s
        centre, with its band; dashed: the straight chord; filled balls: gates; crosses: marks at the widest swing; dark
        disc: obstacle, set by the gap from the near mark.
        {shot.origin !== "cushion" && " Ring away from the rail: the object ball's spot."}
        {shot.origin === "stroke" && " Grey ball: the cue ball, dotted where it hits."}
      </p>
    </div>
  );
}

function Said({ shown: { shot, computed, layout, conditions, spread } }: { shown: ShownShot }) {
  const section = useSectionStyles();
  const { units } = shot;
  const path = computed.bank?.path;
  const quiet = [
    path &&
      say`Leaves at ${shownSetting(path.departureAngle, "angle", units)}, arrives at ${shownSetting(path.arrival.angle, "angle", units)} with ${shownSetting(path.arrival.speed, "speed", units)}, ${{ slip: "still slipping", roll: "rolling", rest: "at rest" }[path.arrival.phase]}, after ${significant(path.arrival.time, 3)} s; widest ${shownSetting(path.swing.along, "across", units)} along the chord.`,
    shot.origin !== "cushion" && beforeSentence(shot, computed, conditions),
    path && arrivalSentence(shot, layout),
  ];
  return (
    <>
      <p className={section.sentence}>{toText(clearanceSentence(shot, layout))}</p>
      {quiet.map(
        (text) =>
          text && (
            <p key={toText(text)} className={`${section.sentence} ${section.quiet}`}>
              {toText(text)}
            </p>
          ),
      )}
      {path && <p className={section.sentence}>{toText(oneChange(spread.steps, path.bend, units))}</p>}
    </>
  );
}

/** The places of the drawing, from the corner at the left of the banked rail. */
function tableOf({ shot, layout: { touch, spot, cueBall, marked } }: ShownShot): PictureTable {
  const places: readonly (readonly [string, { readonly x: number; readonly y: number } | undefined])[] = [
    ["Contact", touch],
    ["Arrival", marked?.chord[1]],
    ["Gate at the cushion", marked?.gates[0]],
    ["Gate at the pocket", marked?.gates[1]],
    ["Near mark", marked?.nearMark],
    ["Far mark", marked?.farMark],
    ["Obstacle", marked?.obstacle],
    ["Object ball", spot],
    ["Cue ball", cueBall],
  ];
  const length = (value: number) => shownSetting(value, "along", shot.units);
  return {
    headings: ["What", "Along the banked rail", "From its nose"],
    rows: places.flatMap(([name, place]) => (place ? [[name, toText(length(place.x)), toText(length(place.y))]] : [])),
  };
}
