/** The bend that a film shows, in one line, and what it rests on; or what is missing. */
import { toText } from "../../experiment/language/said";
import { makeStyles, tokens } from "@fluentui/react-components";
import type { FilmedShot } from "../../experiment/video/filmedShot";
import type { VideoForm } from "../../experiment/video/videoForm";
import { videoByline, videoHeadline } from "../../experiment/video/videoWords";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly found: FilmedShot;
  readonly form: VideoForm;
  /** Whether a film is open. */
  readonly open: boolean;
  readonly confidence: number;
}

const useStyles = makeStyles({
  headline: {
    fontSize: tokens.fontSizeBase500,
    lineHeight: tokens.lineHeightBase500,
    fontWeight: tokens.fontWeightSemibold,
    margin: 0,
  },
});

export function FilmAnswer({ found: { shot, wanted }, form, open, confidence }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  return (
    <div data-part="answer" aria-live="polite">
      <h2 className={styles.headline}>
        {shot ? toText(videoHeadline(shot, form)) : open ? (wanted ?? "") : "No film is open"}
      </h2>
      {shot && <p className={section.note}>{toText(videoByline(shot, form, confidence))}</p>}
    </div>
  );
}
