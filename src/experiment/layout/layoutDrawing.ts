/**
 * Drawings of a layout for paper: the table to scale for the wall, and the spacing of the marks in full size. Shapes in
 * millimetres on the page, from its top left corner; whoever has a pen draws them.
 */

import { there } from "../../there";
import { bothExactly, placedBalls, toleranceWords, type LayoutForm, type Paper } from "./layoutForm";

export type PaperShape =
  | {
      readonly kind: "line";
      readonly from: readonly [number, number];
      readonly to: readonly [number, number];
      readonly width: number;
      readonly dashed?: boolean;
    }
  | {
      readonly kind: "rect";
      readonly at: readonly [number, number];
      readonly size: readonly [number, number];
      readonly width: number;
    }
  | {
      readonly kind: "circle";
      readonly centre: readonly [number, number];
      readonly radius: number;
      readonly width: number;
      readonly filled?: boolean;
      readonly dashed?: boolean;
    }
  | {
      readonly kind: "text";
      readonly at: readonly [number, number];
      readonly text: string;
      readonly size: number;
      readonly anchor?: "start" | "middle" | "end";
      readonly bold?: boolean;
    };

export interface PaperPage {
  readonly title: string;
  /** Width and height in mm. */
  readonly size: readonly [number, number];
  readonly shapes: readonly PaperShape[];
}

/** ISO 216 and ANSI/ASME Y14.1 (8.5 × 11 in), portrait, in mm. */
export const PAPERS: Readonly<Record<Paper, readonly [number, number]>> = { A4: [210, 297], Letter: [215.9, 279.4] };
/** Printers leave this much of the page white, in mm. */
const MARGIN = 12;
const TEXT = 3.4;
const LINE = 5;
const SCALES = [4, 5, 6, 8, 10, 12, 15, 20, 25, 30];

/** The table from above with every place, numbered, and the list of them, at a round scale. */
export function wallDrawing(form: LayoutForm): PaperPage {
  const landscape = form.railLength > form.tableWidth;
  const [short, long] = PAPERS[form.paper];
  const size: [number, number] = landscape ? [long, short] : [short, long];
  const places = placedBalls(form);
  const placed = (label: string) =>
    there(
      places.find((one) => one.label === label),
      `a place of the ${label}`,
    );
  const balls = places.filter(({ label }) => label !== "departure" && label !== "arrival");
  const listed = (balls.length + 3) * LINE;
  const [room, down] = [size[0] - 2 * MARGIN, size[1] - 2 * MARGIN - listed - 14];
  const scale =
    SCALES.find((one) => (form.railLength * 1000) / one <= room && (form.tableWidth * 1000) / one <= down) ??
    Math.ceil(Math.max((form.railLength * 1000) / room, (form.tableWidth * 1000) / down));
  const mm = (length: number) => (length * 1000) / scale;
  const left = MARGIN + (room - mm(form.railLength)) / 2;
  const top = MARGIN + 14;
  const at = ({ x, y }: { x: number; y: number }): [number, number] => [left + mm(x), top + mm(y)];
  const line = top + mm(form.tableWidth) + 9;
  const [near, far] = [placed("near mark"), placed("far mark")];
  const outer = near.x > far.x ? near.label : far.label;
  const numbered = balls.flatMap((ball, i): PaperShape[] => {
    const [x, y] = at(ball);
    const number: PaperShape = {
      kind: "text",
      at: [x, y + TEXT * 0.35],
      text: String(i + 1),
      size: TEXT * 0.8,
      anchor: "middle",
      bold: true,
    };
    // The two marks are numbered on the sides that face away from each other.
    if (ball.label.endsWith("mark"))
      return [
        ...crossAt([x, y], 1.6),
        {
          ...number,
          at: [x + (ball.label === outer ? 3 : -3), y + TEXT * 0.35],
          anchor: ball.label === outer ? "start" : "end",
        },
      ];
    return [
      {
        kind: "circle",
        centre: [x, y],
        radius: mm((ball.label === "obstacle" ? form.obstacleDiameter : form.ballDiameter) / 2),
        width: 0.3,
        ...(ball.label.startsWith("guide") ? { dashed: true } : {}),
      },
      number,
    ];
  });
  return {
    title: "Layout of a bank",
    size,
    shapes: [
      { kind: "text", at: [MARGIN, MARGIN + 4], text: `Layout of a bank, scale 1 : ${scale}`, size: 5, bold: true },
      {
        kind: "text",
        at: [MARGIN, MARGIN + 9],
        text: `Wanted bend ${bothExactly(Math.abs(form.bend), form.units)} ${form.bend < 0 ? "long" : "short"}; ball ${bothExactly(form.ballDiameter, form.units)}; rails nose to nose ${bothExactly(form.tableWidth, form.units)} by ${bothExactly(form.railLength, form.units)}. The banked rail is on top.`,
        size: TEXT,
      },
      { kind: "rect", at: [left, top], size: [mm(form.railLength), mm(form.tableWidth)], width: 0.6 },
      { kind: "line", from: at(placed("departure")), to: at(placed("arrival")), width: 0.2, dashed: true },
      ...numbered,
      {
        kind: "text",
        at: [MARGIN, line],
        text: `Places of the centres, and how far each may be off square to the line before the bend is wrong by ${toleranceWords(form.wrong, form.units)}:`,
        size: TEXT,
        bold: true,
      },
      ...balls.map(({ label, words, tolerance }, i): PaperShape => ({
        kind: "text",
        at: [MARGIN, line + (i + 1) * LINE],
        text: `${i + 1}  ${label}: ${words}; may be off ${toleranceWords(there(tolerance, `a tolerance of the ${label}`).square, form.units)}`,
        size: TEXT,
      })),
      {
        kind: "text",
        at: [MARGIN, line + (balls.length + 1) * LINE],
        text: "Ask the table's owner before marking the cloth. Nobody's face goes on the shot line at bed height while a ball is moving.",
        size: TEXT,
      },
    ],
  };
}

