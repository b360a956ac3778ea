/**
 * A local film, frame by frame, through the browser's own player. Nothing of it leaves the page: it is read from the
 * disk under an address that only this page knows.
 */
import { median } from "../../statistics/numeric/median";

/** Why a film cannot be used, as a sentence. */
class FilmProblem extends Error {}

export interface Film {
  readonly file: File;
  readonly width: number;
  readonly height: number;
  /** In s. */
  readonly duration: number;
  /** Whether the browser tells when its frames are; otherwise times follow from the stated rate. */
  readonly tellsTimes: boolean;
  /** Time of the frame that is shown, s. */
  readonly time: number;
  /** Frames a second, from those that were seen to follow each other, or as stated; 0 while none were. */
  readonly rate: number;
  /** Shows the frame at a time. @returns that frame's own time */
  show(time: number): Promise<number>;
  /** Shows the frame after the one that is shown. @returns its time; undefined at the film's end */
  next(): Promise<number | undefined>;
  /** Shows the frame before. @returns its time; undefined at the film's beginning */
  previous(): Promise<number | undefined>;
  draw(context: CanvasRenderingContext2D): void;
  close(): void;
}

/** A film that the browser has not begun to understand after so many ms is none. */
const PATIENCE = 20_000;
/** A frame is shown soon after its place was found, or the picture did not change. */
const SHOWN_AFTER = 250;
/** Films have at most so many frames a second; a step of so many s finds the next frame without passing it. */
const FINEST = 1 / 500;
/** How much of the usual step is taken at once in looking for the next frame. */
const CAREFUL = 0.6;

/** @param fileRate frames a second, for a browser that does not tell when frames are */
export async function openFilm(file: File, fileRate: number): Promise<Film> {
  const video = document.createElement("video");
  video.muted = true;
  video.playsInline = true;
  video.preload = "auto";
  const address = URL.createObjectURL(file);
  const close = () => {
    video.removeAttribute("src");
    video.load();
    URL.revokeObjectURL(address);
  };
  try {
    video.src = address;
    await loaded(video, file.name);
    // A recording made by a browser says how long it is only when its end was looked for.
    if (video.duration === Infinity) await seekTo(video, 1e8);
    if (!(video.videoWidth > 0) || !(video.duration > 0))
      throw new FilmProblem(`"${file.name}" holds sound and no picture. Choose a film.`);
    const film = new PlayedFilm(file, video, fileRate, close);
    await film.show(0);
    return film;
  } catch (problem) {
    close();
    throw problem;
  }
}

function loaded(video: HTMLVideoElement, name: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const fail = () =>
      reject(
        new FilmProblem(
          `"${name}" cannot be played here. Browsers play WebM, and most play MP4 with H.264; a film straight from a phone may be in another form. Save it as one of these with the phone's or the computer's own program, and open it again. Nothing was changed.`,
        ),
      );
    const timer = setTimeout(fail, PATIENCE);
    video.addEventListener("error", fail, { once: true });
    video.addEventListener("loadeddata", () => resolve(), { once: true });
    video.addEventListener("loadeddata", () => clearTimeout(timer), { once: true });
  });
}

/** @returns the time of the frame that is shown then, where the browser tells it */
function seekTo(video: HTMLVideoElement, time: number): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    let frame: number | undefined;
    let found = false;
    const done = () => {
      video.removeEventListener("error", fail);
      resolve(frame);
    };
    const fail = () => reject(new FilmProblem(`The film cannot be read at ${time.toFixed(2)} s.`));
    video.addEventListener("error", fail, { once: true });
    if ("requestVideoFrameCallback" in video)
      video.requestVideoFrameCallback((_, { mediaTime }) => {
        frame = mediaTime;
        if (found) done();
      });
    video.addEventListener(
      "seeked",
      () => {
        found = true;
        if (frame !== undefined || !("requestVideoFrameCallback" in video)) done();
        else setTimeout(done, SHOWN_AFTER);
      },
      { once: true },
    );
    video.currentTime = time;
  });
}

class PlayedFilm implements Film {
  readonly width: number;
  readonly height: number;
  readonly tellsTimes: boolean;
  time = 0;
  /** Times of frames that were seen to follow each other: each one's next. */
  private readonly after = new Map<number, number>();
  private readonly before = new Map<number, number>();
  private step: number;

  constructor(
    readonly file: File,
    private readonly video: HTMLVideoElement,
    private readonly fileRate: number,
    readonly close: () => void,
  ) {
    this.width = video.videoWidth;
    this.height = video.videoHeight;
    this.tellsTimes = "requestVideoFrameCallback" in video;
    this.step = this.tellsTimes ? FINEST : 1 / fileRate;
  }

  get duration(): number {
    return this.video.duration;
  }

  get rate(): number {
    if (!this.tellsTimes) return this.fileRate;
    return this.after.size > 0 ? 1 / median([...this.after].map(([from, to]) => to - from)) : 0;
  }

  async show(time: number): Promise<number> {
    const within = Math.min(Math.max(0, time), this.duration);
    const frame = await seekTo(this.video, within);
    this.time = this.tellsTimes ? (frame ?? this.time) : Math.round(within * this.fileRate) / this.fileRate;
    return this.time;
  }

  async next(): Promise<number | undefined> {
    const from = this.time;
    const known = this.after.get(from);
    if (known !== undefined) return this.show(inside(known));
    if (!this.tellsTimes) {
      const to = from + 1 / this.fileRate;
      return to < this.duration ? this.show(inside(to)) : undefined;
    }
    for (let ahead = this.step; ; ahead += this.step) {
      if (from + ahead >= this.duration) return undefined;
      const to = await this.show(from + ahead);
      if (to <= from) continue;
      this.after.set(from, to);
      this.before.set(to, from);
      this.step = Math.max(FINEST, CAREFUL * (to - from));
      return to;
    }
  }

  async previous(): Promise<number | undefined> {
    const from = this.time;
    if (from <= 0) return undefined;
    const known = this.before.get(from);
    if (known !== undefined) return this.show(inside(known));
    for (let behind = this.tellsTimes ? FINEST : 1 / this.fileRate; ; behind += FINEST) {
      const to = await this.show(inside(Math.max(0, from - behind)));
      if (to < from) return to;
      if (from - behind <= 0) return undefined;
    }
  }

  draw(context: CanvasRenderingContext2D): void {
    context.drawImage(this.video, 0, 0, this.width, this.height);
  }
}

/** A time just inside the frame that begins then: looking for its very beginning may find the frame before. */
const inside = (time: number) => time + 1e-4;
