/** Sizes that the map and the speed need. */
import type { Unit } from "../../experiment/shot/shotSettings";
import type { VideoForm } from "../../experiment/video/videoForm";
import { NumberField } from "../fields/NumberField";
import { QuantityFields, type QuantityOf } from "../fields/QuantityFields";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly form: VideoForm;
  /** Whether the browser tells when frames are. */
  readonly tellsTimes: boolean;
  onChange(part: Partial<VideoForm>): void;
}

type SizeName = "railLength" | "tableWidth" | "checkLength" | "ballDiameter";
const SIZES: readonly QuantityOf<SizeName>[] = [
  ["railLength", "Banked rail, nose to nose", "length", 0.5, 5],
  ["tableWidth", "To the rail opposite", "length", 0.5, 5],
  ["checkLength", "Check length", "length", 0.05, 5],
  ["ballDiameter", "Ball's diameter", "small", 0.02, 0.1],
];
const RATE: Unit = { size: 1, name: "frames/s" };

export function SizesSection({ form, tellsTimes, onChange }: Props) {
  const section = useSectionStyles();
  return (
    <>
      <h2 className={section.subhead}>Sizes</h2>
      <div className={section.fields}>
        <QuantityFields list={SIZES} form={form} onChange={onChange} />
        <NumberField
          name="Filmed at (frames/s), 0: as it plays"
          value={form.filmedAt}
          unit={RATE}
          low={0}
          high={10_000}
          onChange={(filmedAt) => onChange({ filmedAt })}
        />
        {!tellsTimes && (
          <NumberField
            name="The file's frames a second"
            value={form.fileRate}
            unit={RATE}
            low={1}
            high={1000}
            onChange={(fileRate) => onChange({ fileRate })}
          />
        )}
      </div>
      <p className={section.note}>
        {tellsTimes
          ? "When each frame was is read from the film. A film in slow motion plays slower than it was filmed: give the rate of the camera, or the speed is too small."
          : "This browser does not tell when a film's frames are: the rate that is given here is used for all of them, and a rate that changes stays unseen."}
      </p>
    </>
  );
}
