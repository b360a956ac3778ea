/**
 * What a room may import, from the ground floor up; lint holds it, and DEVELOPERS.md prints it. A name stands for the
 * files directly in that folder; with "/*" it stands for all below it, too. Files of one room may import each other.
 */

const LANGUAGE = ["bank", "statistics/*", "workbook", "experiment/language"];
const LOG = [...LANGUAGE, "experiment/log"];
const QUESTION = [...LOG, "experiment/question"];
const STATISTICS = ["statistics/numeric", "statistics/distributions"];
const VIEW = [
  "bank",
  "statistics/*",
  "experiment/*",
  "workbook",
  "panel/frame",
  "panel/fields",
  "panel/worker",
  "panel/plots",
  "panel/paper",
];

/** @type {Readonly<Record<string, readonly string[]>>} */
export const ROOMS = {
  "bank/impact": [],
  bank: ["bank/impact"],
  "statistics/numeric": [],
  "statistics/distributions": ["statistics/numeric"],
  "statistics/errors": STATISTICS,
  "statistics/fit": [...STATISTICS, "statistics/errors"],
  "statistics/censored": [...STATISTICS, "statistics/errors", "statistics/fit"],
  "statistics/checks": [...STATISTICS, "statistics/errors", "statistics/fit"],
  "statistics/compare": [...STATISTICS, "statistics/errors", "statistics/fit"],
  "statistics/design": STATISTICS,
  "statistics/measure": [...STATISTICS, "statistics/errors", "statistics/fit"],
  workbook: [],
  "experiment/language": ["bank", "statistics/*", "workbook"],
  "experiment/log": LANGUAGE,
  "experiment/question": LOG,
  "experiment/attempts": QUESTION,
  "experiment/trust": QUESTION,
  "experiment/setup": LANGUAGE,
  "experiment/shot": [...LANGUAGE, "experiment/setup"],
  "experiment/calibrate": [...QUESTION, "experiment/attempts", "experiment/shot"],
  "experiment/plan": QUESTION,
  "experiment/shoot": [...QUESTION, "experiment/setup", "experiment/attempts", "experiment/plan"],
  "experiment/start": [...QUESTION, "experiment/plan"],
  "experiment/layout": [...LANGUAGE, "experiment/setup", "experiment/shot"],
  "experiment/track": LANGUAGE,
  "experiment/measure": [...QUESTION, "experiment/setup", "experiment/shot"],
  "experiment/evidence": [...QUESTION, "experiment/attempts", "experiment/shot", "experiment/measure"],
  "experiment/next": [...QUESTION, "experiment/attempts", "experiment/shot", "experiment/calibrate"],
  "experiment/report": [
    ...QUESTION,
    "experiment/attempts",
    "experiment/trust",
    "experiment/plan",
    "experiment/layout",
    "experiment/evidence",
  ],
  "experiment/video": [...LOG, "experiment/setup", "experiment/shot", "experiment/track", "experiment/evidence"],
  "experiment/gather": LOG,
  functions: [
    "bank",
    "statistics/*",
    "experiment/log",
    "experiment/attempts",
    "experiment/measure",
    "experiment/track",
    "workbook",
  ],
  "hosts/embedded": ["functions", "workbook"],
  "hosts/excel": ["functions", "workbook"],
  "workbook/formula": ["workbook"],
  "workbook/columns": ["workbook", "workbook/formula", "functions"],
  "workbook/excel": ["workbook"],
  "workbook/embedded/formula": ["bank", "workbook", "workbook/formula", "hosts/embedded"],
  "workbook/embedded/mended": ["workbook", "hosts/embedded", "workbook/embedded/formula"],
  "workbook/embedded": [
    "workbook",
    "functions",
    "hosts/embedded",
    "workbook/columns",
    "workbook/embedded/formula",
    "workbook/embedded/mended",
  ],
  "workbook/direct": ["workbook", "workbook/formula", "functions", "workbook/embedded", "workbook/embedded/formula"],
  "workbook/file/package": ["workbook", "workbook/formula"],
  "workbook/file/read": ["workbook", "workbook/file/package"],
  "workbook/file/save": ["workbook", "workbook/file/package", "workbook/file/read"],
  "workbook/file/rows": ["workbook", "workbook/file/package", "workbook/file/read", "workbook/file/save"],
  "workbook/file": ["workbook", "workbook/file/*"],
  "panel/frame": ["bank", "statistics/*", "experiment/*", "workbook"],
  "panel/fields": ["bank", "experiment/*", "panel/frame"],
  "panel/worker": ["statistics/*", "experiment/*", "panel/frame", "panel/plots"],
  "panel/plots": ["statistics/*", "experiment/*", "panel/frame"],
  "panel/paper": ["experiment/*", "panel/frame"],
  "panel/attempts": [...VIEW, "panel/question"],
  "panel/calibrate": VIEW,
  "panel/evidence": VIEW,
  "panel/layout": VIEW,
  "panel/measure": VIEW,
  "panel/video": VIEW,
  "panel/next": VIEW,
  "panel/plan": VIEW,
  "panel/question": VIEW,
  "panel/report": VIEW,
  "panel/setup": VIEW,
  "panel/shoot": VIEW,
  "panel/shot": [...VIEW, "panel/calibrate"],
  "panel/start": VIEW,
  "panel/trust": VIEW,
  panel: ["bank", "statistics/*", "experiment/*", "workbook", "panel/*"],
  taskpane: ["hosts/excel", "workbook", "workbook/excel", "panel", "panel/frame", "panel/plots"],
  workbench: ["experiment/*", "workbook", "workbook/embedded", "workbook/file/*", "panel", "panel/frame"],
  cli: [
    "bank",
    "statistics/*",
    "experiment/*",
    "functions",
    "workbook",
    "workbook/embedded",
    "workbook/embedded/formula",
    "workbook/direct",
    "workbook/file",
    "workbook/file/*",
  ],
  "": [],
};

/** The room of a file, by its path below src/ with "/" between names. @param {string} path */
export function roomOf(path) {
  const at = path.lastIndexOf("/");
  return at < 0 ? "" : path.slice(0, at);
}

/** Whether one room may import another. @param {string} from @param {string} to */
export function mayImport(from, to) {
  if (from === to || to === "") return true;
  return (ROOMS[from] ?? []).some((name) => (name.endsWith("/*") ? to.startsWith(name.slice(0, -1)) : to === name));
}

/** The table as DEVELOPERS.md prints it: rooms that may import the same stand together. */
export function roomsTable() {
  const byMay = new Map();
  for (const [room, may] of Object.entries(ROOMS)) {
    if (room === "") continue;
    const text = may.join(", ") || "nothing";
    byMay.set(text, [...(byMay.get(text) ?? []), room]);
  }
  const rows = [...byMay].map(([may, rooms]) => `| ${rooms.join(", ")} | ${may} |`);
  return ["| room | may import |", "| --- | --- |", ...rows].join("\n");
}
