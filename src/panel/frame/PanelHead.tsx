/** The first line of the panel: its name, help and preferences, each closed until it is asked for. */
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useRef, useState, type KeyboardEvent } from "react";
import type { Port } from "../../workbook/port";
import { HELP } from "./help";
import { HelpNote } from "./HelpNote";
import { PreferencesNote } from "./PreferencesNote";
import type { UnitSystem } from "./preferences";
import type { ViewName } from "./settings";

interface Props {
  readonly view: ViewName;
  readonly host: Port["host"];
  /** In force, whoever chose them. */
  readonly units: UnitSystem;
  readonly confidence: number;
}

const useStyles = makeStyles({
  // Excel lays its own menu over the top right corner.
  line: {
    display: "flex",
    flexWrap: "wrap",
    alignItems: "center",
    gap: "0 4px",
    minHeight: "34px",
    paddingRight: "40px",
  },
  beside: { minHeight: 0, paddingRight: 0 },
  title: {
    fontSize: tokens.fontSizeBase400,
    lineHeight: tokens.lineHeightBase400,
    fontWeight: tokens.fontWeightSemibold,
    margin: 0,
    marginRight: "auto",
  },
  button: { minWidth: 0, "@media (pointer: coarse)": { minHeight: "44px" } },
  open: { padding: "4px 0 8px", borderBottom: `1px solid ${tokens.colorNeutralStroke2}` },
});

type Part = "help" | "preferences";

export function PanelHead({ view, host, units, confidence }: Props) {
  const styles = useStyles();
  const [open, setOpen] = useState<Part>();
  const opener = useRef<HTMLElement | null>(null);
  const toggle = (part: Part, label: string, shown: string, closing: string) => (
    <Button
      size="small"
      appearance="transparent"
      className={styles.button}
      aria-expanded={open === part}
      aria-label={open === part ? closing : label}
      onClick={(event) => {
        opener.current = event.currentTarget;
        setOpen(open === part ? undefined : part);
      }}
    >
      {open === part ? "Close" : shown}
    </Button>
  );
  const onKey = (event: KeyboardEvent) => {
    // A list that is open in it closes first.
    if (event.key !== "Escape" || !open || event.defaultPrevented) return;
    setOpen(undefined);
    opener.current?.focus();
  };
  return (
    <div onKeyDown={onKey}>
      <div className={host === "excel" ? styles.line : `${styles.line} ${styles.beside}`}>
        <h1 className={styles.title}>Bendbook</h1>
        {toggle("help", `Help: ${HELP[view].name}`, "Help", "Close the help")}
        {toggle("preferences", "Preferences", "Preferences", "Close the preferences")}
      </div>
      {open === "help" && (
        <div className={styles.open}>
          <HelpNote view={view} host={host} />
        </div>
      )}
      {open === "preferences" && (
        <div className={styles.open}>
          <PreferencesNote units={units} confidence={confidence} />
        </div>
      )}
    </div>
  );
}
