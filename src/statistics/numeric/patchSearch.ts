/**
 * Where in a picture a patch is found again: the place with the highest correlation of grey values, each taken from its
 * own mean and by its own spread, so that light and shade do not matter (normalised cross-correlation; J. P. Lewis,
 * Fast template matching, Vision Interface (1995) 120). Between pixels by the parabola through the highest value and
 * its neighbours.
 */

/** Grey values row by row. */
export interface GreyPicture {
  readonly width: number;
  readonly height: number;
  readonly values: ArrayLike<number>;
}

export interface FoundPatch {
  /** The patch's centre, in pixels; pixel 0 reaches from −0.5 to 0.5. */
  readonly x: number;
  readonly y: number;
  /** Correlation, 1 for the same patch again. */
  readonly score: number;
  /** Whether the best place lies at the border of what was searched, so that a better one may lie beyond. */
  readonly atBorder: boolean;
}

/** Cuts a square patch out; undefined where it does not lie wholly in the picture. @param radius in whole pixels */
export function cutPatch(picture: GreyPicture, x: number, y: number, radius: number): GreyPicture | undefined {
  const [left, top, size] = [Math.round(x) - radius, Math.round(y) - radius, 2 * radius + 1];
  if (left < 0 || top < 0 || left + size > picture.width || top + size > picture.height) return undefined;
  const values = new Float32Array(size * size);
  for (let row = 0; row < size; row++)
    for (let column = 0; column < size; column++)
      values[row * size + column] = picture.values[(top + row) * picture.width + left + column];
  return { width: size, height: size, values };
}

/**
 * The best place for the patch.
 * @param patch square, of an odd number of pixels
 * @param x, y where it is looked for, so many pixels around @param reach in whole pixels
 * @returns undefined where the patch is of one grey, or nowhere near fits into the picture
 */
export function findPatch(
  picture: GreyPicture,
  patch: GreyPicture,
  x: number,
  y: number,
  reach: number,
): FoundPatch | undefined {
  const radius = patch.width >> 1;
  const template = fromMean(patch.values);
  if (!(template.spread > 0)) return undefined;
  const left = Math.max(radius, Math.round(x) - reach);
  const right = Math.min(picture.width - 1 - radius, Math.round(x) + reach);
  const top = Math.max(radius, Math.round(y) - reach);
  const bottom = Math.min(picture.height - 1 - radius, Math.round(y) + reach);
  if (left > right || top > bottom) return undefined;
  const across = right - left + 1;
  const scores = new Float64Array(across * (bottom - top + 1));
  let best = 0;
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++) {
      const place = (row - top) * across + column - left;
      scores[place] = correlation(picture, patch.width, template, column - radius, row - radius);
      if (scores[place] > scores[best]) best = place;
    }
  const [column, row] = [best % across, Math.floor(best / across)];
  const inX = column > 0 && column < across - 1;
  const inY = row > 0 && row < bottom - top;
  return {
    x: left + column + (inX ? summit(scores[best - 1], scores[best], scores[best + 1]) : 0),
    y: top + row + (inY ? summit(scores[best - across], scores[best], scores[best + across]) : 0),
    score: scores[best],
    atBorder: !inX || !inY,
  };
}

interface Template {
  readonly values: Float64Array;
  readonly spread: number;
}

function fromMean(values: ArrayLike<number>): Template {
  let mean = 0;
  for (let i = 0; i < values.length; i++) mean += values[i] / values.length;
  const centred = Float64Array.from(values, (value) => value - mean);
  let squares = 0;
  for (const value of centred) squares += value * value;
  // Less than half a grey level all over is rounding.
  return { values: centred, spread: squares > 0.25 * values.length ? Math.sqrt(squares) : 0 };
}

function correlation({ width, values }: GreyPicture, size: number, template: Template, left: number, top: number) {
  let [sum, squares, product] = [0, 0, 0];
  for (let row = 0; row < size; row++) {
    const start = (top + row) * width + left;
    for (let column = 0; column < size; column++) {
      const value = values[start + column];
      sum += value;
      squares += value * value;
      product += value * template.values[row * size + column];
    }
  }
  const spread = squares - (sum * sum) / (size * size);
  return spread > 0.25 * size * size ? product / (Math.sqrt(spread) * template.spread) : 0;
}

/** How far from the middle one of three values the parabola through them is highest, −0.5 to 0.5. */
function summit(before: number, middle: number, after: number): number {
  const curve = before - 2 * middle + after;
  return curve < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / curve)) : 0;
}
