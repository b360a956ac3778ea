/** The Video view: a film from the disk, marks in it, the ball followed from frame to frame, the bend that it shows. */
import { useDeferredValue, useMemo, useRef, useState } from "react";
import type { EvidenceChoice } from "../../experiment/evidence/evidenceChoice";
import type { TrialLog } from "../../experiment/log/trialLog";
import { filmedShot } from "../../experiment/video/filmedShot";
import { isOfFilm, type VideoForm } from "../../experiment/video/videoForm";
import type { Port, SheetSummary } from "../../workbook/port";
import { Care } from "../frame/Care";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { JobBar } from "../worker/JobBar";
import { FilmAnswer } from "./FilmAnswer";
import { FilmChooser } from "./FilmChooser";
import { FilmFindings } from "./FilmFindings";
import { FilmPicture } from "./FilmPicture";
import { FrameButtons } from "./FrameButtons";
import { MarkButtons } from "./MarkButtons";
import { NoFilm } from "./NoFilm";
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
  /** As kept with the workbook, with what the set-up says. */
  readonly kept: VideoForm;
  /** Of the interval, where the person chose one. */
  readonly confidence: number | undefined;
  readonly onKeep: (form: VideoForm) => void;
  readonly onFailure: (text: string | undefined) => void;
}

const CONFIDENCE = 0.95;

export function VideoView(props: Props) {
  const section = useSectionStyles();
  const state = useVideo(props);
  const { form, open, marks, follow, found, isOther, change, choose, zoom, setZoom } = state;
  const { film, doing } = open;
  const { shot } = found;
  const chooser = <FilmChooser again={film !== undefined} onChoose={choose} />;
  return (
    <div data-view="video" className={section.stack}>
      {film ? (
        <FilmPicture
          canvas={state.canvas}
          film={film}
          time={open.time}
          zoom={zoom}
          marks={marks}
          points={isOther ? [] : form.points}
          found={isOther ? undefined : found}
          theme={props.theme}
          onStep={open.step}
        />
      ) : (
        <NoFilm form={form}>{chooser}</NoFilm>
      )}
      <FilmAnswer found={found} form={form} open={film !== undefined} confidence={state.confidence} />
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
          <MarkButtons marks={marks} form={form} follow={follow} busy={doing !== undefined} onKeep={props.onKeep} />
        </>
      )}
      <FilmFindings found={found} form={state.calm} frames={follow.frames} theme={props.theme} />
      {shot && (
        <WriteSection
          {...props}
          filmed={{ shot, form, unbroken: follow.frames && follow.frames.gaps.length === 0 }}
          onChange={change}
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

/** The form, the open film, what is marked in it, and what follows; the last a little later than the marks. */
function useVideo({ kept: form, confidence = CONFIDENCE, onKeep, onFailure }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const open = useFilm(canvas, onFailure);
  const { film } = open;
  const [zoom, setZoom] = useState(1);
  const marks = useMarks(form, onKeep, film, open.time);
  const calm = useDeferredValue(form);
  const found = useMemo(() => filmedShot(calm, confidence), [calm, confidence]);
  const follow = useFollowing(open, form, onKeep, found.map);
  return {
    ...{ canvas, form, calm, confidence, open, zoom, setZoom, marks, found, follow },
    /** Whether the kept places are of another film than the one that is open. */
    isOther: film !== undefined && form.film !== undefined && form.points.length > 0 && !isOfFilm(form, film.file),
    change: (part: Partial<VideoForm>) => onKeep({ ...form, ...part }),
    choose: (file: File) => {
      setZoom(1);
      follow.forget();
      open.open(file, form.fileRate);
    },
  };
}
