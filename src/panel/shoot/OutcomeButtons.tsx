/** How an attempt ended, in one press each: large, and as far apart as thumbs want. */
import { Button, makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import type { Outcome } from "../../experiment/log/outcome";
import { OUTCOME_NAMES } from "../../experiment/shoot/shootWords";

interface Props {
  readonly disabled: boolean;
  readonly onPress: (outcome: Outcome) => void;
}

const useStyles = makeStyles({
  all: { display: "grid", gridTemplateColumns: "minmax(0, 5fr) minmax(0, 3fr)", gap: "8px" },
  one: {
    minHeight: "64px",
    minWidth: 0,
    fontSize: tokens.fontSizeBase500,
    lineHeight: tokens.lineHeightBase400,
    fontWeight: tokens.fontWeightSemibold,
    touchAction: "manipulation",
  },
  wide: { gridColumn: "1 / -1" },
  also: { fontSize: tokens.fontSizeBase400 },
  hit: {
    backgroundColor: tokens.colorNeutralForeground3,
    color: tokens.colorNeutralBackground1,
    ":hover": { backgroundColor: tokens.colorNeutralForeground2, color: tokens.colorNeutralBackground1 },
    ":hover:active": { backgroundColor: tokens.colorNeutralForeground1, color: tokens.colorNeutralBackground1 },
  },
});

export function OutcomeButtons({ disabled, onPress }: Props) {
  const styles = useStyles();
  const button = (outcome: Outcome, look: "primary" | "secondary", text: string, ...more: string[]) => (
    <Button
      className={mergeClasses(styles.one, ...more)}
      appearance={look}
      disabled={disabled}
      aria-label={outcome === "made" ? "Got by … and pocketed" : OUTCOME_NAMES[outcome]}
      data-outcome={outcome}
      onClick={() => onPress(outcome)}
    >
      {text}
    </Button>
  );
  return (
    <div className={styles.all} role="group" aria-label="How the attempt ended">
      {button("cleared", "primary", "Got by")}
      {button("made", "primary", "… and pocketed", styles.also)}
      {button("hit obstacle", "secondary", "Hit the obstacle", styles.wide, disabled ? "" : styles.hit)}
      {button("missed", "secondary", "Missed", styles.wide)}
    </div>
  );
}
