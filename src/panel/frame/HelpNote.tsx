/** The help of the view in front, closed until it is asked for. */
import { Button } from "@fluentui/react-components";
import { useState } from "react";
import { useSectionStyles } from "./styles";
import type { ViewName } from "./settings";
import type { Port } from "../../workbook/port";
import { HELP } from "./help";

/** What holds for every view beside the embedded grid. */
const KEYS =
  "F6 and Shift+F6 go from the panel to the top bar, the sheet and back, from anywhere; in the sheet, Tab goes from cell to cell.";

export function HelpNote({ view, host }: { view: ViewName; host: Port["host"] }) {
  const section = useSectionStyles();
  const [open, setOpen] = useState(false);
  return (
    <div style={{ padding: "4px 0" }}>
      <Button
        size="small"
        appearance="transparent"
        style={{ paddingLeft: 0, minWidth: 0 }}
        aria-expanded={open}
        onClick={() => setOpen(!open)}
      >
        {open ? "Close the help" : `Help: ${HELP[view].name}`}
      </Button>
      {open && (
        <div data-part="help" role="note">
          {[...HELP[view].lines, ...(host === "embedded" ? [KEYS] : [])].map((line) => (
            <p key={line} className={section.sentence}>
              {line}
            </p>
          ))}
        </div>
      )}
    </div>
  );
}
