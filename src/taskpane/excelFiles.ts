/**
 * How a file leaves the pane inside Excel. Microsoft's pages say what works where: a download from the pane does
 * nothing on a Mac, no PDF comes out of it on Windows, and neither prints; OpenBrowserWindowApi 1.1 opens an address in
 * the user's own browser for that. So what served the pane is asked to hold the file, and the browser is sent there. A
 * web server of files holds none: then there are the clipboard and a sheet, and the pane says so. Excel on the web is
 * a page of a browser, which takes downloads and prints.
 */
import { base64Of, pngOf } from "../panel/frame/download";
import { byLink, type FileDoor, type GivenFile, type MadeFile } from "../panel/frame/fileDoor";
import type { Port } from "../workbook/port";

/** The part of Office that is used here. */
export interface FileHost {
  /** "PC", "Mac" or "OfficeOnline". */
  readonly platform: string;
  /** Opens the user's browser; undefined where Excel cannot. */
  readonly openBrowser: ((address: string) => void) | undefined;
}

/** What this Excel can do. To be asked once Office is ready. */
export function fileHost(): FileHost {
  const { platform, requirements, ui } = Office.context;
  return {
    platform: String(platform),
    openBrowser: requirements?.isSetSupported("OpenBrowserWindowApi", "1.1")
      ? (address) => ui.openBrowserWindow(address)
      : undefined,
  };
}

export function excelFiles({ platform, openBrowser }: FileHost, port: Port): FileDoor {
  if (platform !== "PC" && platform !== "Mac") {
    return {
      prints: true,
      async give(file) {
        await byLink.give(file);
        return { text: `"${file.name}" went to the browser's downloads.` };
      },
    };
  }
  return {
    prints: false,
    async give(file) {
      const address = openBrowser && (await held(file));
      if (openBrowser && address !== undefined) {
        openBrowser(address);
        return { text: `"${file.name}" is open in your browser: save it or print it there.`, acts: others(file, port) };
      }
      const acts = others(file, port);
      if (platform === "PC" && file.blob.type !== "application/pdf") {
        await byLink.give(file);
        return { text: `Excel was asked to save "${file.name}"; look into your Downloads folder.`, acts };
      }
      const instead =
        acts.length > 0 ? " Take it another way:" : " What is written to a sheet can be printed from Excel.";
      return {
        text: `Excel saves no "${file.name}" from a pane, and the add-in's web server holds none.${instead}`,
        acts,
      };
    },
  };
}

/** Where what served the pane holds the file for a while; undefined where it holds none. */
async function held({ blob, name }: MadeFile): Promise<string | undefined> {
  try {
    const answer = await fetch(`files/${encodeURIComponent(name)}`, {
      method: "POST",
      headers: { "x-bendbook": "1" },
      body: blob,
    });
    return answer.status === 201 ? new URL(await answer.text(), location.href).href : undefined;
  } catch {
    return undefined;
  }
}

/** Ways that need no server. */
function others({ blob, name, pages }: MadeFile, port: Port): NonNullable<GivenFile["acts"]> {
  const acts: [string, () => Promise<string>][] = [];
  const { addPicture } = port;
  const drawn = blob.type === "image/svg+xml" || blob.type === "image/png" || pages !== undefined;
  if (addPicture && drawn)
    acts.push([
      pages && pages.length > 1 ? "Put the pages on sheets" : "Put it on a sheet",
      async () => {
        const pictures =
          blob.type === "image/png"
            ? [{ png: blob, width: WIDTH }]
            : await Promise.all((pages ?? [await blob.text()]).map(drawnOf));
        const sheets: string[] = [];
        for (const { png, width } of pictures)
          sheets.push(
            await addPicture.call(port, { name: sheetName(name), png: await base64Of(png), width, label: name }),
          );
        return `On the new ${sheets.length > 1 ? "sheets" : "sheet"} ${sheets.map((sheet) => `"${sheet}"`).join(", ")}: print from Excel, at 100 %.`;
      },
    ]);
  if (/^(image\/svg\+xml|text\/)/.test(blob.type))
    acts.push([
      "Copy its text",
      async () => {
        await copy(await blob.text());
        return `The text of "${name}" is on the clipboard: paste it into a text editor and save it as "${name}".`;
      },
    ]);
  return acts;
}

/** On a sheet, in points, where the picture says none. */
const WIDTH = 600;
const POINTS_PER_MM = 72 / 25.4;

async function drawnOf(svg: string): Promise<{ png: Blob; width: number }> {
  const mm = /<svg[^>]*\swidth="([\d.]+)mm"/.exec(svg)?.[1];
  return { png: await pngOf(svg), width: mm === undefined ? WIDTH : Number(mm) * POINTS_PER_MM };
}

const sheetName = (file: string) => {
  const name = file.replace(/\.\w+$/, "").replaceAll("-", " ");
  return name.charAt(0).toUpperCase() + name.slice(1);
};

/** @throws Error where the pane may not reach the clipboard */
async function copy(text: string): Promise<void> {
  const written = await navigator.clipboard?.writeText(text).then(
    () => true,
    () => false,
  );
  if (written) return;
  // Excel's frame may forbid the newer way.
  const field = document.createElement("textarea");
  field.value = text;
  document.body.append(field);
  field.select();
  const copied = document.execCommand("copy");
  field.remove();
  if (!copied) throw new Error("Excel lets the pane not reach the clipboard");
}
