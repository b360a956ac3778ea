/** One step of the analysis: closed to a line that says how it stands, or open. */
import {
  AccordionHeader,
  AccordionItem,
  AccordionPanel,
  makeStyles,
  Spinner,
  tokens,
} from "@fluentui/react-components";
import { Suspense, type ReactNode } from "react";

const useStyles = makeStyles({
  state: {
    display: "block",
    color: tokens.colorNeutralForeground2,
    fontSize: tokens.fontSizeBase200,
    fontWeight: tokens.fontWeightRegular,
  },
  head: { display: "block", padding: "6px 0" },
});

interface Props {
  readonly id: string;
  readonly title: string;
  readonly standing: string;
  readonly children: ReactNode;
}

export function Step({ id, title, standing, children }: Props) {
  const styles = useStyles();
  return (
    <AccordionItem value={id}>
      <AccordionHeader as="h2" expandIconPosition="end">
        <span className={styles.head}>
          {title}
          <span className={styles.state}>{standing}</span>
        </span>
      </AccordionHeader>
      <AccordionPanel style={{ margin: 0 }} data-step={id}>
        <Suspense fallback={<Spinner size="tiny" label="Opening the step …" />}>{children}</Suspense>
      </AccordionPanel>
    </AccordionItem>
  );
}
