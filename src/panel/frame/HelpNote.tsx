/** The help of the view in front: what it is for, then the keys. */
import type { Port } from "../../workbook/port";
import { HELP } from "./help";
import { keysOf } from "./keys";
import type { ViewName } from "./settings";
import { useSectionStyles } from "./styles";

export function HelpNote({ view, host }: { readonly view: ViewName; readonly host: Port["host"] }) {
  const section = useSectionStyles();
  return (
    <div data-part="help" role="note" aria-label={`Help: ${HELP[view].name}`}>
      {HELP[view].lines.map((line) => (
        <p key={line} className={section.sentence}>
          {line}
        </p>
      ))}
      <h2 className={section.subhead}>Keys</h2>
      <dl className={section.keys} data-part="keys">
        {keysOf(host, view).map(({ keys, does }) => (
          <div key={keys}>
            <dt>{keys}</dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
    </div>
  );
}
