/** Which column of the log holds what a calibration needs. */
import { say, toText } from "../../experiment/language/said";
import { Dropdown, Field, Option } from "@fluentui/react-components";
import { PART_LABELS, PARTS, type Part, type PartColumns } from "../../experiment/calibrate/calibrationRows";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { ShotSettings } from "../../experiment/shot/shotSettings";
import { shownSetting } from "../../experiment/shot/shotWords";

interface Props {
  readonly log: TrialLog;
  readonly shot: ShotSettings;
  readonly parts: PartColumns;
  onParts(parts: PartColumns): void;
}

const NONE = "";

export function PartFields({ log, shot, parts, onParts }: Props) {
  const columnsFor = (part: Part) =>
    log.columns.filter(({ kind }) => (part === "session" ? kind !== "empty" : kind === "number"));
  const without = (part: Part) =>
    part === "bend" || part === "deviation" || part === "session"
      ? "none"
      : say`always ${shownSetting(shot[part], part, shot.units)}`;
  return PARTS.map((part) => (
    <Field key={part} label={PART_LABELS[part]} orientation="horizontal">
      <Dropdown
        size="small"
        value={parts[part] ?? toText(without(part))}
        selectedOptions={[parts[part] ?? NONE]}
        onOptionSelect={(_, { optionValue }) => onParts(withPart(parts, part, optionValue))}
      >
        <Option value={NONE} text="none">
          {part in shot ? "no column: as the slider" : "none"}
        </Option>
        {columnsFor(part).map(({ heading }) => (
          <Option key={heading.text} value={heading.text}>
            {heading.text}
          </Option>
        ))}
      </Dropdown>
    </Field>
  ));
}

function withPart(parts: PartColumns, part: Part, heading: string | undefined): PartColumns {
  const { [part]: _, ...others } = parts;
  return heading ? { ...others, [part]: heading } : others;
}
