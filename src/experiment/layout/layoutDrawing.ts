/**
 * The drawings of a layout for paper: the table to scale for the wall, the steps, and the spacing of the marks in full
 * size.
 */
import { say, toText } from "../language/said";
import type { Point } from "../../bank/pathClearance";
import type { LaidShot } from "./layoutCheck";
import { bothExactly, toleranceWords } from "./placeWords";
import type { LayoutForm } from "./layoutForm";
import { layoutScene, TOLERANCE_TIMES, type LayoutScene, type ScenePlace } from "./layoutScene";
import { layoutSteps } from "./layoutSteps";
import { layoutLine } from "./layoutWords";
import { brokenText, crossAt, LINE, MARGIN, PAPERS, TEXT, through, type PaperPage, type PaperShape } from "./paper";

const SCALES = [4, 5, 6, 8, 10, 12, 15, 20, 25, 30];
/** Height of the title and of what stands under it. */
const HEAD = 24;
/** Between the table and the list, for the pockets behind the rail. */
const FOOT = 13;

/** The table from above with every place, numbered, and the list of them, at a round scale. */
export function wallDrawing(laid: LaidShot): PaperPage {
  const { form } = laid;
  const landscape = form.railLength > form.tableWidth;
  const [short, long] = PAPERS[form.paper];
  const size: [number, number] = landscape ? [long, short] : [short, long];
  const scene = layoutScene(laid);
  const room = size[0] - 2 * MARGIN;
  const listed = (scene.places.length + 2) * LINE + FOOT;
  const down = size[1] - 2 * MARGIN - listed - HEAD;
  const scale =
    SCALES.find((one) => (form.railLength * 1000) / one <= room && (form.tableWidth * 1000) / one <= down) ??
    Math.ceil(Math.max((form.railLength * 1000) / room, (form.tableWidth * 1000) / down));
  const mm = (length: number) => (length * 1000) / scale;
  const left = MARGIN + (room - mm(form.railLength)) / 2;
  const at = ({ x, y }: Point): [number, number] => [left + mm(x), MARGIN + HEAD + mm(y)];
  const line = MARGIN + HEAD + mm(form.tableWidth) + FOOT;
  return {
    title: "Layout of a bank",
    size,
    shapes: [
      ...headOf(laid, scale, room),
      { kind: "rect", at: at({ x: 0, y: 0 }), size: [mm(form.railLength), mm(form.tableWidth)], width: 0.1 },
      ...tableShapes(scene, at, mm),
      ...scene.places.flatMap((place) => placeShapes(place, scene, at, mm)),
      ...listOfPlaces(scene, form, line),
    ],
  };
}

function headOf(laid: LaidShot, scale: number, room: number): PaperShape[] {
  const { form } = laid;
  const { units } = form;
  const lines = [
    layoutLine(laid),
    `Ball ${bothExactly(form.ballDiameter, units)}; rails nose to nose ${bothExactly(form.tableWidth, units)} by ${bothExactly(form.railLength, units)}. The banked rail is on top. Bars: how far each may be off, ${TOLERANCE_TIMES} times as large.`,
  ].flatMap((text) => brokenText(toText(text), room, TEXT));
  return [
    { kind: "text", at: [MARGIN, MARGIN + 4], text: `Layout of a bank, scale 1 : ${scale}`, size: 5, bold: true },
    ...lines.slice(0, 3).map((text, i): PaperShape => ({
      kind: "text",
      at: [MARGIN, MARGIN + 9 + i * 4.2],
      text,
      size: TEXT,
    })),
  ];
}

type At = (place: Point) => [number, number];
type Length = (metres: number) => number;

/** Pockets' jaws, and the ways of the balls. */
function tableShapes({ table, noses, coming, leaving, cue, chord }: LayoutScene, at: At, mm: Length): PaperShape[] {
  return [
    ...noses.flatMap(({ from, to }) => through([at(from), at(to)], 0.7)),
    ...table.pockets.flatMap(({ jaws, radius, ...centre }): PaperShape[] => [
      { kind: "circle", centre: at(centre), radius: mm(radius), width: 0.2 },
      ...jaws.map((jaw): PaperShape => ({ kind: "circle", centre: at(jaw), radius: 0.6, width: 0.2, filled: true })),
    ]),
    ...through(cue.map(at), 0.2, true),
    ...through(coming.map(at), 0.35),
    ...through(chord.map(at), 0.2, true),
    ...through(leaving.map(at), 0.35),
  ];
}

/** A ball, mark or the obstacle with its number and its tolerance. */
function placeShapes(place: ScenePlace, { square }: LayoutScene, at: At, mm: Length): PaperShape[] {
  const [x, y] = at(place);
  const away = Math.max(mm(place.radius), 1.6) + 2.4;
  const bar = TOLERANCE_TIMES * (place.tolerance ?? 0);
  return [
    ...(place.kind === "mark"
      ? crossAt([x, y], 1.6)
      : [
          {
            kind: "circle",
            centre: [x, y],
            radius: mm(place.radius),
            width: place.kind === "obstacle" ? 0.6 : 0.3,
            ...(place.kind === "guide" && { dashed: true }),
          } as const,
        ]),
    ...(place.kind === "guide" || bar === 0
      ? []
      : through(
          [-1, 1].map((end) => at({ x: place.x + end * bar * square.x, y: place.y + end * bar * square.y })),
          0.5,
        )),
    {
      kind: "text",
      at: [x + away * place.clear.x, y + away * place.clear.y + TEXT * 0.35],
      text: String(place.number),
      size: TEXT * 0.8,
      anchor: "middle",
      bold: true,
    },
  ];
}

