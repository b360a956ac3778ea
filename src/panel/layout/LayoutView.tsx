/**
 * The Layout view: where balls, marks and obstacle stand, measured from rails; how exactly; drawings for wall and
 * cloth.
 */
import { INCH } from "../../bank/units";
import { Button, Dropdown, Field, makeStyles, Option } from "@fluentui/react-components";
import { useMemo, useState } from "react";
import { computeShot } from "../../experiment/shot/computedShot";
import { markTemplate, wallDrawing } from "../../experiment/layout/layoutDrawing";
import {
  firstLayout,
  layoutOfShot,
  layoutProblem,
  placedBalls,
  toleranceWords,
  type LayoutForm,
  type LayoutNumber,
  type Paper,
} from "../../experiment/layout/layoutForm";
import { shotLayout } from "../../experiment/shot/shotLayout";
import {
  conditionsOfShot,
  DEFAULT_SHOT,
  unitOf,
  type Quantity,
  type ShotSettings,
} from "../../experiment/shot/shotSettings";
import type { Port } from "../../workbook/port";
import { download, downloadSvg, svgFile } from "../frame/download";
import { paperPdf } from "../paper/paperPdf";
import { paperSvg } from "../paper/paperSvg";
import { useSectionStyles } from "../frame/styles";
import { NumberField } from "../fields/NumberField";
import { UnitsField } from "../fields/UnitsField";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";

interface Props {
  readonly port: Port;
  /** As kept with the workbook. */
  readonly kept: LayoutForm | undefined;
  readonly onKeep: (form: LayoutForm) => void;
  /** The shot of the Shot view, whose layout can be taken over. */
  readonly shot: ShotSettings | undefined;
  readonly onFailure: (text: string | undefined) => void;
}

/**
 * Playing surfaces nose to nose, long and short: 9 ft after the World Pool-Billiard Association, 8 and 7 ft common
 * practice; from memory.
 */
const TABLES: readonly (readonly [name: string, length: number, breadth: number])[] = [
  ["9-ft", 100, 50],
  ["8-ft", 88, 44],
  ["7-ft", 76, 38],
];

const FIELDS: readonly (readonly [name: LayoutNumber, label: string, quantity: Quantity, low: number, high: number])[] =
  [
    ["railLength", "Length of the banked rail", "length", 0.5, 5],
    ["tableWidth", "To the rail opposite", "length", 0.5, 5],
    ["departure", "Departure along the rail", "length", 0, 5],
    ["arrival", "Arrival along the rail opposite", "length", 0, 5],
    ["swing", "Widest swing, share of the path", "ratio", 0.05, 0.95],
    ["bend", "Wanted bend, + short", "small", -0.1, 0.1],
    ["ballDiameter", "Ball's diameter", "small", 0.02, 0.1],
    ["obstacleDiameter", "Obstacle's diameter", "small", 0.002, 0.3],
    ["wrong", "Bend may be wrong by", "small", 0.0001, 0.02],
  ];

const useStyles = makeStyles({
  fields: {
    display: "grid",
    gridTemplateColumns: "repeat(auto-fit, minmax(130px, 1fr))",
    gap: "8px 12px",
    alignItems: "end",
  },
  drawing: { border: "1px solid #888", "& svg": { display: "block", width: "100%", height: "auto" } },
  buttons: { display: "flex", flexWrap: "wrap", gap: "8px" },
});

