/** A table in a room of its own, which the keyboard can scroll should it be too wide, and with a way to copy it. */
import { useRef, type ReactNode } from "react";
import { CopyButton } from "./CopyButton";
import { tableText } from "./copyText";
import { useSectionStyles } from "./styles";

interface Props {
  /** What the table tells, for those who hear it. */
  readonly label: string;
  /** One table. */
  readonly children: ReactNode;
}

export function TableBox({ label, children }: Props) {
  const section = useSectionStyles();
  const box = useRef<HTMLDivElement>(null);
  const text = () => {
    const table = box.current?.querySelector("table");
    return table ? tableText(table) : "";
  };
  return (
    <div>
      <div ref={box} className={`${section.scroll} ${section.room}`} tabIndex={0} role="region" aria-label={label}>
        {children}
      </div>
      <CopyButton what={`the table: ${label}`} text={text} />
    </div>
  );
}