/** The marks one ball's diameter apart, in full size, with the obstacle's edge and a bar to check the printer by. */
export function markTemplate(form: LayoutForm): PaperPage {
  const size = PAPERS[form.paper];
  const middle = size[0] / 2;
  const ball = form.ballDiameter * 1000;
  // In m, as the form and the words have it; the page is in mm.
  const gap = form.ballDiameter / 2 - Math.abs(form.bend);
  const near: [number, number] = [middle, 130];
  const far: [number, number] = [middle, 130 - ball];
  const edge = near[1] - gap * 1000;
  const bar = form.units === "us" ? 101.6 : 100;
  const barY = size[1] - 45;
  const notes = [
    "Print at 100 %, without fitting to the page. The bar below must measure as it says; if not, this page is of no use.",
    "Prick the centres of the two marks through the paper. The long line lies along the straight path of the ball.",
    `Marks ${bothExactly(form.ballDiameter, form.units)} apart; the obstacle's edge ${edgeWords(gap, form.units)} asks for a bend of ${bothExactly(Math.abs(form.bend), form.units)}.`,
  ];
  return {
    title: "Spacing of the marks, full size",
    size,
    shapes: [
      { kind: "text", at: [MARGIN, MARGIN + 4], text: "Spacing of the marks, full size (1 : 1)", size: 5, bold: true },
      ...notes.map((text, i): PaperShape => ({ kind: "text", at: [MARGIN, MARGIN + 11 + i * LINE], text, size: TEXT })),
      { kind: "line", from: [MARGIN, near[1]], to: [size[0] - MARGIN, near[1]], width: 0.2 },
      { kind: "line", from: [near[0], near[1] + 15], to: [far[0], far[1] - 15], width: 0.2, dashed: true },
      ...[near, far].flatMap((place): PaperShape[] => [
        { kind: "circle", centre: place, radius: ball / 2, width: 0.2, dashed: true },
        ...crossAt(place, 4),
      ]),
      { kind: "line", from: [middle - 30, edge], to: [middle + 30, edge], width: 0.5 },
      { kind: "text", at: [middle + 32, edge + 1], text: "obstacle's edge", size: TEXT },
      {
        kind: "text",
        at: [middle + ball / 2 + 3, near[1] + LINE],
        text: "near mark, on the straight line",
        size: TEXT,
      },
      { kind: "text", at: [middle + ball / 2 + 3, far[1] + 1], text: "far mark, level with the gates", size: TEXT },
      { kind: "line", from: [middle - bar / 2, barY], to: [middle + bar / 2, barY], width: 0.5 },
      ...[-1, 0, 1].map((end): PaperShape => ({
        kind: "line",
        from: [middle + (end * bar) / 2, barY - 3],
        to: [middle + (end * bar) / 2, barY + 3],
        width: 0.3,
      })),
      {
        kind: "text",
        at: [middle, barY + 9],
        text: form.units === "us" ? "4 in" : "100 mm",
        size: TEXT,
        anchor: "middle",
      },
    ],
  };
}

/** Where the obstacle's edge stands. @param gap in m, below 0 past the near mark */
function edgeWords(gap: number, units: LayoutForm["units"]): string {
  if (Math.abs(gap) < 1e-6) return "at the near mark";
  return gap < 0
    ? `${bothExactly(-gap, units)} past the near mark`
    : `${bothExactly(gap, units)} from the near mark, toward the far mark,`;
}

function crossAt([x, y]: readonly [number, number], half: number): PaperShape[] {
  return [
    { kind: "line", from: [x - half, y], to: [x + half, y], width: 0.3 },
    { kind: "line", from: [x, y - half], to: [x, y + half], width: 0.3 },
  ];
}
