/**
 * The Set-up view: table, ball, obstacle, ruler, target, cloth and cushion, once for the workbook, as its sheet of
 * conditions has them.
 */
import { toText } from "../../experiment/language/said";
import { Button, Dropdown, Field, makeStyles, Option } from "@fluentui/react-components";
import {
  BALL_PRESETS,
  presetOf,
  SETUP_ITEMS,
  SETUP_NAMES,
  TABLE_PRESETS,
  type Preset,
  type Setup,
} from "../../experiment/setup/setup";
import { givenSentence, setupLine, shownItem } from "../../experiment/setup/setupWords";
import type { Port } from "../../workbook/port";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import type { SetupState } from "../frame/useSetup";
import { Warning } from "../frame/Warning";
import { DrawnPicture } from "../plots/DrawnPicture";
import type { PictureTable } from "../plots/figureTable";
import { ItemFields } from "./ItemFields";
import { SetupDrawing } from "./SetupDrawing";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly state: SetupState;
}

const TALLEST = 240;

const useStyles = makeStyles({
  items: { display: "grid", gridTemplateColumns: "repeat(auto-fit, minmax(250px, 1fr))", gap: "12px 20px" },
});

export function SetupView({ port, theme, state }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const { setup, change } = state;
  const line = setupLine(setup);
  return (
    <div data-view="setup" className={section.stack}>
      <p className={section.line} data-part="setup-line" aria-live="polite">
        {toText(line)}
      </p>
      <DrawnPicture
        title="Table"
        theme={theme}
        drawing={SetupDrawing}
        of={{ setup, tallest: TALLEST, label: toText(line) }}
        table={() => tableOf(setup)}
      />
      <Standing port={port} state={state} />
      <div className={section.fields}>
        <PresetField label="Table" presets={TABLE_PRESETS} setup={setup} onChange={change} />
        <PresetField label="Balls" presets={BALL_PRESETS} setup={setup} onChange={change} />
      </div>
      {GROUPS.map((group) => (
        <section key={group} aria-label={group}>
          <h2 className={section.subhead}>{group}</h2>
          <div className={styles.items}>
            {SETUP_NAMES.filter((name) => SETUP_ITEMS[name].group === group).map((name) => (
              <ItemFields key={name} name={name} setup={setup} onChange={change} />
            ))}
          </div>
        </section>
      ))}
    </div>
  );
}

const GROUPS = [...new Set(SETUP_NAMES.map((name) => SETUP_ITEMS[name].group))];

/** Where it stands, and what of it cannot be taken. */
function Standing({ port, state: { setup, sheet, problems, failure } }: { port: Port; state: SetupState }) {
  const section = useSectionStyles();
  return (
    <>
      {failure && <Warning text={`The set-up was not written: ${failure}`} />}
      {problems.length > 0 && <Warning text={`Left at its usual value: ${problems.join(" ")}`} />}
      <p className={section.note}>
        {sheet === undefined
          ? "No sheet of conditions stands in this workbook yet: the first change makes one. Every view takes these values."
          : `Stands on the sheet "${sheet}", which every view reads; columns A and B there are a range of conditions for the functions.`}{" "}
        {givenSentence(setup)}
      </p>
      {sheet !== undefined && (
        <Button size="small" onClick={() => void port.select(sheet, { row: 0, column: 0, rows: 1, columns: 1 })}>
          Show the sheet
        </Button>
      )}
    </>
  );
}

interface PresetProps {
  readonly label: string;
  readonly presets: readonly Preset[];
  readonly setup: Setup;
  readonly onChange: (next: Setup) => void;
}

function PresetField({ label, presets, setup, onChange }: PresetProps) {
  const now = presetOf(setup, presets);
  return (
    <Field label={label} style={{ minWidth: 0 }}>
      <Dropdown
        style={{ minWidth: 0 }}
        value={now?.name ?? "as below"}
        selectedOptions={now ? [now.name] : []}
        onOptionSelect={(_, { optionValue }) => {
          const found = presets.find(({ name }) => name === optionValue);
          if (found) onChange({ ...setup, ...found.values });
        }}
      >
        {presets.map(({ name }) => (
          <Option key={name} value={name}>
            {name}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}

const DRAWN = ["length", "breadth", "cornerMouth", "sideMouth", "ballDiameter", "obstacleDiameter"] as const;

function tableOf(setup: Setup): PictureTable {
  return {
    headings: ["What", "Size"],
    rows: DRAWN.map((name) => [SETUP_ITEMS[name].label, toText(shownItem(name, setup[name].value, setup.units))]),
  };
}
