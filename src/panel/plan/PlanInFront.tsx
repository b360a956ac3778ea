/** The plan in one line, its settings as points, done and to do, and the chance to see the difference. */
import { say, toText } from "../../experiment/language/said";
import { useCallback, useMemo } from "react";
import { chanceCurve, chanceOf } from "../../experiment/plan/chanceCurve";
import { planLine } from "../../experiment/plan/chanceWords";
import { PlanProblem, type Plan } from "../../experiment/plan/plan";
import { differenceOf, type PlanDraft } from "../../experiment/plan/planDraft";
import { pointsOfPlan, pointsOfProgress, type PlanPoints } from "../../experiment/plan/planPoints";
import type { PlanProgress } from "../../experiment/plan/planSheet";
import { counted, significant } from "../../experiment/language/wording";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { chanceFigure } from "../plots/chanceFigure";
import { DrawnPicture } from "../plots/DrawnPicture";
import type { PictureTable } from "../plots/figureTable";
import { FigureView } from "../plots/FigureView";
import { useSlices } from "../worker/useSlices";
import { PlanDrawing } from "./PlanDrawing";

interface Props {
  readonly plan: Plan;
  readonly draft: PlanDraft;
  /** The plan on its sheet, where there is one. */
  readonly going: PlanProgress | undefined;
  readonly theme: ThemeName;
}

export function PlanInFront({ plan, draft, going, theme }: Props) {
  const section = useSectionStyles();
  const asked = useMemo(() => askedOf(draft), [draft]);
  const now = useMemo(() => asked && chanceOf(plan, asked.difference), [plan, asked]);
  const points = useMemo(() => (going ? pointsOfProgress(going) : pointsOfPlan(plan)), [going, plan]);
  const visits = pointsOfPlan(plan).blocks.length;
  const line = now && asked ? planLine(now, visits, toText(asked.words)) : `${counted(plan.shots.length, "shot")}.`;
  const state = going ? progressText(going) : `Nothing is on a sheet yet; seed ${draft.seed}.`;
  const label = say`The plan as points by session. ${line} ${state}`;
  return (
    <section aria-label="The plan" data-part="picture">
      <p className={section.line} data-part="line" aria-live="polite">
        {toText(line)}
      </p>
      <p className={section.note}>{state}</p>
      <DrawnPicture
        title="Plan"
        theme={theme}
        drawing={PlanDrawing}
        of={{ plan: points, label: toText(label) }}
        table={() => tableOf(points)}
      />
      {asked && <Chance plan={plan} asked={asked} now={now} theme={theme} />}
    </section>
  );
}

type Asked = NonNullable<ReturnType<typeof askedOf>>;

/** The chance against the number of shots. */
function Chance({
  plan,
  asked,
  now,
  theme,
}: { asked: Asked; now: ReturnType<typeof chanceOf> | undefined } & Pick<Props, "plan" | "theme">) {
  const curve = useSlices(useCallback(() => chanceCurve(plan.wish, asked.difference), [plan, asked]));
  const places = curve.kind === "done" ? curve.result : [];
  return <FigureView figure={chanceFigure(places, now, asked.power)} theme={theme} />;
}

/** The difference to be seen; undefined while it cannot be read, which stands at its field. */
function askedOf(draft: PlanDraft) {
  try {
    const { power, ...difference } = differenceOf(draft);
    const words = say`${significant(difference.difference, 3)} ${draft.units === "us" ? "in" : "mm"}`;
    return { power, difference, words };
  } catch (problem) {
    if (problem instanceof PlanProblem) return undefined;
    throw problem;
  }
}

/** How far it is. */
function progressText({ shot, planned, next }: PlanProgress): string {
  return `${shot} of ${planned} done (filled), ${planned - shot} to do${next ? "; the next one is ringed" : ""}.`;
}

function tableOf({ settings, blocks }: PlanPoints): PictureTable {
  return {
    headings: ["Session", ...settings.map(({ heading }) => heading), "Done", "To do"],
    rows: blocks.flatMap(({ name, points }) => {
      const groups = new Map<string, { readonly at: readonly number[]; done: number; open: number }>();
      for (const { at, done } of points) {
        const key = at.join(" ");
        const group = groups.get(key) ?? { at, done: 0, open: 0 };
        groups.set(key, group);
        if (done) group.done++;
        else group.open++;
      }
      return [...groups.values()].map(({ at, done, open }) => [
        name,
        ...at.map((level, i) => settings[i]?.levels[level] ?? ""),
        String(done),
        String(open),
      ]);
    }),
  };
}
