/**
 * The port from one page to another by messages of text: a page of its own may not speak to the workbook, so that the
 * pane does for it. Long texts go in pieces, for nobody says how long a message may be.
 */
import type { Port, SheetChange } from "../workbook/port";

/** Characters of a message. */
const PIECE = 30_000;

const METHODS = [
  "sheets",
  "activeSheet",
  "read",
  "readArea",
  "select",
  "addSheet",
  "addRow",
  "fillRow",
  "changeRows",
  "removeSheet",
  "clearCells",
  "addPicture",
  "loadSettings",
  "saveSettings",
] as const satisfies readonly (keyof Port)[];
type Method = (typeof METHODS)[number];
/** Does not compile while a method of the port is not listed. */
type Listed = Exclude<keyof Port, Method | "host" | "onChange"> extends never ? Port : never;

/** What the page of its own asks of the pane. */
type Asked =
  | { readonly call: number; readonly method: Method; readonly given: readonly unknown[] }
  /** An address for the user's browser. */
  | { readonly browse: string };
/** What the pane tells it. */
type Told =
  | { readonly answer: number; readonly value: unknown }
  | { readonly answer: number; readonly problem: string }
  | { readonly change: SheetChange };

/** Cuts a message into texts that can be sent. */
export function pieces(message: Asked | Told): string[] {
  const text = JSON.stringify(message);
  const count = Math.max(1, Math.ceil(text.length / PIECE));
  return Array.from(
    { length: count },
    (_, i) => `${i === count - 1 ? "." : "+"}${text.slice(i * PIECE, (i + 1) * PIECE)}`,
  );
}

/** Puts pieces together again, which come in their order. */
export function fromPieces<Message extends Asked | Told>(take: (message: Message) => void): (piece: string) => void {
  let before = "";
  return (piece) => {
    before += piece.slice(1);
    if (!piece.startsWith(".")) return;
    const text = before;
    before = "";
    take(JSON.parse(text) as Message);
  };
}

/** The pane's end. @returns takes messages of the page, and how to stop telling it of changes */
export function servePort(
  port: Port,
  send: (piece: string) => void,
  browse: (address: string) => void,
): { readonly take: (piece: string) => void; readonly stop: () => void } {
  const tell = (message: Told) => pieces(message).forEach(send);
  const answer = async (call: number, method: Method, given: readonly unknown[]) => {
    try {
      const act = port[method] as ((...given: unknown[]) => Promise<unknown>) | undefined;
      tell({ answer: call, value: await act?.apply(port, [...given]) });
    } catch (problem) {
      tell({ answer: call, problem: problem instanceof Error ? problem.message : String(problem) });
    }
  };
  const stop = port.onChange((change) => tell({ change }));
  const take = fromPieces<Asked>((asked) => {
    if ("browse" in asked) browse(asked.browse);
    else void answer(asked.call, asked.method, asked.given);
  });
  return { take, stop };
}

export interface PortAcross {
  readonly port: Port;
  /** Has the pane open an address in the user's browser. */
  readonly browse: (address: string) => void;
}

/** The page's end: a port whose every step the pane takes. @param listen takes what receives the pane's messages */
export function portAcross(send: (piece: string) => void, listen: (take: (piece: string) => void) => void): PortAcross {
  const ask = (message: Asked) => pieces(message).forEach(send);
  const listeners = new Set<(change: SheetChange) => void>();
  const waiting = new Map<number, { readonly done: (value: never) => void; readonly fail: (problem: Error) => void }>();
  let calls = 0;
  listen(
    fromPieces<Told>((told) => {
      if ("change" in told) return listeners.forEach((listener) => listener(told.change));
      const asked = waiting.get(told.answer);
      waiting.delete(told.answer);
      if ("problem" in told) asked?.fail(new Error(told.problem));
      else asked?.done(told.value as never);
    }),
  );
  const methods = METHODS.map((method) => [
    method,
    (...given: unknown[]) =>
      new Promise((done, fail) => {
        waiting.set(++calls, { done, fail });
        ask({ call: calls, method, given });
      }),
  ]);
  const onChange: Port["onChange"] = (listener) => {
    listeners.add(listener);
    return () => void listeners.delete(listener);
  };
  const port = { host: "excel", ...Object.fromEntries(methods), onChange } as Listed;
  return { port, browse: (address) => ask({ browse: address }) };
}
