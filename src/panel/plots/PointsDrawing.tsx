/** Draws points, the lines and bands that go with them, means and spans, between two axes. */
import { Axes } from "./Axes";
import { unbroken } from "./figure";
import { drawnPoints, figureFrame } from "./figureScales";
import { BandMark, ChosenMark, EdgesMark, MeanMark, NeedleMark, PointMark, SpanMark } from "./marks";
import { figureLabel, Surface, type FigureDrawingProps } from "./Surface";

export function PointsDrawing({ figure, width, height, palette, active }: FigureDrawingProps) {
  const { line, means, rule, needles, envelope, spans } = figure;
  const frame = figureFrame(figure, width, height);
  const paper = { frame, palette };
  const points = drawnPoints(figure.points);
  const pieces = line ? unbroken(line) : [];
  const chosen = active === undefined ? undefined : figure.points[active];
  const radius = points.length > 400 ? 2 : 3;
  return (
    <Surface label={figureLabel(figure)} width={width} height={height} palette={palette}>
      {envelope && <BandMark xs={envelope.x} low={envelope.low} high={envelope.high} {...paper} />}
      {pieces.map(({ x, low, high }) => low && high && <BandMark key={x[0]} xs={x} low={low} high={high} {...paper} />)}
      {pieces.map(
        ({ x, widerLow: low, widerHigh: high }) =>
          low && high && <EdgesMark key={x[0]} xs={x} low={low} high={high} {...paper} />,
      )}
      <Axes figure={figure} frame={frame} palette={palette} />
      {rule !== undefined && <path d={`M${frame.left} ${frame.y(rule)}H${frame.right}`} stroke={palette.accent} />}
      {points.map((point) =>
        needles ? (
          <NeedleMark key={point.row} point={point} {...paper} />
        ) : (
          <PointMark key={point.row} point={point} radius={radius} {...paper} />
        ),
      )}
      {pieces.map(({ x, y }) => (
        <path key={x[0]} d={frame.path(x, y)} fill="none" stroke={palette.accent} strokeWidth={2} />
      ))}
      {means?.map((mean) => (
        <MeanMark key={mean.x} at={mean.x} of={mean} {...paper} />
      ))}
      {spans?.map((span) => (
        <SpanMark key={span.y} at={span.y} of={span} {...paper} />
      ))}
      {chosen && <ChosenMark point={chosen} {...paper} />}
      {points.length < figure.points.length && (
        <text x={frame.right} y={frame.top + 10} textAnchor="end" fill={palette.ink}>
          {`${points.length} of ${figure.points.length} points drawn`}
        </text>
      )}
    </Surface>
  );
}
