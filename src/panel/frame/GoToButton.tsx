/** A button that shows a cell and lets what is typed next go there. */
import { Button } from "@fluentui/react-components";
import type { Port } from "../../workbook/port";
import { selectCells } from "./selectCells";

interface Props {
  readonly port: Port;
  readonly sheet: string;
  readonly cell: { readonly row: number; readonly column: number };
  readonly label: string;
  readonly disabled?: boolean;
  /** For one of a list of cells: a line of text rather than a button's box, with the list's own look. */
  readonly entry?: string;
  readonly onFailure: (text: string | undefined) => void;
}

export function GoToButton({ port, sheet, cell: { row, column }, label, disabled, entry, onFailure }: Props) {
  return (
    <Button
      disabled={disabled}
      {...(entry !== undefined && { appearance: "subtle", size: "small", className: entry })}
      onClick={() => selectCells(port, sheet, { row, column, rows: 1, columns: 1 }, onFailure, true)}
    >
      {label}
    </Button>
  );
}
