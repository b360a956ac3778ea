/**
 * Draws a figure as SVG, with colours as attributes so that the drawing can be saved as it is.
 */
import { IntervalsDrawing } from "./IntervalsDrawing";
import { PointsDrawing } from "./PointsDrawing";
import type { FigureDrawingProps } from "./Surface";

export function FigureDrawing(props: FigureDrawingProps) {
  return props.figure.intervals ? (
    <IntervalsDrawing {...props} intervals={props.figure.intervals} />
  ) : (
    <PointsDrawing {...props} />
  );
}
