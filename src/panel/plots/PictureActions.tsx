/** What can be done with any picture: copy it, save it, read it as a table. */
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { useState } from "react";
import { messageOf } from "../frame/messageOf";
import { useSectionStyles } from "../frame/styles";
import type { PictureTable } from "./figureTable";

/** What makes files of pictures draws without the page; it comes when the first one is asked for. */
type Maker = typeof import("./savePicture");

interface Props {
  /** What the picture is of; its files are named after it. */
  readonly title: string;
  /** The picture as a complete SVG file, in light colours; drawn when it is asked for. */
  readonly svg: (maker: Maker) => string;
  /** The same as words and numbers; made when it is asked for. */
  readonly table: () => PictureTable;
}

/** Longer tables are cut on the screen; copied, they are whole. */
const SHOWN = 200;

const useStyles = makeStyles({
  row: { display: "flex", columnGap: "4px", flexWrap: "wrap", alignItems: "center" },
  action: { minWidth: 0, padding: "0 8px" },
  said: { fontSize: tokens.fontSizeBase200 },
});

export function PictureActions({ title, svg, table }: Props) {
  const styles = useStyles();
  const [said, setSaid] = useState("");
  const [open, setOpen] = useState(false);
  const act = (done: string, what: (maker: Maker) => Promise<void> | void) => () => {
    setSaid("");
    import("./savePicture").then(what).then(
      () => setSaid(done),
      (problem: unknown) => setSaid(messageOf(problem)),
    );
  };
  const action = (name: string, label: string, onClick: () => void) => (
    <Button size="small" appearance="subtle" className={styles.action} aria-label={label} onClick={onClick}>
      {name}
    </Button>
  );
  return (
    <div data-part="picture-actions" role="group" aria-label={`Picture: ${title}`}>
      <div className={styles.row}>
        {action(
          "Copy",
          "Copy picture",
          act("The picture is copied.", (maker) => maker.copyPicture(svg(maker))),
        )}
        {action(
          "SVG",
          "Save as SVG",
          act("", (maker) => maker.saveSvg(svg(maker), title)),
        )}
        {action(
          "PNG",
          "Save as PNG",
          act("", (maker) => maker.savePng(svg(maker), title)),
        )}
        <Button
          size="small"
          appearance="subtle"
          className={styles.action}
          aria-expanded={open}
          aria-label={open ? "Close the Table" : "Table of the picture"}
          onClick={() => setOpen(!open)}
        >
          Table
        </Button>
        <span className={styles.said} role="status">
          {said}
        </span>
      </div>
      {open && (
        <ShownTable table={table()} onCopy={(of) => act("The table is copied.", (maker) => maker.copyTable(of))()} />
      )}
    </div>
  );
}

function ShownTable({
  table,
  onCopy,
}: {
  readonly table: PictureTable;
  readonly onCopy: (table: PictureTable) => void;
}) {
  const section = useSectionStyles();
  return (
    <>
      <div className={section.scroll} role="region" aria-label="Table of the picture" tabIndex={0}>
        <table className={section.table} data-part="picture-table">
          <thead>
            <tr>
              {table.headings.map((heading) => (
                <th key={heading} scope="col">
                  {heading}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.slice(0, SHOWN).map(([first, ...cells], index) => (
              <tr key={index}>
                <th scope="row">{first}</th>
                {cells.map((cell, place) => (
                  <td key={place}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {table.rows.length > SHOWN && (
        <p className={section.note}>{`${table.rows.length - SHOWN} more; copied, the table is whole.`}</p>
      )}
      <Button size="small" onClick={() => onCopy(table)}>
        Copy table
      </Button>
    </>
  );
}
