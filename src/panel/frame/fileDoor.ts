/**
 * How a file that the panel made reaches the user. A browser takes it as a download. A pane inside another program
 * cannot count on that, so the page that carries the panel may open another door, and what became of the file is said
 * (FileNotice.tsx).
 */

export interface MadeFile {
  readonly blob: Blob;
  readonly name: string;
  /** Its pages as SVG files, where it is a document of pictures. */
  readonly pages?: readonly string[];
}

/** What became of it, and what else can be done with it; an act says what it did. */
export interface GivenFile {
  readonly text: string;
  readonly acts?: readonly (readonly [label: string, act: () => Promise<string>])[];
}

export interface FileDoor {
  /** @returns undefined where the browser itself shows what becomes of it */
  give(file: MadeFile): Promise<GivenFile | undefined>;
  /** Whether a page can be printed from here. */
  readonly prints: boolean;
}

type Listener = (given: GivenFile) => void;

/** A browser's downloads. */
export const byLink: FileDoor = {
  prints: true,
  async give({ blob, name }) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(blob);
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
    return undefined;
  },
};

// One page has one host, and so one door.
let door = byLink;
const listeners = new Set<Listener>();

export function openFileDoor(other: FileDoor): void {
  door = other;
}

/** Calls back after a file was given; returns how to stop. */
export function onGiven(listener: Listener): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}

export function giveFile(file: MadeFile): void {
  const tell = (given: GivenFile | undefined) => given && listeners.forEach((listener) => listener(given));
  door.give(file).then(tell, (problem: unknown) =>
    tell({
      text: `"${file.name}" could not be saved: ${problem instanceof Error ? problem.message : String(problem)}`,
    }),
  );
}

/** Prints a page of HTML where that is possible; gives it as a file to be printed elsewhere where it is not. */
export function printOrGive(html: string, name: string, print: (html: string) => void): void {
  if (door.prints) print(html);
  else giveFile({ blob: new Blob([html], { type: "text/html" }), name });
}
