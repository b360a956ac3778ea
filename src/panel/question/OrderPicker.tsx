/** Which column says in what order the shots of a session were taken. */
import { Dropdown, Field, Option } from "@fluentui/react-components";
import { useMemo } from "react";
import { orderColumns } from "../../experiment/trust/orderWithin";
import type { PanelView } from "../frame/view";

interface Props {
  readonly view: PanelView;
  /** "" for not asked. */
  readonly onChange: (heading: string) => void;
}

const NOT_ASKED = "not asked";

/** Nothing where no column can say it. */
export function OrderPicker({ view: { analysis, made, order }, onChange }: Props) {
  const answer = analysis ?? made;
  const offered = useMemo(() => (answer ? orderColumns(answer).map(({ heading }) => heading.text) : []), [answer]);
  if (offered.length === 0) return null;
  return (
    <Field
      label="Order of the shots"
      hint="A trial number or a time: whether shots drift within a session is looked for by it, under Trust the answer."
    >
      <Dropdown
        value={order ?? NOT_ASKED}
        selectedOptions={[order ?? ""]}
        onOptionSelect={(_, { optionValue }) => onChange(optionValue ?? "")}
      >
        <Option value="" text={NOT_ASKED}>
          {NOT_ASKED}
        </Option>
        {offered.map((heading) => (
          <Option key={heading} value={heading} text={heading}>
            {heading}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
