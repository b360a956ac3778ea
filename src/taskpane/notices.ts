/**
 * What the pane says about Excel itself, around the panel: a list of functions that Excel keeps from before, blanks
 * that may come as zeros, and whether Bendbook starts with the workbook.
 */
import { onNotice, type CallNotices } from "../hosts/excel/callNotices";

/** Where what was read is remembered; a pane that may keep nothing says it again the next time. */
const READ = "bendbook.read";

/** How to make Excel fetch the list anew: learn.microsoft.com/office/dev/add-ins/testing/clear-cache. */
const CLEARING: Readonly<Record<string, string>> = {
  PC: "Choose File, Options, Trust Center, Trust Center Settings, Trusted Add-in Catalogs, tick the box that clears the cache of web add-ins when Office starts next, then close all Office programs and open Excel again.",
  Mac: "Open the menu in the top right corner of this pane and choose Clear Web Cache, then close Excel and open it again.",
  OfficeOnline:
    "Remove Bendbook from My Add-ins, clear what the browser keeps for the site of Excel, load the page again and add Bendbook again.",
};

/** The sentences for what was noticed, each under a name of its own. */
function sentences({ outdated, zeros }: CallNotices, platform: Office.PlatformType): Record<string, string> {
  const clear = CLEARING[String(platform)] ?? CLEARING["PC"] ?? "";
  return {
    ...(outdated
      ? {
          outdated: `Excel keeps another list of the BANK functions than this Bendbook has: arguments given to ${outdated.name}: ${outdated.given}; arguments it takes: ${outdated.takes}. Until the list is cleared, arguments may be missing and new functions show #NAME?. ${clear}`,
        }
      : {}),
    ...(zeros
      ? {
          zeros: `This Excel may hand over a blank cell as 0. ${zeros} was given a 0: if that is a blank, it counts as a measurement of 0, here and wherever a function is given a blank cell. Write IF(cells="","",cells) for cells that may be blank. This pane reads the sheet itself and takes a blank for a blank.`,
        }
      : {}),
  };
}

/** Shows what calls notice above the panel, each once until it is read. */
export function showNotices(above: HTMLElement, platform: Office.PlatformType): void {
  const read = new Set(kept());
  onNotice((notices) => {
    for (const [name, text] of Object.entries(sentences(notices, platform)))
      // A list that is still the wrong one is said each time that the pane opens.
      if (!read.has(name)) {
        read.add(name);
        above.append(line(text, () => name !== "outdated" && keep(name)));
      }
  });
}

function line(text: string, onRead: () => void): HTMLElement {
  const note = document.createElement("div");
  note.className = "notice";
  note.setAttribute("role", "note");
  const words = document.createElement("p");
  words.textContent = text;
  const button = document.createElement("button");
  button.textContent = "I have read this";
  button.addEventListener("click", () => {
    note.remove();
    onRead();
  });
  note.append(words, button);
  return note;
}

function kept(): string[] {
  try {
    return (localStorage.getItem(READ) ?? "").split(",");
  } catch {
    return [];
  }
}

function keep(name: string): void {
  try {
    localStorage.setItem(READ, [...new Set([...kept(), name])].join(","));
  } catch {
    // It is said again the next time.
  }
}

/**
 * A box below the panel: whether Bendbook starts with this workbook, so that its functions compute without the pane.
 * Excel keeps the answer with the workbook; nothing is set before the user asks for it.
 */
export async function offerStart(below: HTMLElement): Promise<void> {
  const label = document.createElement("label");
  const box = document.createElement("input");
  box.type = "checkbox";
  box.checked = (await Office.addin.getStartupBehavior()) === Office.StartupBehavior.load;
  const failed = document.createElement("p");
  failed.setAttribute("role", "alert");
  label.append(box, "Start Bendbook with this workbook: BANK functions compute without opening this pane");
  below.append(label, failed);
  box.addEventListener("change", () => {
    const wanted = box.checked ? Office.StartupBehavior.load : Office.StartupBehavior.none;
    failed.textContent = "";
    Office.addin.setStartupBehavior(wanted).catch((problem: unknown) => {
      box.checked = !box.checked;
      failed.textContent = `Excel did not keep that: ${problem instanceof Error ? problem.message : String(problem)}`;
    });
  });
}
