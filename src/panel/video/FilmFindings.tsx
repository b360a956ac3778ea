/** What a film shows beneath the answer: the path off its chord and on the table, the check length, the frames. */
import { say, toText, joinTexts } from "../../experiment/language/said";
import { makeStyles } from "@fluentui/react-components";
import { INCH } from "../../bank/units";
import { unitOf } from "../../experiment/shot/shotSettings";
import { checkSentence } from "../../experiment/video/checkWords";
import type { FilmedShot } from "../../experiment/video/filmedShot";
import { clockSentence } from "../../experiment/video/filmTime";
import { frameSentences, frameTimes, type FrameTimes } from "../../experiment/video/frameTimes";
import type { VideoForm } from "../../experiment/video/videoForm";
import { videoHeadline, videoReasons } from "../../experiment/video/videoWords";
import { PALETTES, type ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { ChordDrawing } from "./ChordDrawing";
import { FlatDrawing } from "./FlatDrawing";

interface Props {
  readonly found: FilmedShot;
  readonly form: VideoForm;
  /** Of the whole film, once it was looked through. */
  readonly frames: FrameTimes | undefined;
  readonly theme: ThemeName;
}

const useStyles = makeStyles({ why: { "& summary": { cursor: "pointer", minHeight: "24px" } } });

export function FilmFindings({ found, form, frames, theme }: Props) {
  const section = useSectionStyles();
  const { map, path, shot, checked } = found;
  const known = frames ?? frameTimes(form.points.map(({ time }) => time));
  return (
    <>
      {shot && <Bend shot={shot} path={path} form={form} theme={theme} />}
      {map && path.length > 0 && (
        <FlatDrawing
          length={form.railLength / INCH}
          width={form.tableWidth / INCH}
          ball={form.ballDiameter / INCH}
          places={path}
          path={shot?.path ?? []}
          palette={PALETTES[theme]}
          label={`The table from above, the banked rail at the top, ${path.length} places of the ball.`}
        />
      )}
      {map && (
        <p className={section.sentence} data-part="check">
          {toText(checkSentence(form, checked))}
        </p>
      )}
      {known && form.points.length > 0 && (
        <p className={section.sentence} data-part="frames">
          {toText(joinTexts([...frameSentences(known, frames !== undefined), clockSentence(form)], " "))}
        </p>
      )}
    </>
  );
}

interface BendProps extends Pick<Props, "form" | "theme">, Pick<FilmedShot, "path"> {
  readonly shot: NonNullable<FilmedShot["shot"]>;
}

function Bend({ shot, path, form, theme }: BendProps) {
  const styles = useStyles();
  const section = useSectionStyles();
  const small = unitOf("small", form.units);
  const leftOut = new Set(shot.leftOut);
  const seen = path.filter((_, i) => (form.points[i]?.time ?? 0) >= shot.contactTime && !leftOut.has(i));
  return (
    <>
      <ChordDrawing
        seen={seen}
        path={shot.path}
        size={INCH / small.size}
        unit={small.name}
        palette={PALETTES[theme]}
        label={toText(
          say`Distance of the ball from the straight line between the contact and the last point seen. ${videoHeadline(shot, form)}.`,
        )}
      />
      <details className={styles.why}>
        <summary>Why?</summary>
        {videoReasons(shot, form).map((text) => (
          <p key={toText(text)} className={section.sentence}>
            {toText(text)}
          </p>
        ))}
      </details>
    </>
  );
}