function listOfPlaces({ places }: LayoutScene, { wrong, units }: LayoutForm, line: number): PaperShape[] {
  return [
    {
      kind: "text",
      at: [MARGIN, line],
      text: toText(
        say`Places of the centres, and how far each may be off square to the line before the bend is wrong by ${toleranceWords(wrong, units)}:`,
      ),
      size: TEXT,
      bold: true,
    },
    ...places.map(({ number, label, words, tolerance }, i): PaperShape => ({
      kind: "text",
      at: [MARGIN, line + (i + 1) * LINE],
      text: toText(
        say`${number}  ${label}: ${words}${tolerance === undefined ? "" : say`; may be off ${toleranceWords(tolerance, units)}`}`,
      ),
      size: TEXT,
    })),
    {
      kind: "text",
      at: [MARGIN, line + (places.length + 1) * LINE],
      text: "Ask the table's owner before marking the cloth. Nobody's face goes on the shot line at bed height while a ball is moving.",
      size: TEXT,
    },
  ];
}

/** The steps as pages, a box to tick before each. */
export function stepPages(laid: LaidShot): PaperPage[] {
  const size = PAPERS[laid.form.paper];
  const pages: PaperShape[][] = [];
  let y = Infinity;
  const put = (shapes: (top: number) => PaperShape[], height: number) => {
    if (y + height > size[1] - MARGIN) {
      pages.push([{ kind: "text", at: [MARGIN, MARGIN + 4], text: "Steps of the layout", size: 5, bold: true }]);
      y = MARGIN + 13;
    }
    pages.at(-1)?.push(...shapes(y));
    y += height;
  };
  const text = (at: [number, number], words: string, bold = false): PaperShape => ({
    kind: "text",
    at,
    text: words,
    size: TEXT,
    ...(bold && { bold }),
  });
  for (const { title, lines } of layoutSteps(laid)) {
    put((top) => [text([MARGIN, top + 2], title, true)], 7);
    for (const line of lines) {
      const broken = brokenText(toText(line), size[0] - 2 * MARGIN - 7, TEXT);
      put(
        (top) => [
          { kind: "rect", at: [MARGIN, top - 2.6], size: [3, 3], width: 0.2 },
          ...broken.map((part, i) => text([MARGIN + 6, top + i * 4.4], part)),
        ],
        broken.length * 4.4 + 1.6,
      );
    }
    y += 3;
  }
  return pages.map((shapes) => ({ title: "Steps of the layout", size, shapes }));
}

/** The marks one ball's diameter apart, in full size, with the obstacle's edge and a bar to check the printer by. */
export function markTemplate({ form, gated }: LaidShot): PaperPage {
  // What is a fraction of an inch is said as one.
  const [gap, setBend] = [gated.gap, gated.setBend].map((length) => Number(length.toFixed(9))) as [number, number];
  const size = PAPERS[form.paper];
  const middle = size[0] / 2;
  const ball = form.ballDiameter * 1000;
  const near: [number, number] = [middle, 130];
  const far: [number, number] = [middle, 130 - ball];
  const edge = near[1] - gap * 1000;
  const notes = [
    "Print at 100 %, without fitting to the page. The bar below must measure as it says; if not, this page is of no use.",
    "Prick the centres of the two marks through the paper. The long line lies along the straight path of the ball.",
    `Marks ${bothExactly(form.ballDiameter, form.units)} apart; the obstacle's edge ${edgeWords(gap, form.units)} is a set bend of ${bothExactly(setBend, form.units)}${Math.abs(setBend - Math.abs(form.bend)) < 1e-6 ? "" : `, a bend of the path of ${bothExactly(Math.abs(form.bend), form.units)}`}.`,
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
      { kind: "text", at: [middle + ball / 2 + 3, far[1] + 1], text: "far mark, a ball beside it", size: TEXT },
      ...barToCheck(form.units, [middle, size[1] - 45]),
    ],
  };
}

/** A bar of a known length, to check the printer by. */
function barToCheck(units: LayoutForm["units"], [x, y]: readonly [number, number]): PaperShape[] {
  const bar = units === "us" ? 101.6 : 100;
  return [
    { kind: "line", from: [x - bar / 2, y], to: [x + bar / 2, y], width: 0.5 },
    ...[-1, 0, 1].map((end): PaperShape => ({
      kind: "line",
      from: [x + (end * bar) / 2, y - 3],
      to: [x + (end * bar) / 2, y + 3],
      width: 0.3,
    })),
    { kind: "text", at: [x, y + 9], text: units === "us" ? "4 in" : "100 mm", size: TEXT, anchor: "middle" },
  ];
}

/** Where the obstacle's edge stands. @param gap in m, below 0 past the near mark */
function edgeWords(gap: number, units: LayoutForm["units"]): string {
  if (Math.abs(gap) < 1e-6) return "at the near mark";
  return gap < 0
    ? `${bothExactly(-gap, units)} past the near mark`
    : `${bothExactly(gap, units)} from the near mark, toward the far mark,`;
}
