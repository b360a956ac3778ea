/** Draws points, the lines and bands that go with them, means and spans, between two axes. */
import { toText } from "../../experiment/language/said";
import { Axes } from "./Axes";
import { drawnPoints, figureFrame } from "./figureScales";
import {
  BandMark,
  ChosenMark,
  EdgesMark,
  LineName,
  MeanMark,
  NeedleMark,
  PointMark,
  PlaceMark,
  PointName,
  SpanMark,
} from "./marks";
import { SurfaceMark } from "./SurfaceMark";
import { figureLabel, Surface, type FigureDrawingProps } from "./Surface";
import { Words } from "./Words";

export function PointsDrawing({ figure, width, height, palette, active }: FigureDrawingProps) {
  const { line, lineName, pointName, means, rule, ruleName, needles, envelope, spans } = figure;
  const frame = figureFrame(figure, width, height);
  const paper = { frame, palette };
  const points = drawnPoints(figure.points);
  const [first] = points;
  const chosen = active === undefined ? undefined : figure.points[active];
  const radius = points.length > 400 ? 2 : 3;
  return (
    <Surface label={figureLabel(figure)} width={width} height={height} palette={palette}>
      {envelope && <BandMark xs={envelope.x} low={envelope.low} high={envelope.high} {...paper} />}
      {line?.low && line.high && <BandMark xs={line.x} low={line.low} high={line.high} {...paper} />}
      {line?.widerLow && line.widerHigh && (
        <EdgesMark xs={line.x} low={line.widerLow} high={line.widerHigh} {...paper} />
      )}
      {figure.surface && <SurfaceMark surface={figure.surface} {...paper} />}
      <Axes figure={figure} frame={frame} palette={palette} />
      {rule !== undefined && <path d={`M${frame.left} ${frame.y(rule)}H${frame.right}`} stroke={palette.accent} />}
      {rule !== undefined && ruleName !== undefined && (
        <text x={frame.right} y={frame.y(rule) - 4} textAnchor="end" fill={palette.accent}>
          <Words of={ruleName} />
        </text>
      )}
      {points.map((point) =>
        needles ? (
          <NeedleMark key={point.row} point={point} {...paper} />
        ) : (
          <PointMark key={point.row} point={point} radius={radius} {...paper} />
        ),
      )}
      {line && <path d={frame.path(line.x, line.y)} fill="none" stroke={palette.accent} strokeWidth={2} />}
      {line && lineName !== undefined && <LineName line={line} name={lineName} {...paper} />}
      {means?.map((mean) => (
        <MeanMark key={mean.x} at={mean.x} of={mean} {...paper} />
      ))}
      {spans?.map((span) => (
        <SpanMark key={span.y} at={span.y} of={span} {...paper} />
      ))}
      {figure.places?.map((place) => (
        <PlaceMark key={toText(place.name)} place={place} {...paper} />
      ))}
      {first && pointName !== undefined && <PointName point={first} name={pointName} {...paper} />}
      {chosen && <ChosenMark point={chosen} {...paper} />}
      {points.length < figure.points.length && (
        <text x={frame.right} y={frame.top + 10} textAnchor="end" fill={palette.ink}>
          {`${points.length} of ${figure.points.length} points drawn`}
        </text>
      )}
    </Surface>
  );
}
