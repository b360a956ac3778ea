/** Sums of products over a block of rows, of two columns with two others: the innermost loop of a long fit. */
/** Rows in a block. */
export const BLOCK = 256;

export interface BlockSums {
  /** By pairs of columns: [head, head, tail, tail] row by row, zeros at first. */
  readonly packed: readonly Float64Array[];
  /** For columns a, b and c, d: four exact sums of heads, of ac, ad, bc, bd, then four sums of the rest. */
  readonly out: Float64Array;
  /** Sums the products of two pairs of columns, given by their places in `packed`, into `out`. */
  sums(left: number, right: number): void;
}

/** In JavaScript, where vectorSums.ts has no quicker way. @param pairs of columns */
export function plainSums(pairs: number): BlockSums {
  const packed = Array.from({ length: pairs }, () => new Float64Array(4 * BLOCK));
  const out = new Float64Array(8);
  return { packed, out, sums: (left, right) => tile(packed[left], packed[right], out) };
}

/**
 * Products of columns a and b with columns c and d over one block: four exact sums of heads, then four sums of the
 * rest.
 */
function tile(left: Float64Array, right: Float64Array, out: Float64Array): void {
  let ac = 0;
  let ad = 0;
  let bc = 0;
  let bd = 0;
  let acRest = 0;
  let adRest = 0;
  let bcRest = 0;
  let bdRest = 0;
  for (let i = 0; i < 4 * BLOCK; i += 4) {
    const a = left[i];
    const b = left[i + 1];
    const aTail = left[i + 2];
    const bTail = left[i + 3];
    const aAll = a + aTail;
    const bAll = b + bTail;
    const c = right[i];
    const d = right[i + 1];
    const cTail = right[i + 2];
    const dTail = right[i + 3];
    ac += a * c;
    ad += a * d;
    bc += b * c;
    bd += b * d;
    acRest += aTail * c + aAll * cTail;
    adRest += aTail * d + aAll * dTail;
    bcRest += bTail * c + bAll * cTail;
    bdRest += bTail * d + bAll * dTail;
  }
  out[0] = ac;
  out[1] = ad;
  out[2] = bc;
  out[3] = bd;
  out[4] = acRest;
  out[5] = adRest;
  out[6] = bcRest;
  out[7] = bdRest;
}
