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
  const whole = {
    left: Math.max(radius, Math.round(x) - reach),
    right: Math.min(picture.width - 1 - radius, Math.round(x) + reach),
    top: Math.max(radius, Math.round(y) - reach),
    bottom: Math.min(picture.height - 1 - radius, Math.round(y) + reach),
  };
  if (whole.left > whole.right || whole.top > whole.bottom) return undefined;
  const template = templateOf(patch, 1);
  if (!(template.spread > 0)) return undefined;
  // Large patches roughly first: every so many pixels, at every so many places.
  const stride = Math.max(1, Math.floor(radius / COARSE));
  const rough = stride > 1 ? bestOf(picture, templateOf(patch, stride), whole, stride) : undefined;
  const close = rough ? within(whole, rough, 2 * stride) : whole;
  const best = bestOf(picture, template, close, 1);
  const at = (dx: number, dy: number) => correlation(picture, template, best.x + dx - radius, best.y + dy - radius);
  const inX = best.x > whole.left && best.x < whole.right;
  const inY = best.y > whole.top && best.y < whole.bottom;
  return {
    x: best.x + (inX ? summit(at(-1, 0), best.score, at(1, 0)) : 0),
    y: best.y + (inY ? summit(at(0, -1), best.score, at(0, 1)) : 0),
    score: best.score,
    atBorder: !inX || !inY,
  };
}

/** Patches with a larger radius, in pixels, are looked for roughly first. */
const COARSE = 5;

interface Window {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function within({ left, right, top, bottom }: Window, { x, y }: { x: number; y: number }, by: number): Window {
  return {
    left: Math.max(left, x - by),
    right: Math.min(right, x + by),
    top: Math.max(top, y - by),
    bottom: Math.min(bottom, y + by),
  };
}

function bestOf(picture: GreyPicture, template: Template, { left, right, top, bottom }: Window, step: number) {
  const radius = template.size >> 1;
  let best = { x: left, y: top, score: -Infinity };
  for (let y = top; y <= bottom; y += step)
    for (let x = left; x <= right; x += step) {
      const score = correlation(picture, template, x - radius, y - radius);
      if (score > best.score) best = { x, y, score };
    }
  return best;
}

interface Template {
  readonly size: number;
  /** Every so many pixels of the patch, across and down. */
  readonly stride: number;
  readonly count: number;
  readonly values: Float64Array;
  readonly spread: number;
}

function templateOf({ width: size, values }: GreyPicture, stride: number): Template {
  const taken: number[] = [];
  for (let row = 0; row < size; row += stride)
    for (let column = 0; column < size; column += stride) taken.push(values[row * size + column]);
  const mean = taken.reduce((sum, value) => sum + value, 0) / taken.length;
  const centred = Float64Array.from(taken, (value) => value - mean);
  const squares = centred.reduce((sum, value) => sum + value * value, 0);
  const spread = squares > FLAT * taken.length ? Math.sqrt(squares) : 0;
  return { size, stride, count: taken.length, values: centred, spread };
}

/** Less than half a grey level all over is rounding. */
const FLAT = 0.25;

function correlation({ width, values }: GreyPicture, template: Template, left: number, top: number): number {
  const { size, stride, count } = template;
  let [sum, squares, product, place] = [0, 0, 0, 0];
  for (let row = 0; row < size; row += stride) {
    const start = (top + row) * width + left;
    for (let column = 0; column < size; column += stride) {
      const value = values[start + column];
      sum += value;
      squares += value * value;
      product += value * template.values[place++];
    }
  }
  const spread = squares - (sum * sum) / count;
  return spread > FLAT * count ? product / (Math.sqrt(spread) * template.spread) : 0;
}

/** How far from the middle one of three values the parabola through them is highest, −0.5 to 0.5. */
function summit(before: number, middle: number, after: number): number {
  const curve = before - 2 * middle + after;
  return curve < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / curve)) : 0;
}

export interface Symmetric {
  readonly x: number;
  readonly y: number;
  /** Correlation of what is around the place with itself turned by half, 1 for perfect symmetry. */
  readonly score: number;
}

/**
 * The place around which the picture looks most alike when it is turned by half: the centre of a round thing, whatever
 * its colours, as far as they are symmetric too.
 * @param radius of what is compared, in pixels @param reach how far from (x, y) it is looked for, whole pixels
 */
export function centreOfSymmetry(
  picture: GreyPicture,
  x: number,
  y: number,
  radius: number,
  reach: number,
): Symmetric | undefined {
  const around = Math.ceil(radius);
  const [column, row] = [Math.round(x), Math.round(y)];
  const room = around + reach + 1;
  if (column < room || row < room || column + room >= picture.width || row + room >= picture.height) return undefined;
  const places: number[] = [];
  for (let dy = -around; dy <= around; dy++)
    for (let dx = -around; dx <= around; dx++)
      if (dx * dx + dy * dy <= radius * radius) places.push(dy * picture.width + dx);
  const scoreAt = (dx: number, dy: number) =>
    halfTurn(picture.values, (row + dy) * picture.width + column + dx, places);
  let best = { dx: 0, dy: 0, score: -Infinity };
  for (let dy = -reach; dy <= reach; dy++)
    for (let dx = -reach; dx <= reach; dx++) {
      const score = scoreAt(dx, dy);
      if (score > best.score) best = { dx, dy, score };
    }
  const { dx, dy, score } = best;
  return {
    x: column + dx + summit(scoreAt(dx - 1, dy), score, scoreAt(dx + 1, dy)),
    y: row + dy + summit(scoreAt(dx, dy - 1), score, scoreAt(dx, dy + 1)),
    score,
  };
}

/** Correlation of values at places about a middle with those at the places opposite. */
function halfTurn(values: ArrayLike<number>, middle: number, places: readonly number[]): number {
  let [sum, squares, product] = [0, 0, 0];
  for (const place of places) {
    const value = values[middle + place];
    sum += value;
    squares += value * value;
    product += value * values[middle - place];
  }
  const mean = sum / places.length;
  const spread = squares - mean * sum;
  return spread > FLAT * places.length ? (product - mean * sum) / spread : 0;
}
