/** The film that is open, and what goes on with it: one thing at a time, each of which can be ended. */
import { useCallback, useEffect, useRef, useState, type RefObject } from "react";
import type { GreyPicture } from "../../statistics/numeric/patchSearch";
import { messageOf } from "../frame/messageOf";
import { openFilm, type Film } from "./film";

/** What is going on. */
interface Doing {
  readonly what: string;
  /** 0 to 1. */
  readonly share: number;
}

export interface OpenFilm {
  readonly film: Film | undefined;
  /** Of the frame that is shown, s. */
  readonly time: number;
  readonly doing: Doing | undefined;
  open(file: File, fileRate: number): void;
  close(): void;
  /** Goes so many frames on, or back. */
  step(frames: number): void;
  show(time: number): void;
  /**
   * Goes on frame after frame until `each` says stop, the film ends or somebody cancels.
   * @param each is given every frame after the one that is shown
   * @param from where to begin; the frame that is shown when missing
   */
  run(what: string, each: (film: Film) => "on" | "stop", from?: number): Promise<"ended" | "stopped" | "cancelled">;
  cancel(): void;
  /** The frame that is shown, in grey. */
  grey(): GreyPicture | undefined;
}

export function useFilm(canvas: RefObject<HTMLCanvasElement>, onFailure: (text: string | undefined) => void): OpenFilm {
  const { current, cancelled, film, setFilm, time, setTime, doing, setDoing, draw, alone } = useShown(
    canvas,
    onFailure,
  );
  const open = (file: File, fileRate: number) =>
    void alone(async () => {
      onFailure(undefined);
      setDoing({ what: `Opening ${file.name}`, share: 0 });
      const next = await openFilm(file, fileRate);
      current.current?.close();
      current.current = next;
      setFilm(next);
    });
  const close = () => {
    cancelled.current = true;
    current.current?.close();
    current.current = undefined;
    setFilm(undefined);
  };
  const step = (frames: number) =>
    void alone(async () => {
      for (let i = 0; i < Math.abs(frames); i++) {
        const reached = await (frames > 0 ? current.current?.next() : current.current?.previous());
        if (reached === undefined) break;
      }
    });
  const show = (at: number) => void alone(async () => void (await current.current?.show(at)));

  const run: OpenFilm["run"] = async (what, each, from) => {
    const ended = await alone(async () => {
      const playing = current.current;
      if (!playing) return "stopped";
      cancelled.current = false;
      if (from !== undefined) await playing.show(from);
      const start = playing.time;
      if (from !== undefined && each(playing) === "stop") return "stopped";
      for (;;) {
        if (cancelled.current) return "cancelled";
        setDoing({ what, share: (playing.time - start) / Math.max(1e-3, playing.duration - start) });
        if ((await playing.next()) === undefined) return "ended";
        draw();
        setTime(playing.time);
        if (each(playing) === "stop") return "stopped";
      }
    });
    return ended ?? "stopped";
  };
  const cancel = () => {
    cancelled.current = true;
  };
  return { film, time, doing, open, close, step, show, run, cancel, grey: () => greyOf(canvas.current) };
}

/** The film that is shown on the canvas, and doing one thing with it after another. */
function useShown(canvas: RefObject<HTMLCanvasElement>, onFailure: (text: string | undefined) => void) {
  const [film, setFilm] = useState<Film>();
  const [time, setTime] = useState(0);
  const [doing, setDoing] = useState<Doing>();
  const busy = useRef(false);
  const cancelled = useRef(false);
  const current = useRef<Film>();
  useEffect(
    () => () => {
      cancelled.current = true;
      current.current?.close();
    },
    [],
  );
  const draw = useCallback(() => {
    const context = canvas.current?.getContext("2d", { willReadFrequently: true });
    if (context) current.current?.draw(context);
  }, [canvas]);
  // The canvas is there once the film is.
  useEffect(draw, [film, draw]);

  /** Does one thing after another is done; what is asked for meanwhile is passed over. */
  const alone = useCallback(
    async <T>(work: () => Promise<T>): Promise<T | undefined> => {
      if (busy.current) return undefined;
      busy.current = true;
      try {
        return await work();
      } catch (problem) {
        onFailure(messageOf(problem));
        return undefined;
      } finally {
        busy.current = false;
        setDoing(undefined);
        if (current.current) {
          setTime(current.current.time);
          draw();
        }
      }
    },
    [draw, onFailure],
  );
  return { current, cancelled, film, setFilm, time, setTime, doing, setDoing, draw, alone };
}

/** What is on the canvas, in grey. */
function greyOf(canvas: HTMLCanvasElement | null): GreyPicture | undefined {
  const context = canvas?.getContext("2d", { willReadFrequently: true });
  if (!canvas || !context) return undefined;
  const { width, height, data } = context.getImageData(0, 0, canvas.width, canvas.height);
  const values = new Float32Array(width * height);
  // Luminance as television weighs it (Rec. 601).
  for (let i = 0; i < values.length; i++)
    values[i] = 0.299 * (data[4 * i] ?? 0) + 0.587 * (data[4 * i + 1] ?? 0) + 0.114 * (data[4 * i + 2] ?? 0);
  return { width, height, values };
}
