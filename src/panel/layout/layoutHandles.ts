/** What can be moved on the drawing of a layout: contact, arrival, gate, obstacle, and where the balls start. */
import { toText } from "../../experiment/language/said";
import { shownLength } from "../../experiment/shot/findingWords";
import { laidShot } from "../../experiment/layout/layoutCheck";
import { layoutProblem, type LayoutForm, type LayoutNumber } from "../../experiment/layout/layoutForm";
import { layoutScene, type LayoutScene } from "../../experiment/layout/layoutScene";
import { INCH } from "../../bank/units";
import type { Handle } from "../plots/Handles";

interface Movable {
  readonly name: string;
  /** The number of the form that it changes. */
  readonly number: LayoutNumber;
  readonly placeIn: (scene: LayoutScene) => { readonly x: number; readonly y: number } | undefined;
  readonly step: number;
  readonly limits: (form: LayoutForm) => readonly [number, number];
}

const labelled =
  (label: string) =>
  ({ places }: LayoutScene) =>
    places.find((place) => place.label === label);

const ALONG = INCH / 4;
const SMALL = INCH / 16;

const MOVABLE: readonly Movable[] = [
  {
    name: "Contact with the rail",
    number: "departure",
    placeIn: ({ chord }) => chord[0],
    step: ALONG,
    limits: ({ railLength, ballDiameter }) => [ballDiameter / 2, railLength - ballDiameter / 2],
  },
  {
    name: "Arrival, with the gate at the pocket",
    number: "arrival",
    placeIn: ({ chord }) => chord[1],
    step: ALONG,
    limits: ({ railLength }) => [0, railLength],
  },
  {
    name: "Gate at the cushion, by its room",
    number: "room",
    placeIn: labelled("gate at the cushion"),
    step: INCH / 32,
    limits: () => [0, 0.02],
  },
  {
    name: "Obstacle, by the bend that it asks for",
    number: "bend",
    placeIn: labelled("obstacle"),
    step: SMALL,
    limits: ({ ballDiameter }) => [-0.95 * ballDiameter, 0.95 * ballDiameter],
  },
  {
    name: "Object ball's spot, by its distance",
    number: "spotDistance",
    placeIn: labelled("object ball"),
    step: ALONG,
    limits: ({ tableWidth, ballDiameter }) => [ballDiameter, tableWidth - ballDiameter],
  },
  {
    name: "Cue ball, by its run",
    number: "cueRun",
    placeIn: labelled("cue ball"),
    step: ALONG,
    limits: ({ tableWidth }) => [0.01, tableWidth],
  },
];

/** A change so small that places follow it straight, in m. */
const TOUCH = 1e-4;

export function layoutHandles(
  form: LayoutForm,
  scene: LayoutScene,
  onChange: (part: Partial<LayoutForm>) => void,
): Handle[] {
  return MOVABLE.flatMap(({ name, number, placeIn, step, limits }): Handle[] => {
    const place = placeIn(scene);
    const moved = { ...form, [number]: form[number] + TOUCH };
    const after = layoutProblem(moved) === undefined ? placeIn(layoutScene(laidShot(moved))) : undefined;
    if (!place || !after) return [];
    const [low, high] = limits(form);
    return [
      {
        name,
        place,
        along: { x: (after.x - place.x) / TOUCH, y: (after.y - place.y) / TOUCH },
        value: form[number],
        low,
        high,
        step,
        text: toText(shownLength(form[number], form.units)),
        onChange: (value) => onChange({ [number]: value }),
      },
    ];
  });
}
