/** The Video view: a film from the disk, marks in it, the ball followed from frame to frame, the bend that it shows. */
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useDeferredValue, useMemo, useRef, useState } from "react";
import { INCH } from "../../bank/units";
import type { EvidenceChoice } from "../../experiment/evidence/evidenceChoice";
import type { TrialLog } from "../../experiment/log/trialLog";
import { unitOf } from "../../experiment/shot/shotSettings";
import { filmedShot } from "../../experiment/video/filmedShot";
import { frameSentences, frameTimes } from "../../experiment/video/frameTimes";
import { FIRST_VIDEO, isOfFilm, type VideoForm } from "../../experiment/video/videoForm";
import { videoByline, videoHeadline, videoReasons } from "../../experiment/video/videoWords";
import { checkSentence } from "../../experiment/video/checkWords";
import type { Port, SheetSummary } from "../../workbook/port";
import { Care } from "../frame/Care";
import { PALETTES, type ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { JobBar } from "../worker/JobBar";
import { ChordDrawing } from "./ChordDrawing";
import { FilmPicture } from "./FilmPicture";
import { FlatDrawing } from "./FlatDrawing";
import { FrameButtons } from "./FrameButtons";
import { MarkButtons } from "./MarkButtons";
import { SizesSection } from "./SizesSection";
import { useFilm } from "./useFilm";
import { useFollowing } from "./useFollowing";
import { useMarks } from "./useMarks";
import { WriteSection } from "./WriteSection";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly log: TrialLog | undefined;
  readonly sheets: readonly SheetSummary[];
  /** Where claims stand. */
  readonly claims: EvidenceChoice | undefined;
  /** As kept with the workbook. */
  readonly kept: VideoForm | undefined;
  readonly units: VideoForm["units"];
  readonly onKeep: (form: VideoForm) => void;
  readonly onFailure: (text: string | undefined) => void;
}

const useStyles = makeStyles({
  headline: {
    fontSize: tokens.fontSizeBase500,
    lineHeight: tokens.lineHeightBase500,
    fontWeight: tokens.fontWeightSemibold,
    margin: 0,
  },
  empty: {
    border: `1px dashed ${tokens.colorNeutralStroke1}`,
    padding: "32px 12px",
    display: "flex",
    flexDirection: "column",
    alignItems: "center",
    gap: "8px",
    textAlign: "center",
  },
  why: { "& summary": { cursor: "pointer", minHeight: "24px" } },
});

