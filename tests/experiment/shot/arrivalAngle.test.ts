/** The angle that a moved arrival asks for. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { INCH } from "../../../src/bank/units";
import { arrivalAngle } from "../../../src/experiment/shot/arrivalAngle";
import { computeShot } from "../../../src/experiment/shot/computedShot";
import { bounds, conditionsOfShot, DEFAULT_SHOT } from "../../../src/experiment/shot/shotSettings";

const conditions = conditionsOfShot(DEFAULT_SHOT);
const limits = bounds("angle", DEFAULT_SHOT.rail);
const arrivalAt = (angle: number) =>
  DEFAULT_SHOT.along + (computeShot({ ...DEFAULT_SHOT, angle }, conditions).bank?.path?.arrival.x ?? NaN);

it("brings the ball to the place that it was moved to, and says nothing where no angle does", () => {
  fc.assert(
    fc.property(fc.double({ min: 34, max: 70, noNaN: true }), (inches) => {
      const angle = arrivalAngle(DEFAULT_SHOT, conditions, inches * INCH, limits);
      fc.pre(angle !== undefined);
      // Near enough is 0.1 mm, by the function's own word.
      expect(Math.abs(arrivalAt(angle) - inches * INCH)).toBeLessThan(1e-4);
    }),
    { numRuns: 40 },
  );
  expect(arrivalAngle(DEFAULT_SHOT, conditions, 50, limits)).toBeUndefined();
  const now = arrivalAt(DEFAULT_SHOT.angle);
  expect(arrivalAngle(DEFAULT_SHOT, conditions, now + INCH, limits)).toBeDefined();
});
