/** Takes the Shot view's shot over: its chord, its bend, and the ways that its ball goes. */
import { Button } from "@fluentui/react-components";
import { layoutOfShot, type LayoutForm } from "../../experiment/layout/layoutForm";
import { computeShot } from "../../experiment/shot/computedShot";
import { shotLayout } from "../../experiment/shot/shotLayout";
import { conditionsOfShot, DEFAULT_SHOT, type ShotSettings } from "../../experiment/shot/shotSettings";
import type { useWriting } from "../frame/useWriting";

interface Props {
  readonly form: LayoutForm;
  readonly shot: ShotSettings | undefined;
  readonly writing: ReturnType<typeof useWriting>;
  readonly onTake: (form: LayoutForm) => void;
}

export function TakeShot({ form, shot = DEFAULT_SHOT, writing: { busy, write }, onTake }: Props) {
  const take = () =>
    write("The shot was not taken over", async () => {
      const conditions = conditionsOfShot(shot);
      const computed = computeShot(shot, conditions);
      const path = computed.bank?.path;
      if (!path) throw new Error("the ball never reaches the line across.");
      onTake(layoutOfShot(form, shot, shotLayout(shot, computed, conditions), path));
      return "Taken over from the Shot view.";
    });
  return (
    <Button disabled={busy} onClick={take}>
      Take over the shot of the Shot view
    </Button>
  );
}
