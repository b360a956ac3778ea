/** Keep: the answer that is shown as a sheet. */
import { madeSheet } from "../../experiment/report/madeSheet";
import { resultsSheet } from "../../experiment/report/resultsSheet";
import { VERSION } from "../../version";
import type { Port } from "../../workbook/port";
import type { PanelView } from "../frame/view";
import { KeepSection } from "./KeepSection";

interface Props {
  readonly port: Port;
  readonly view: Pick<PanelView, "analysis" | "comparison" | "made" | "order">;
  /** Where the success rate is asked, as typed, by heading. */
  readonly at: Readonly<Record<string, string>>;
  readonly onFailure: (text: string | undefined) => void;
}

export function KeptAnswer({ port, view: { analysis, comparison, made, order }, at, onFailure }: Props) {
  const ofMade = made && ((name: string, when: Date) => madeSheet(made, at, name, when, VERSION, order));
  const ofAnswer =
    analysis && ((name: string, when: Date) => resultsSheet(analysis, name, when, VERSION, comparison, order));
  const make = ofMade ?? ofAnswer;
  return make ? <KeepSection port={port} make={make} onFailure={onFailure} /> : null;
}
