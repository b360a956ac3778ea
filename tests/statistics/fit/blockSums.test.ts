/** The sums of a block by WebAssembly are those of JavaScript, to the last bit, and what they are meant to be. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BLOCK, plainSums } from "../../../src/statistics/fit/blockSums";
import { vectorSums } from "../../../src/statistics/fit/vectorSums";
import { seededRandom } from "../../../scripts/samples/random";

/** Heads on a grid of 22 bits and tails below it, as columns are cut. */
function fill(packed: readonly Float64Array[], seed: number, scale: number, rows: number): void {
  const random = seededRandom(seed);
  for (const block of packed)
    for (let row = 0; row < rows; row++)
      for (const side of [0, 1]) {
        block[4 * row + side] = Math.round(random.normal() * 2 ** 19) * scale;
        block[4 * row + side + 2] = (random.uniform() - 0.5) * scale;
      }
}

describe("sums of products over a block", () => {
  it("are the same to the last bit by vectors, at any scale and however many rows are filled", () => {
    fc.assert(
      fc.property(
        fc.record({
          seed: fc.nat(1e6),
          power: fc.integer({ min: -300, max: 300 }),
          rows: fc.integer({ min: 0, max: BLOCK }),
          pairs: fc.integer({ min: 1, max: 40 }),
        }),
        ({ seed, power, rows, pairs }) => {
          const [plain, vectors] = [plainSums(pairs), vectorSums(BLOCK, pairs)];
          if (!vectors) throw new Error("this Node has no vectors in WebAssembly");
          for (const one of [plain, vectors]) fill(one.packed, seed, 2 ** power, rows);
          for (const left of [0, pairs >> 1])
            for (const right of [left, pairs - 1]) {
              plain.sums(left, right);
              vectors.sums(left, right);
              expect(Array.from(vectors.out)).toEqual(Array.from(plain.out));
            }
        },
      ),
    );
  });

  it("are eight: heads exactly, and what heads and tails together add to them", () => {
    const { packed, out, sums } = plainSums(2);
    fill(packed, 3, 1, BLOCK);
    sums(0, 1);
    const places = [
      [0, 0],
      [0, 1],
      [1, 0],
      [1, 1],
    ];
    places.forEach(([a, c], place) => {
      let heads = 0n;
      let all = 0;
      for (let row = 0; row < BLOCK; row++) {
        const [p, q] = [packed[0], packed[1]];
        heads += BigInt(p[4 * row + a]) * BigInt(q[4 * row + c]);
        all +=
          p[4 * row + a + 2] * q[4 * row + c] +
          p[4 * row + a] * q[4 * row + c + 2] +
          p[4 * row + a + 2] * q[4 * row + c + 2];
      }
      expect(BigInt(out[place])).toBe(heads);
      expect(out[4 + place]).toBeCloseTo(all, 6);
    });
  });
});
