/** Pockets and noses of a table, to scale. */
import type { LayoutScene } from "../../experiment/layout/layoutScene";
import type { Palette } from "../frame/palette";
import type { ToScale } from "./toScale";

interface Props extends Pick<LayoutScene, "noses"> {
  readonly pockets: LayoutScene["table"]["pockets"];
  readonly palette: Palette;
  readonly scale: ToScale;
}

export function TableOutline({ pockets, noses, palette, scale }: Props) {
  return (
    <g stroke={palette.ink} fill="none">
      {pockets.map(({ name, radius, ...pocket }) => {
        const [x, y] = scale.at(pocket);
        return <circle key={name} cx={x} cy={y} r={scale.length(radius)} stroke={palette.faint} data-part="pocket" />;
      })}
      {noses.map(({ from, to }) => (
        <path key={scale.line([from, to])} d={scale.line([from, to])} strokeWidth={2} data-part="nose" />
      ))}
    </g>
  );
}
