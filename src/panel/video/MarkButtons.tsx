/** What a click in the picture marks, and what is done with the marks. */
import { Button, makeStyles, ToggleButton } from "@fluentui/react-components";
import type { VideoForm } from "../../experiment/video/videoForm";
import { useSectionStyles } from "../frame/styles";
import type { FollowingBall } from "./useFollowing";
import { MARKING, type Marking, type Marks } from "./useMarks";

interface Props {
  readonly marks: Marks;
  readonly form: VideoForm;
  readonly follow: FollowingBall;
  readonly busy: boolean;
  onKeep(form: VideoForm): void;
}

const NAMES: Readonly<Record<Marking, string>> = { corners: "Corners", check: "Check length", ball: "Ball" };

const useStyles = makeStyles({ row: { display: "flex", flexWrap: "wrap", gap: "6px" } });

export function MarkButtons({ marks, form, follow, busy, onKeep }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const { corners, check, points } = form;
  const nothing = { corners: corners.length === 0, check: check.length === 0, ball: points.length === 0 }[
    marks.marking
  ];
  const anew = { corners: { corners: [] }, check: { check: [] }, ball: { points: [] } }[marks.marking];
  return (
    <>
      <div className={styles.row} role="group" aria-label="A click marks">
        {MARKING.map((marking) => (
          <ToggleButton
            key={marking}
            checked={marks.marking === marking}
            onClick={() => marks.setMarking(marking)}
          >{`${NAMES[marking]}${marking === "corners" ? ` ${corners.length}/4` : marking === "check" ? ` ${check.length}/2` : ` ${points.length}`}`}</ToggleButton>
        ))}
      </div>
      <p className={section.note} data-part="next-mark">
        {marks.next}
      </p>
      <div className={styles.row}>
        <Button appearance="primary" disabled={busy || !follow.ready} onClick={() => void follow.follow()}>
          Follow the ball
        </Button>
        <Button disabled={busy} onClick={marks.placeInMiddle}>
          Mark in the middle
        </Button>
        <Button disabled={busy || nothing} onClick={() => onKeep({ ...form, ...anew })}>
          {`Mark the ${NAMES[marks.marking].toLowerCase()} anew`}
        </Button>
        <Button disabled={busy} onClick={() => void follow.lookThrough()}>
          Look through all frames
        </Button>
      </div>
      {!follow.ready && corners.length === 4 && (
        <p className={section.note}>To follow the ball, mark it in a frame some way before the contact.</p>
      )}
    </>
  );
}
