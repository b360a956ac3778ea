/** The table of the set-up to scale, with ball and obstacle on it. Takes data only. */
import { say, toText } from "../../experiment/language/said";
import { noses } from "../../bank/wholeShot";
import { tableShape } from "../../bank/tableShape";
import { tableSizeOf, type Setup } from "../../experiment/setup/setup";
import { shownItem } from "../../experiment/setup/setupWords";
import { FONT_SIZE, type Palette } from "../frame/palette";
import { toScale } from "../plots/toScale";
import { Surface } from "../plots/Surface";
import { TableOutline } from "../plots/TableOutline";

interface Props {
  readonly setup: Setup;
  readonly palette: Palette;
  readonly width: number;
  readonly tallest: number;
  readonly label: string;
}

/** Room about the noses, in m: for the pockets and the words. */
const ABOUT = 0.16;

export function SetupDrawing({ setup, palette, width, tallest, label }: Props) {
  const table = tableShape("long", tableSizeOf(setup));
  const scale = toScale(
    { x: -ABOUT, y: -ABOUT, width: table.width + 2 * ABOUT, height: table.depth + 2 * ABOUT },
    width,
    tallest,
  );
  const middle = { x: table.width / 2, y: table.depth / 2 };
  const words = { fill: palette.ink, textAnchor: "middle" as const, fontSize: FONT_SIZE };
  const disc = (x: number, diameter: number, fill: string, part: string) => {
    const [cx, cy] = scale.at({ x, y: middle.y });
    return <circle cx={cx} cy={cy} r={scale.length(diameter / 2)} fill={fill} stroke={palette.ink} data-part={part} />;
  };
  const [midX, top] = scale.at({ x: middle.x, y: 0 });
  const [left, midY] = scale.at({ x: 0, y: middle.y });
  return (
    <Surface label={label} drawing="setup" width={scale.width} height={scale.height} palette={palette}>
      <TableOutline pockets={table.pockets} noses={noses(table)} palette={palette} scale={scale} />
      {disc(middle.x - 0.25, setup.ballDiameter.value, "none", "ball")}
      {disc(middle.x + 0.25, setup.obstacleDiameter.value, palette.point, "obstacle")}
      <text x={midX} y={top + 20} {...words}>
        {toText(shownItem("length", setup.length.value, setup.units))}
      </text>
      <text x={left + 34} y={midY + 4} {...words}>
        {toText(shownItem("breadth", setup.breadth.value, setup.units))}
      </text>
      <text x={midX} y={midY + 34} {...words}>
        {toText(
          say`ball ${shownItem("ballDiameter", setup.ballDiameter.value, setup.units)} · obstacle ${shownItem("obstacleDiameter", setup.obstacleDiameter.value, setup.units)}`,
        )}
      </text>
    </Surface>
  );
}