export function LayoutView({ port, kept, onKeep, shot = DEFAULT_SHOT, onFailure }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const [first] = useState(() => firstLayout(navigator.language));
  const form = kept ?? first;
  const change = (part: Partial<LayoutForm>) => onKeep({ ...form, ...part });
  const { busy, done, write } = useWriting(onFailure);
  const problem = layoutProblem(form);
  const balls = useMemo(() => placedBalls(form), [form]);
  const wall = useMemo(() => wallDrawing(form), [form]);
  const template = useMemo(() => markTemplate(form), [form]);
  const { units } = form;
  const measures = (rail: number, width: number) =>
    Math.abs(form.railLength - rail * INCH) < 1e-6 && Math.abs(form.tableWidth - width * INCH) < 1e-6;
  const table = TABLES.find(([, length, breadth]) => measures(length, breadth) || measures(breadth, length));
  const takeShot = () =>
    write("The shot was not taken over", async () => {
      const conditions = conditionsOfShot(shot);
      const computed = computeShot(shot, conditions);
      const path = computed.bank?.path;
      if (!path) throw new Error("the ball never reaches the line across.");
      onKeep(layoutOfShot(form, shot, shotLayout(shot, computed, conditions).touch.x, path));
      return "Taken over from the Shot view.";
    });
  const toSheet = () =>
    write("The layout was not written", async () => {
      const { name: unit, size } = unitOf("small", units);
      const rows = [
        ["Place", `x (${unit})`, `y (${unit})`, `May be off, square to the line (${unit})`, "Measured"].map(
          (value) => ({ value, bold: true }),
        ),
        ...balls.map(({ label, x, y, tolerance, words }) => [
          { value: label },
          { value: tidy(x / size) },
          { value: tidy(y / size) },
          { value: tolerance ? tidy(tolerance.square / size) : null },
          { value: words },
        ]),
      ];
      const sheet = await port.addSheet({
        name: "Layout",
        rows: [
          ...rows,
          [],
          [
            {
              value: `x along the banked rail from its left end, y square to it, nose to nose, to the centres. Wanted bend ${tidy(form.bend / size)} ${unit}, + short.`,
            },
          ],
        ],
        columnWidths: [22, 10, 10, 18, 70],
      });
      return `Written to the new sheet "${sheet}". No other cell was touched.`;
    });
  const pdf = () =>
    write("The PDF was not made", async () => {
      download(new Blob([await paperPdf([wall, template])], { type: "application/pdf" }), "layout.pdf");
      return `Two pages, ${form.paper}: the wall drawing and the template in full size. Print at 100 %.`;
    });
  return (
    <div data-view="layout" className={section.stack}>
      <p className={section.note}>
        Where the gates, guides, marks and the obstacle stand for a wanted bend, each measured from the two rails that a
        tape reaches soonest, nose to centre.
      </p>
      <div className={styles.fields}>
        <Field label="Table" style={{ minWidth: 0 }}>
          <Dropdown
            style={{ minWidth: 0 }}
            value={table ? `${table[0]}, ${form.railLength > form.tableWidth ? "long" : "short"} rail` : "as below"}
            selectedOptions={table ? [`${table[0]} ${form.railLength > form.tableWidth}`] : []}
            onOptionSelect={(_, { optionValue }) => {
              const [name, long] = (optionValue ?? "").split(" ");
              const found = TABLES.find(([one]) => one === name);
              if (!found) return;
              const [length, breadth] = [found[1] * INCH, found[2] * INCH];
              change(
                long === "true"
                  ? { railLength: length, tableWidth: breadth }
                  : { railLength: breadth, tableWidth: length },
              );
            }}
          >
            {TABLES.flatMap(([name]) =>
              [true, false].map((long) => (
                <Option
                  key={`${name} ${long}`}
                  value={`${name} ${long}`}
                  text={`${name}, ${long ? "long" : "short"} rail`}
                >{`${name}, banked from the ${long ? "long" : "short"} rail`}</Option>
              )),
            )}
          </Dropdown>
        </Field>
        <UnitsField value={units} onChange={(next) => change({ units: next })} />
        {FIELDS.map(([name, label, quantity, low, high]) => {
          const unit = unitOf(quantity, units);
          const text = unit.name === "" ? label : `${label} (${unit.name})`;
          return (
            <NumberField
              key={name}
              label={text}
              name={text}
              value={form[name]}
              unit={unit}
              low={low}
              high={high}
              onChange={(value) => change({ [name]: value })}
            />
          );
        })}
      </div>
      <Button disabled={busy} onClick={takeShot}>
        Take over the shot of the Shot view
      </Button>
      {problem ? (
        <Warning text={problem} />
      ) : (
        <>
          <div className={section.scroll}>
            <table className={section.table} data-part="places">
              <thead>
                <tr>
                  <th>Place</th>
                  <th>Measured</th>
                  <th>{`May be off (bend wrong by ${toleranceWords(form.wrong, units)})`}</th>
                </tr>
              </thead>
              <tbody>
                {balls.map(
                  ({ label, words, tolerance }) =>
                    tolerance && (
                      <tr key={label}>
                        <th>{label}</th>
                        <td>{words}</td>
                        <td>{`${toleranceWords(tolerance.square, units)} square to the line; ${toleranceWords(tolerance.x, units)} along the banked rail`}</td>
                      </tr>
                    ),
                )}
              </tbody>
            </table>
          </div>
          <p className={section.note}>
            Each alone, the others being right; together they add up as in the Measure view. Along the line itself a
            ball may be off by far more.
          </p>
          <div
            className={styles.drawing}
            role="img"
            aria-label={`${wall.shapes.flatMap((shape) => (shape.kind === "text" ? [shape.text] : [])).join(" ")}`}
          >
            <Drawing markup={paperSvg(wall)} />
          </div>
          <Field label="Paper">
            <Dropdown
              value={form.paper}
              selectedOptions={[form.paper]}
              onOptionSelect={(_, { optionValue }) => optionValue && change({ paper: optionValue as Paper })}
            >
              <Option value="A4">A4</Option>
              <Option value="Letter">Letter</Option>
            </Dropdown>
          </Field>
          <div className={styles.buttons}>
            <Button appearance="primary" disabled={busy} onClick={pdf}>
              Save as PDF, template included
            </Button>
            <Button onClick={() => downloadSvg(svgFile(paperSvg(wall)), "layout")}>Save the drawing as SVG</Button>
            <Button onClick={() => downloadSvg(svgFile(paperSvg(template)), "marks-full-size")}>
              Save the template as SVG
            </Button>
            <Button disabled={busy} onClick={toSheet}>
              Write the places to a sheet
            </Button>
          </div>
        </>
      )}
      <div role="status">{done}</div>
      <p className={section.note}>
        Marks dent or stain cloth: ask the table&apos;s owner. Adjusting rails, slate or levelling is a table
        mechanic&apos;s work. Nobody&apos;s face goes on the shot line at bed height while a ball is moving.
      </p>
    </div>
  );
}

const tidy = (value: number) => Number(value.toPrecision(10));

/** The drawing as a picture: text from a form never becomes markup of the page. */
function Drawing({ markup }: { markup: string }) {
  return (
    <img
      alt=""
      style={{ width: "100%", display: "block" }}
      src={`data:image/svg+xml;utf8,${encodeURIComponent(markup)}`}
    />
  );
}
