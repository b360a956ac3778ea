/** Writing to the workbook from a view: one thing at a time, what was done or why it was not. */
import { useCallback, useState } from "react";
import { messageOf } from "./messageOf";

export interface Writing {
  readonly busy: boolean;
  /** What was done last, in a sentence. */
  readonly done: string | undefined;
  /** @param what what did not happen when it fails: "The plan was not written" */
  write(what: string, work: () => Promise<string>): Promise<void>;
}

export function useWriting(onFailure: (text: string | undefined) => void): Writing {
  const [busy, setBusy] = useState(false);
  const [done, setDone] = useState<string>();
  const write = useCallback(
    async (what: string, work: () => Promise<string>) => {
      setBusy(true);
      setDone(undefined);
      onFailure(undefined);
      try {
        setDone(await work());
      } catch (problem) {
        onFailure(`${what}: ${messageOf(problem)}`);
      } finally {
        setBusy(false);
      }
    },
    [onFailure],
  );
  return { busy, done, write };
}
