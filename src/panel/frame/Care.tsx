/** A caution for people's safety. It never folds. */
import { makeStyles, tokens } from "@fluentui/react-components";
import type { ReactNode } from "react";

const useStyles = makeStyles({
  care: {
    border: `1px solid ${tokens.colorPaletteYellowBorder1}`,
    backgroundColor: tokens.colorPaletteYellowBackground1,
    color: tokens.colorNeutralForeground1,
    borderRadius: tokens.borderRadiusMedium,
    padding: "6px 10px",
    margin: 0,
    fontSize: tokens.fontSizeBase200,
    lineHeight: tokens.lineHeightBase200,
  },
});

export function Care({ children }: { readonly children: ReactNode }) {
  const styles = useStyles();
  return (
    <p className={styles.care} role="note" data-part="care">
      {children}
    </p>
  );
}
