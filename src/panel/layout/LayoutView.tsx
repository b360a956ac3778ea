/**
 * The Layout view: whether the whole shot goes through, drawn; the arrangements of the departure gate; where everything
 * stands and how exactly; the steps; drawings for wall and cloth.
 */
import { useMemo, useState } from "react";
import { changedLayout, laidShot } from "../../experiment/layout/layoutCheck";
import { firstLayout, layoutProblem, type LayoutForm } from "../../experiment/layout/layoutForm";
import type { ShotSettings } from "../../experiment/shot/shotSettings";
import type { Port } from "../../workbook/port";
import type { ThemeName } from "../frame/palette";
import { Care } from "../frame/Care";
import { useSectionStyles } from "../frame/styles";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";
import { ArrangementSection } from "./ArrangementSection";
import { LayoutFields } from "./LayoutFields";
import { LayoutPicture } from "./LayoutPicture";
import { PaperSection } from "./PaperSection";
import { PlacesTable } from "./PlacesTable";
import { StepsList } from "./StepsList";
import { TakeShot } from "./TakeShot";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  /** As kept with the workbook. */
  readonly kept: LayoutForm | undefined;
  readonly onKeep: (form: LayoutForm) => void;
  /** The shot of the Shot view, whose layout can be taken over. */
  readonly shot: ShotSettings | undefined;
  readonly onFailure: (text: string | undefined) => void;
}

export function LayoutView({ port, theme, kept, onKeep, shot, onFailure }: Props) {
  const section = useSectionStyles();
  const [first] = useState(() => firstLayout(navigator.language));
  const form = kept ?? first;
  const change = (part: Partial<LayoutForm>) => onKeep(changedLayout(form, part));
  const writing = useWriting(onFailure);
  const problem = layoutProblem(form);
  const laid = useMemo(() => (problem === undefined ? laidShot(form) : undefined), [form, problem]);
  return (
    <div data-view="layout" className={section.stack}>
      {problem && <Warning text={problem} />}
      {laid && <LayoutPicture laid={laid} theme={theme} onMend={onKeep} onChange={change} />}
      {laid && <ArrangementSection form={form} onChange={change} />}
      <LayoutFields form={form} onChange={change} />
      <TakeShot form={form} shot={shot} writing={writing} onTake={onKeep} />
      {laid && (
        <>
          <PlacesTable form={form} />
          <StepsList laid={laid} />
          <PaperSection port={port} laid={laid} writing={writing} onChange={change} />
        </>
      )}
      <div role="status">{writing.done}</div>
      <Care>
        Marks dent or stain cloth: ask the table&apos;s owner. Adjusting rails, slate or levelling is a table
        mechanic&apos;s work. Nobody&apos;s face goes on the shot line at bed height while a ball is moving.
      </Care>
    </div>
  );
}
