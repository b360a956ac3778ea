/**
 * What the pane says about Excel itself, around the panel: a list of functions that Excel keeps from before, blanks
 * that may come as zeros, and whether Bendbook starts with the workbook.
 */
import { onNotice, type CallNotices } from "../hosts/excel/callNotices";
import { CLEARING } from "./clearCache";
import { messageOf } from "../panel/frame/messageOf";
import { button, paragraph } from "./elements";
import { noMoreRefresh, refreshAtNextOpening } from "./refreshList";

/** Where what was read is remembered; a pane that may keep nothing says it again the next time. */
const READ = "bendbook.read";

const REFRESH = "Read the list anew at the next opening";

/** The sentences for what was noticed, each under a name of its own. */
function sentences({ outdated, zeros }: CallNotices, platform: Office.PlatformType): Record<string, string> {
  const clear = Object.entries(CLEARING).find(([name]) => name === String(platform))?.[1] ?? CLEARING.PC;
  return {
    ...(outdated
      ? {
          outdated: `Excel keeps another list of the BANK functions than this Bendbook has: arguments given to ${outdated.name}: ${outdated.given}; arguments it takes: ${outdated.takes}. Until Excel reads the list anew, arguments may be missing and new functions show #NAME?. Press "${REFRESH}" for this workbook. For all workbooks: ${clear}`,
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
  let opening = true;
  onNotice((notices) => {
    // An Excel that keeps no such setting has nothing to be switched off.
    if (opening && !notices.outdated) void noMoreRefresh().catch(() => undefined);
    opening = false;
    for (const [name, text] of Object.entries(sentences(notices, platform))) {
      if (read.has(name)) continue;
      read.add(name);
      const note = line(text);
      if (name === "outdated") note.append(refreshButton(note));
      note.append(
        button("I have read this", () => {
          note.remove();
          // A list that is still the wrong one is said each time that the pane opens.
          if (name !== "outdated") keep(name);
        }),
      );
      above.append(note);
    }
  });
}

function line(text: string): HTMLElement {
  const note = document.createElement("div");
  note.className = "notice";
  note.setAttribute("role", "note");
  note.append(paragraph(text));
  return note;
}

/** Says below the note how it went. */
function refreshButton(note: HTMLElement): HTMLElement {
  const said = paragraph("", "status");
  note.append(said);
  return button(REFRESH, () => {
    refreshAtNextOpening().then(
      () => (said.textContent = "Save this workbook, close it and open it again: Excel reads the list anew then."),
      (problem: unknown) => (said.textContent = notKept(problem)),
    );
  });
}

const notKept = (problem: unknown) => `Excel did not keep that: ${messageOf(problem)}`;

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
  const failed = paragraph("", "alert");
  label.append(box, "Start Bendbook with this workbook: BANK functions compute without opening this pane");
  below.append(label, failed);
  box.addEventListener("change", () => {
    const wanted = box.checked ? Office.StartupBehavior.load : Office.StartupBehavior.none;
    failed.textContent = "";
    Office.addin.setStartupBehavior(wanted).catch((problem: unknown) => {
      box.checked = !box.checked;
      failed.textContent = notKept(problem);
    });
  });
}
