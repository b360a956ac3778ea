/** What map and speed need besides the set-up: banked rail, check length, rate, the corners' error. */
import { say, toText } from "../../experiment/language/said";
import { Dropdown, Field, Option } from "@fluentui/react-components";
import type { Rail } from "../../bank/tableShape";
import { unitOf, type Unit } from "../../experiment/shot/shotSettings";
import { significant } from "../../experiment/language/wording";
import { bankedFrom, type VideoForm } from "../../experiment/video/videoForm";
import { NumberField } from "../fields/NumberField";
import { QuantityFields, type QuantityOf } from "../fields/QuantityFields";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly form: VideoForm;
  /** Whether the browser tells when frames are. */
  readonly tellsTimes: boolean;
  onChange(part: Partial<VideoForm>): void;
}

const LENGTHS: readonly QuantityOf<"checkLength">[] = [["checkLength", "Check length", "length", 0.05, 5]];
const RATE: Unit = { size: 1, name: "frames/s" };
const PIXELS: Unit = { size: 1, name: "pixels" };
const RAILS: readonly (readonly [Rail, string])[] = [
  ["long", "long rail"],
  ["short", "short rail"],
];

export function SizesSection({ form, tellsTimes, onChange }: Props) {
  const section = useSectionStyles();
  const number = (name: "filmedAt" | "fileRate" | "cornerError") => (value: number) => onChange({ [name]: value });
  return (
    <>
      <h2 className={section.subhead}>Sizes</h2>
      <p className={section.note} data-part="sizes">
        {sizesSentence(form)}
      </p>
      <div className={section.fields}>
        <RailField form={form} onChange={onChange} />
        <QuantityFields list={LENGTHS} form={form} onChange={onChange} />
        <NumberField
          name="Filmed at (frames/s), 0: as it plays"
          value={form.filmedAt}
          unit={RATE}
          low={0}
          high={10_000}
          onChange={number("filmedAt")}
        />
        <NumberField
          name="A corner is marked within (pixels)"
          value={form.cornerError}
          unit={PIXELS}
          low={0}
          high={50}
          onChange={number("cornerError")}
        />
        {!tellsTimes && (
          <NumberField
            name="The file's frames a second"
            value={form.fileRate}
            unit={RATE}
            low={1}
            high={1000}
            onChange={number("fileRate")}
          />
        )}
      </div>
      <p className={section.note}>
        {tellsTimes
          ? "When each frame was is read from the film. A film in slow motion, or one whose file says a wrong rate, needs the rate of the camera, or the speed is wrong."
          : "This browser does not tell when a film's frames are: the rate that is given here is used for all of them, and a rate that changes stays unseen."}
      </p>
    </>
  );
}

function RailField({ form, onChange }: Pick<Props, "form" | "onChange">) {
  const banked: Rail = form.railLength >= form.tableWidth ? "long" : "short";
  const text = (rail: Rail) => RAILS.find(([one]) => one === rail)?.[1] ?? rail;
  return (
    <Field label="Banked rail" style={{ minWidth: 0 }}>
      <Dropdown
        style={{ minWidth: 0 }}
        value={text(banked)}
        selectedOptions={[banked]}
        onOptionSelect={(_, { optionValue }) => onChange(bankedFrom(optionValue === "short" ? "short" : "long", form))}
      >
        {RAILS.map(([rail, said]) => (
          <Option key={rail} value={rail}>
            {said}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}

/** What is taken from the set-up. */
function sizesSentence({ units, railLength, tableWidth, ballDiameter }: VideoForm): string {
  const [length, small] = [unitOf("length", units), unitOf("small", units)];
  const said = (value: number) => significant(value / length.size, 4);
  return toText(
    say`From the set-up: the banked rail is ${said(railLength)} ${length.name} from nose to nose, the rail opposite ${said(tableWidth)} ${length.name} away; the ball is ${significant(ballDiameter / small.size, 4)} ${small.name}.`,
  );
}
