/** A row that says how something stands, and opens to change it. */
import { makeStyles, tokens } from "@fluentui/react-components";
import { useState, type ReactNode } from "react";

interface Props {
  readonly title: string;
  readonly standing: string;
  readonly part: string;
  readonly children: ReactNode;
}

const useStyles = makeStyles({
  fold: { borderTop: `1px solid ${tokens.colorNeutralStroke2}` },
  head: {
    minHeight: "48px",
    cursor: "pointer",
    padding: "6px 0",
    boxSizing: "border-box",
    listStyle: "none",
    "::-webkit-details-marker": { display: "none" },
    position: "relative",
    paddingRight: "24px",
    "::after": {
      content: '"›"',
      position: "absolute",
      right: "6px",
      top: "10px",
      fontSize: "20px",
      color: tokens.colorNeutralForeground2,
    },
  },
  standing: {
    display: "block",
    color: tokens.colorNeutralForeground2,
    fontSize: tokens.fontSizeBase200,
    overflowWrap: "anywhere",
  },
  body: { padding: "4px 0 12px" },
});

export function Fold({ title, standing, part, children }: Props) {
  const styles = useStyles();
  // What nobody looks at is not worked out.
  const [open, setOpen] = useState(false);
  return (
    <details className={styles.fold} data-part={part} onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary className={styles.head}>
        {title}
        <span className={styles.standing}>{standing}</span>
      </summary>
      {open && <div className={styles.body}>{children}</div>}
    </details>
  );
}
