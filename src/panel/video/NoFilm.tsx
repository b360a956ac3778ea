/** What stands where the picture will be. */
import { makeStyles, tokens } from "@fluentui/react-components";
import type { ReactNode } from "react";
import type { VideoForm } from "../../experiment/video/videoForm";
import { useSectionStyles } from "../frame/styles";

const useStyles = makeStyles({
  empty: {
    border: `1px dashed ${tokens.colorNeutralStroke1}`,
    padding: "32px 12px",
    display: "flex",
    flexDirection: "column",
    alignItems: "center",
    gap: "8px",
    textAlign: "center",
  },
});

export function NoFilm({ form, children }: { readonly form: VideoForm; readonly children: ReactNode }) {
  const styles = useStyles();
  const section = useSectionStyles();
  return (
    <div className={styles.empty}>
      {children}
      <span className={section.note}>
        It is read on this computer and goes nowhere. Film from a stand, high up, with all four corners of the playing
        surface in the picture.
      </span>
      {form.film && form.points.length > 0 && (
        <span
          className={section.note}
        >{`The marks and ${form.points.length} places of the ball in "${form.film.name}" are kept with this workbook; the film is not. Open it to go on.`}</span>
      )}
    </div>
  );
}
