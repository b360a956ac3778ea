/** The next shots, looked for beside the page when the view opens, and again when asked. */
import { useEffect, useRef, useState } from "react";
import type { Choice } from "../../experiment/question/choice";
import type { NextForm } from "../../experiment/next/nextWords";
import type { ShotSettings } from "../../experiment/shot/shotSettings";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { ShownNext } from "../worker/nextJob";
import { useJob } from "../worker/useJob";

interface Found {
  readonly of: string;
  readonly log: TrialLog;
  readonly shown: ShownNext;
}

export interface NextState {
  /** What was found in the rows as they are. */
  readonly shown: ShownNext | undefined;
  /** Why nothing was found. */
  readonly problem: string | undefined;
  /** What was asked has changed since. */
  readonly stale: boolean;
  /** The share that is done while it is looked for. */
  readonly running: number | undefined;
  look(): void;
  cancel(): void;
}

export function useNext(
  log: TrialLog,
  choice: Choice,
  form: NextForm,
  shot: ShotSettings,
  plainFirst: boolean,
): NextState {
  const { state, start, cancel } = useJob("next");
  const [found, setFound] = useState<Found>();
  const about = useRef<Pick<Found, "of" | "log">>();
  const asked = JSON.stringify({ ...form, repeats: 0 });
  const look = () => {
    about.current = { of: asked, log };
    const { repeats: _, physics, ...wish } = form;
    start({ log, choice, wish: { ...wish, physics: physics ? shot : undefined }, plainFirst });
  };
  const first = useRef(look);
  first.current = look;
  // Nobody need ask for what the rows and the usual limits already say.
  useEffect(() => first.current(), [log]);
  useEffect(() => {
    if (state.kind === "done" && about.current) setFound({ ...about.current, shown: state.answer });
  }, [state]);
  const current = found?.log === log && state.kind !== "failed" ? found : undefined;
  return {
    shown: current?.shown,
    problem: state.kind === "failed" ? state.message : undefined,
    stale: current !== undefined && current.of !== asked,
    running: state.kind === "running" ? state.share : undefined,
    look,
    cancel,
  };
}
