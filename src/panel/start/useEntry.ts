/** What is typed of one shot, and what is wrong with it. */
import { useMemo, useRef, useState } from "react";
import type { Outcome } from "../../experiment/log/outcome";
import { typedGap } from "../../experiment/shoot/entry";
import { dayOf, eveningOf } from "../../experiment/shoot/evening";
import { NEW_SHOOT } from "../../experiment/shoot/shootForm";
import { typedSetting, type KeptSetting, type ShootLog } from "../../experiment/shoot/shootLog";

/** Settings as typed, by heading. */
export type Changed = Readonly<Record<string, string>>;

export type TypedEntry = ReturnType<typeof useEntry>;

/** @param entry the log as it stands, whose next row is typed */
export function useEntry(entry: ShootLog) {
  const field = useRef<HTMLInputElement>(null);
  const [text, setText] = useState("");
  const [outcome, setOutcome] = useState<Outcome>();
  const [changed, setChanged] = useState<Changed>({});
  const gap = useMemo(() => (text.trim() === "" ? undefined : typedGap(entry, text)), [entry, text]);
  const today = dayOf(new Date());
  const evening = eveningOf(entry, NEW_SHOOT, today);
  const name = entry.session?.heading.text;
  const session = (name === undefined ? undefined : changed[name]) ?? evening.asks?.next ?? evening.session;
  const wrong = entry.settings.some((setting) => isWrong(setting, changed[setting.column.heading.text]));
  /** What changed stands in its row now, and stays from there. */
  const begin = () => {
    setText("");
    setOutcome(undefined);
    setChanged({});
  };
  return {
    field,
    gap: gap && { ...gap, text },
    outcome,
    changed,
    wrong,
    today,
    session,
    setGap: setText,
    setOutcome,
    setChanged,
    begin,
  };
}

function isWrong({ column, format, text: before }: KeptSetting, text: string | undefined): boolean {
  if (text === undefined || text.trim() === "" || text.trim() === before) return false;
  return "problem" in typedSetting(column, text, format);
}