export function VideoView({ port, theme, log, sheets, claims, kept, units, onKeep, onFailure }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const palette = PALETTES[theme];
  const canvas = useRef<HTMLCanvasElement>(null);
  const picker = useRef<HTMLInputElement>(null);
  const form = useMemo(() => ({ ...(kept ?? FIRST_VIDEO), units }), [kept, units]);
  const change = (part: Partial<VideoForm>) => onKeep({ ...form, ...part });
  const open = useFilm(canvas, onFailure);
  const { film, doing } = open;
  const [zoom, setZoom] = useState(1);
  const marks = useMarks(form, onKeep, film, open.time);
  const calm = useDeferredValue(form);
  const known = useMemo(() => frameTimes(calm.points.map(({ time }) => time)), [calm.points]);
  const found = useMemo(() => filmedShot(calm, known?.rate), [calm, known]);
  const follow = useFollowing(open, form, onKeep, found.map);
  const frames = follow.frames ?? known;
  const { map, path, shot, checked, wanted } = found;
  const small = unitOf("small", form.units);
  const isOther = film !== undefined && form.film !== undefined && form.points.length > 0 && !isOfFilm(form, film.file);
  const used = new Set(shot?.leftOut);
  const after = (i: number) => shot !== undefined && (calm.points[i]?.time ?? 0) >= shot.contactTime;
  const choose = (file: File | undefined) => {
    if (!file) return;
    setZoom(1);
    follow.forget();
    open.open(file, form.fileRate);
  };
  const chooser = (
    <Button appearance={film ? "secondary" : "primary"} onClick={() => picker.current?.click()}>
      {film ? "Open another film" : "Open a film"}
    </Button>
  );
  return (
    <div data-view="video" className={section.stack}>
      <input
        ref={picker}
        type="file"
        accept="video/*,.mp4,.webm,.mov,.m4v,.mkv"
        hidden
        aria-label="Film"
        onChange={(event) => {
          choose(event.target.files?.[0]);
          event.target.value = "";
        }}
      />
      {film ? (
        <FilmPicture
          canvas={canvas}
          width={film.width}
          height={film.height}
          zoom={zoom}
          marks={marks.shown}
          lines={marks.lines}
          points={isOther ? [] : form.points}
          leftOut={used}
          path={map && shot && !isOther ? shot.path.map((place) => map.toPicture(place)) : []}
          palette={palette}
          label={`${film.file.name} at ${open.time.toFixed(3)} s. Arrow keys step from frame to frame, with Shift by ten. ${marks.next}`}
          onPlace={marks.place}
          onMove={marks.move}
          onRemove={marks.remove}
          onStep={open.step}
        />
      ) : (
        <div className={styles.empty}>
          {chooser}
          <span className={section.note}>
            It is read on this computer and goes nowhere. Film from a stand, high up, with all four corners of the
            playing surface in the picture.
          </span>
          {form.film && form.points.length > 0 && (
            <span
              className={section.note}
            >{`The marks and ${form.points.length} places of the ball in "${form.film.name}" are kept with this workbook; the film is not. Open it to go on.`}</span>
          )}
        </div>
      )}
      <div data-part="answer" aria-live="polite">
        <h2 className={styles.headline}>
          {shot ? videoHeadline(shot, form) : film ? (wanted ?? "") : "No film is open"}
        </h2>
        {shot && <p className={section.note}>{videoByline(shot, form)}</p>}
      </div>
      {doing && <JobBar doing={doing.what} share={doing.share} onCancel={open.cancel} />}
      <div role="status" data-part="said">
        {follow.said}
      </div>
      {isOther && (
        <p className={section.sentence} data-part="other-film">
          {`The ball's places are those of "${form.film?.name}". Marking the ball in this film begins anew; the corners stay, but look whether the camera moved.`}
        </p>
      )}
      {film && (
        <>
          <FrameButtons open={open} form={form} shot={isOther ? undefined : shot} zoom={zoom} onZoom={setZoom} />
          <MarkButtons marks={marks} form={form} follow={follow} busy={doing !== undefined} onKeep={onKeep} />
        </>
      )}
      {shot && (
        <>
          <ChordDrawing
            seen={path.filter((_, i) => after(i) && !used.has(i))}
            path={shot.path}
            size={INCH / small.size}
            unit={small.name}
            palette={palette}
            label={`Distance of the ball from the straight line between the contact and the last point seen. ${videoHeadline(shot, form)}.`}
          />
          <details className={styles.why}>
            <summary>Why?</summary>
            {videoReasons(shot).map((text) => (
              <p key={text} className={section.sentence}>
                {text}
              </p>
            ))}
          </details>
        </>
      )}
      {map && path.length > 0 && (
        <FlatDrawing
          length={form.railLength / INCH}
          width={form.tableWidth / INCH}
          ball={form.ballDiameter / INCH}
          places={path}
          path={shot?.path ?? []}
          palette={palette}
          label={`The table from above, the banked rail at the top, ${path.length} places of the ball.`}
        />
      )}
      {map && (
        <p className={section.sentence} data-part="check">
          {checkSentence(form, checked)}
        </p>
      )}
      {frames && form.points.length > 0 && (
        <p className={section.sentence} data-part="frames">
          {frameSentences(frames, follow.frames !== undefined).join(" ")}
        </p>
      )}
      {shot && (
        <WriteSection
          port={port}
          log={log}
          sheets={sheets}
          claims={claims}
          filmed={{ shot, form, unbroken: follow.frames && follow.frames.gaps.length === 0 }}
          onChange={change}
          onFailure={onFailure}
        />
      )}
      <SizesSection form={form} onChange={change} tellsTimes={film?.tellsTimes ?? true} />
      {film && <div>{chooser}</div>}
      <Care>
        Nobody&apos;s face and no hand that holds a camera goes on the shot line at bed height while a ball is moving. A
        stand that can fall stands where it falls on nobody.
      </Care>
    </div>
  );
}
