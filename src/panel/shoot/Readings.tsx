/** Readings off the ruler or a film: the gap that is really set, and the bend that was seen at the last attempt. */
import { say } from "../../experiment/language/said";
import { Radio, RadioGroup } from "@fluentui/react-components";
import { useState } from "react";
import { gapProblem } from "../../experiment/shoot/shootNow";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import { gapText } from "../../experiment/shoot/shootWords";
import { useSectionStyles } from "../frame/styles";
import { NumberPad } from "./NumberPad";

interface Props {
  readonly shoot: ShootLog;
  /** The gap that is set, as typed. */
  readonly onGap: (text: string) => void;
  readonly onBend: (bend: number) => void;
}

export function Readings({ shoot, onGap, onBend }: Props) {
  const section = useSectionStyles();
  const [what, setWhat] = useState<"gap" | "bend">("gap");
  const { measured } = shoot.places;
  const takeGap = (gap: number, text: string) => {
    const doubt = gapProblem(shoot, gap);
    if (doubt?.out) return doubt.text;
    onGap(text.trim());
    return undefined;
  };
  const takeBend = (bend: number) => {
    if (Math.abs(bend) > shoot.ballDiameter)
      return say`${gapText(bend, shoot.unit)} is more than a ball's width. Is a point missing, or another unit meant?`;
    onBend(bend);
    return undefined;
  };
  return (
    <div>
      <RadioGroup
        layout="horizontal"
        style={{ flexWrap: "wrap" }}
        value={what}
        aria-label="What was read"
        onChange={(_, { value }) => setWhat(value === "bend" ? "bend" : "gap")}
      >
        <Radio value="gap" label="the gap that is set" style={TALL} />
        <Radio value="bend" label="the bend of the last" style={TALL} disabled={!measured} />
      </RadioGroup>
      {!measured && (
        <p className={section.note}>
          For bends that were seen the log needs a column such as Film bend (in); head one so and it is offered here.
        </p>
      )}
      <NumberPad
        key={what}
        label={what === "gap" ? "Gap that is set" : "Bend that was seen"}
        unit={shoot.unit}
        action={what === "gap" ? "Take this gap" : "To the last"}
        hint={what === "gap" ? "From the obstacle's edge to the centre of the near mark." : undefined}
        onTake={what === "gap" ? takeGap : takeBend}
      />
    </div>
  );
}

const TALL = { minHeight: "48px", alignItems: "center" } as const;
