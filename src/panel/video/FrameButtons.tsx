/** Going from frame to frame, and how large the picture is. */
import { Button, Dropdown, Field, makeStyles, Option, Slider } from "@fluentui/react-components";
import type { TrackedShot } from "../../experiment/track/trackedShot";
import { isOfFilm, type VideoForm } from "../../experiment/video/videoForm";
import type { OpenFilm } from "./useFilm";

interface Props {
  readonly open: OpenFilm;
  readonly form: VideoForm;
  readonly shot: TrackedShot | undefined;
  readonly zoom: number;
  onZoom(zoom: number): void;
}

const ZOOMS = [1, 2, 4, 8];

const useStyles = makeStyles({
  row: { display: "flex", flexWrap: "wrap", gap: "6px", alignItems: "end" },
  small: { minWidth: "44px" },
});

export function FrameButtons({ open, form, shot, zoom, onZoom }: Props) {
  const styles = useStyles();
  const { film, time } = open;
  if (!film) return null;
  const first = isOfFilm(form, film.file) ? form.points[0] : undefined;
  const steps: readonly (readonly [text: string, name: string, frames: number])[] = [
    ["−10", "Ten frames back", -10],
    ["−1", "One frame back", -1],
    ["+1", "One frame on", 1],
    ["+10", "Ten frames on", 10],
  ];
  return (
    <>
      <Field label={`Time ${time.toFixed(3)} of ${film.duration.toFixed(2)} s`}>
        <Slider
          min={0}
          max={film.duration}
          step={film.duration / 500}
          value={time}
          onChange={(_, { value }) => open.show(value)}
        />
      </Field>
      <div className={styles.row}>
        {steps.map(([text, name, frames]) => (
          <Button key={name} className={styles.small} aria-label={name} title={name} onClick={() => open.step(frames)}>
            {text}
          </Button>
        ))}
        {shot && <Button onClick={() => open.show(shot.contactTime)}>Contact</Button>}
        {first && <Button onClick={() => open.show(first.time + 1e-4)}>First place</Button>}
        <Field label="Picture" style={{ minWidth: 0 }}>
          <Dropdown
            style={{ minWidth: 84 }}
            value={`${zoom} times`}
            selectedOptions={[String(zoom)]}
            onOptionSelect={(_, { optionValue }) => onZoom(Number(optionValue ?? 1))}
          >
            {ZOOMS.map((one) => (
              <Option key={one} value={String(one)} text={`${one} times`}>
                {`${one} times`}
              </Option>
            ))}
          </Dropdown>
        </Field>
      </div>
    </>
  );
}
