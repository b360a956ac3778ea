/** A report as one page of HTML that prints well and needs nothing else. */
import { toText, type Said } from "../../experiment/language/said";
import { shownFixed, shownMoment, shownNumber } from "../../experiment/language/locale";
import type { Paper } from "../../experiment/layout/layoutForm";
import type { Report } from "../../experiment/report/report";
import type { ReportBlock, ReportCell } from "../../experiment/report/reportBlock";
import { escapeMarkup } from "../../experiment/language/escape";

const STYLE = `
body { font: 11pt/1.45 Georgia, "Times New Roman", serif; color: #111; background: #fff; max-width: 46em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.6em; line-height: 1.2; margin: 0 0 .2em; } h2 { font-size: 1.15em; margin: 1.6em 0 .4em; break-after: avoid; }
p { margin: .4em 0; overflow-wrap: anywhere; } ul { margin: .4em 0; padding-left: 1.2em; }
table { border-collapse: collapse; margin: .6em 0; font-size: .85em; } th, td { text-align: left; vertical-align: top; padding: .2em .8em .2em 0; border-bottom: 1px solid #ccc; }
td.number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; } thead { display: table-header-group; } tr, figure { break-inside: avoid; }
figure { margin: 1em 0; } figure svg { max-width: 100%; height: auto; } figcaption { font-size: .85em; color: #333; } .wide { overflow-x: auto; }
.verdict { font-size: 1.25em; line-height: 1.3; font-weight: bold; }
.front figure { text-align: center; } .front figure svg { max-height: 70mm; }
p, li { orphans: 3; widows: 3; } h2 + * { break-before: avoid; } section.front + section { break-before: page; }
@media print { body { margin: 0; max-width: none; padding: 0; } .wide { overflow: visible; } }`;

/**
 * @param drawings svg markup by the name of its figure, its numbers in the language already
 * @param language of numbers and dates
 */
export function reportPage(
  report: Report,
  drawings: ReadonlyMap<string, string>,
  language: string,
  paper: Paper,
): string {
  const said = (text: Said) => escapeMarkup(toText(text, language));
  const cell = (value: ReportCell) => {
    if (value === null) return "<td></td>";
    const number = inDigits(value, language);
    return number === undefined ? `<td>${said(value as Said)}</td>` : `<td class="number">${escapeMarkup(number)}</td>`;
  };
  const block = (one: ReportBlock): string => {
    switch (one.kind) {
      case "text":
        return `<p>${said(one.text)}</p>`;
      case "verdict":
        return `<p class="verdict">${said(one.text)}</p>`;
      case "list":
        return `<ul>${one.items.map((item) => `<li>${said(item)}</li>`).join("")}</ul>`;
      case "figure":
        return `<figure>${drawings.get(one.id) ?? ""}<figcaption>${said(one.caption)}</figcaption></figure>`;
      case "table":
        return `<div class="wide"><table><thead><tr>${one.head.map((head) => `<th>${said(head)}</th>`).join("")}</tr></thead><tbody>${one.rows.map((row) => `<tr>${row.map(cell).join("")}</tr>`).join("")}</tbody></table></div>`;
      default:
        return one satisfies never;
    }
  };
  const sections = report.sections
    .map(({ heading, blocks, front }) => {
      const kind = front ? ' class="front"' : "";
      return `<section${kind}><h2>${escapeMarkup(heading)}</h2>${blocks.map(block).join("")}</section>`;
    })
    .join("");
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escapeMarkup(report.title)}</title><style>@page { size: ${paper === "A4" ? "A4" : "letter"}; margin: 18mm; @bottom-right { content: counter(page) " / " counter(pages); font: 9pt serif; } }${STYLE}</style></head><body><h1>${escapeMarkup(report.title)}</h1><p>${escapeMarkup(shownMoment(report.made, language))}</p>${sections}</body></html>`;
}

/** A number of a table, with its thousands set apart; undefined for what is no number alone. */
function inDigits(value: NonNullable<ReportCell>, language: string): string | undefined {
  if (typeof value === "number") return shownNumber(value, 6, language);
  if (typeof value !== "object") return undefined;
  if ("decimals" in value) return shownFixed(value.value, value.decimals, language);
  return "digits" in value ? shownNumber(value.value, value.digits, language) : undefined;
}
