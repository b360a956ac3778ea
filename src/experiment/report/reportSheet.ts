/** A report as a sheet: numbers stay numbers, plots are named. */
import { toText } from "../language/said";
import type { NewCell, NewSheet } from "../../workbook/port";
import type { Report } from "./report";
import type { ReportCell } from "./reportBlock";
import { serialOf } from "./sheetRows";

/** One of the formats that spreadsheets show in the way of their user's region. */
const LOCAL_MOMENT = "m/d/yyyy h:mm";

/** The number whole, shown to the digits that are worth reading. */
function cellOf(cell: ReportCell, language: string): NewCell {
  if (cell === null || typeof cell !== "object") return { value: cell };
  if (!("value" in cell)) return { value: toText(cell, language) };
  if (cell.value === 0) return { value: 0 };
  if ("digits" in cell && (Math.abs(cell.value) < 1e-4 || Math.abs(cell.value) >= 1e9))
    return { value: cell.value, format: `0.${"0".repeat(Math.max(1, cell.digits - 1))}E+00` };
  const decimals =
    "decimals" in cell ? cell.decimals : Math.max(0, cell.digits - 1 - Math.floor(Math.log10(Math.abs(cell.value))));
  return { value: cell.value, format: decimals === 0 ? "0" : `0.${"0".repeat(decimals)}` };
}

/** @param language in which sentences write their decimals; cells follow the spreadsheet's own */
export function reportSheet(report: Report, language: string): NewSheet {
  const rows: NewCell[][] = [
    [{ value: report.title, bold: true }],
    [{ value: "Made" }, { value: serialOf(report.made), format: LOCAL_MOMENT }],
  ];
  for (const { heading, blocks } of report.sections) {
    rows.push([], [{ value: heading, bold: true }]);
    for (const block of blocks) {
      if (block.kind === "text") rows.push([{ value: toText(block.text, language) }]);
      else if (block.kind === "verdict") rows.push([{ value: toText(block.text, language), bold: true }]);
      else if (block.kind === "list")
        rows.push(...block.items.map((item): NewCell[] => [{ value: `• ${toText(item, language)}` }]));
      else if (block.kind === "figure")
        rows.push([{ value: `Plot, on the printable page: ${toText(block.caption, language)}` }]);
      else
        rows.push(
          block.head.map((head) => ({ value: toText(head, language), bold: true })),
          ...block.rows.map((row) => row.map((cell) => cellOf(cell, language))),
        );
    }
  }
  return { name: "Report", rows, columnWidths: [40, 18, 18, 16, 16, 16, 16, 16, 12] };
}
