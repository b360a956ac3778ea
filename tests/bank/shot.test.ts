/** The whole shot and the stroke. Exact mathematics, unless a line says otherwise. */
import { describe, expect, it } from "vitest";
import { energyPerMass, GRAVITY, motionOf, stateOf, type BallState } from "../../src/bank/ball";
import { stateAt } from "../../src/bank/cloth";
import { DEFAULT_CONDITIONS } from "../../src/bank/conditions";
import { restitutionOfLag, rollFrictionOfRun, slipFrictionOfStun } from "../../src/bank/measures";
import { impact } from "../../src/bank/cushion";
import { closestPassing } from "../../src/bank/pathClearance";
import { bankOf, pathToLine, wholeBank } from "../../src/bank/shot";
import { strokeHit, strokeShot } from "../../src/bank/strokeShot";
import { objectBallAfter, speedOfStroke, spinOfTip, throwAngle } from "../../src/bank/stroke";

const radius = DEFAULT_CONDITIONS.ballDiameter / 2;
const leaving = (angle: number, swerve: number, roll = 0) =>
  stateOf({ speed: 3, angle, roll, side: 0, swerve }, "off", radius);

describe("the sign of the bend", () => {
  // A stunned ball with swerve leaves at 0.5 rad; R ω·v̂ > 0 turns the slip, and so the path, to one side or the other.
  it("+ when the ball arrives nearer the square than it left, − when farther from it", () => {
    const one = pathToLine(leaving(0.5, 0.4), 0.5, DEFAULT_CONDITIONS)!;
    const other = pathToLine(leaving(0.5, -0.4), 0.5, DEFAULT_CONDITIONS)!;
    expect(one.arrival.angle > one.departureAngle).toBe(one.bend < 0);
    expect(other.arrival.angle < other.departureAngle).toBe(other.bend > 0);
    expect(Math.sign(one.bend)).toBe(-Math.sign(other.bend));
  });
  it("does not depend on the side of the table", () => {
    expect(pathToLine(leaving(-0.5, -0.4), 0.5, DEFAULT_CONDITIONS)!.bend).toBeCloseTo(
      pathToLine(leaving(0.5, 0.4), 0.5, DEFAULT_CONDITIONS)!.bend,
      14,
    );
  });
  it("is 0 for a ball that rolls off straight", () => {
    const path = pathToLine(leaving(0.5, 0, 1), 0.5, DEFAULT_CONDITIONS)!;
    expect(path.bend).toBe(0);
    expect(path.arrival).toMatchObject({ phase: "roll", angle: expect.closeTo(0.5, 12) });
  });
});

describe("what can go wrong", () => {
  const motion = { speed: 1.5, angle: 0.4, roll: 1, side: 0, swerve: 0 };
  it("says when the nose's source no longer holds", () => {
    expect(bankOf({ ...motion, speed: 3, angle: 0 }, 0.5, DEFAULT_CONDITIONS).warnings).toContain("fast for the nose");
    expect(bankOf({ ...motion, speed: 3, angle: 1 }, 0.5, DEFAULT_CONDITIONS).warnings).toEqual([]);
  });
  it("says when the ball leaves the bed", () => {
    expect(bankOf(motion, 0.5, { ...DEFAULT_CONDITIONS, noseHeight: 0.5 }).warnings).toContain("airborne");
  });
  it("says when the ball falls short, and how far it gets", () => {
    const bank = bankOf({ ...motion, speed: 0.3 }, 2, DEFAULT_CONDITIONS);
    expect(bank.path).toBeUndefined();
    expect(bank.warnings).toContain("falls short");
    expect(bank.reach).toBeGreaterThan(0.01);
    expect(bank.reach).toBeLessThan(2);
  });
  it("says when the ball comes back to the cushion", () => {
    // A dead cushion takes the speed and leaves the follow.
    const bank = bankOf({ ...motion, speed: 2, angle: 0 }, 2, {
      ...DEFAULT_CONDITIONS,
      restitution: 0.2,
      noseFriction: 0.02,
    });
    expect(bank.path).toBeUndefined();
    expect(bank.warnings).toContain("double contact");
  });
});

describe("the whole bank", () => {
  it("slips and rolls to the rail before it banks, and says how far past the pocket it arrives", () => {
    const bank = wholeBank(
      { motion: { speed: 2.5, angle: 0.3, roll: 0, side: 0.4, swerve: 0 }, distance: 1.2, across: 0.6, pocketX: 0.7 },
      DEFAULT_CONDITIONS,
    )!;
    expect(bank.motionAtCushion.roll).toBeGreaterThan(0.5);
    expect(bank.approach.touchX).toBeCloseTo(1.2 * Math.tan(0.3), 12);
    expect(bank.offPocket).toBeCloseTo(bank.path!.arrival.x - 0.7, 14);
    const again = impact(stateAt(bank.approach.run, bank.approach.time), DEFAULT_CONDITIONS);
    expect(again).toEqual(bank.offCushion);
  });
  it("is undefined when the ball never gets to the rail", () => {
    expect(
      wholeBank(
        { motion: { speed: 0.3, angle: 0, roll: 0, side: 0, swerve: 0 }, distance: 5, across: 1 },
        DEFAULT_CONDITIONS,
      ),
    ).toBeUndefined();
  });
});

describe("the stroke and the collision", () => {
  it("a tip 2/5 R above the centre makes a rolling ball", () => {
    expect(spinOfTip(0.4 * radius, 0, radius)).toEqual({ roll: expect.closeTo(1, 14), side: 0 });
  });
  it("momentum and energy of a lossless stroke are kept", () => {
    const stroke = { cueSpeed: 3, cueMass: 0.5, up: 0.3 * radius, right: 0.2 * radius, tipRestitution: 1 };
    const speed = speedOfStroke(stroke, DEFAULT_CONDITIONS);
    const cueAfter = 3 - (DEFAULT_CONDITIONS.ballMass / 0.5) * speed;
    const spin = spinOfTip(stroke.up, stroke.right, radius);
    const ball = stateOf({ speed, angle: 0, ...spin, swerve: 0 }, "in", radius);
    expect(0.5 * 0.5 * cueAfter ** 2 + DEFAULT_CONDITIONS.ballMass * energyPerMass(ball, radius)).toBeCloseTo(
      0.5 * 0.5 * 9,
      12,
    );
  });

  const cueBall = (angle: number, side: number): BallState =>
    stateOf({ speed: 2, angle, roll: 0, side, swerve: 0 }, "in", radius);
  it("throw: a stunned cut pushes the object ball the way the cue ball goes across, up to the friction's angle", () => {
    // Full slip: tan(throw) = μ. Little slip: a seventh of the speed across over half of the (1 + e) closing speed.
    expect(throwAngle(cueBall(0.5, 0), 0, DEFAULT_CONDITIONS)).toBeCloseTo(Math.atan(0.06), 12);
    const small = 0.05;
    expect(throwAngle(cueBall(small, 0), 0, DEFAULT_CONDITIONS)).toBeCloseTo(
      Math.atan(Math.tan(small) / 7 / 0.975),
      12,
    );
  });
  it("left-hand (clockwise) side throws the object ball to the right of a straight shot, and gives it side the other way", () => {
    const object = objectBallAfter(cueBall(0, -0.5), 0, DEFAULT_CONDITIONS);
    expect(object.vx).toBeGreaterThan(0);
    expect(object.wz).toBeGreaterThan(0);
  });
  it("outside side that rolls on the object ball throws nothing", () => {
    expect(throwAngle(cueBall(0.4, Math.sin(0.4)), 0, DEFAULT_CONDITIONS)).toBeCloseTo(0, 14);
  });
  it("a cue ball that goes away hits nothing", () => {
    expect(() => objectBallAfter(cueBall(0, 0), Math.PI, DEFAULT_CONDITIONS)).toThrow(RangeError);
  });
});

describe("from the stroke to the line", () => {
  const stroke = { cueSpeed: 3, cueMass: 0.54, up: 0, right: 0 };
  const shot = { stroke, cueBall: { x: 0, y: -0.5 }, aim: 0, distance: 0.8, across: 0.5 };
  it("straight in, straight back", () => {
    const result = strokeShot(shot, DEFAULT_CONDITIONS)!;
    expect(result).toMatchObject({ lineAngle: 0, objectAngle: 0 });
    expect(result.bank!.path!.bend).toBe(0);
  });
  it("cuts to the side it is hit from the other side of, less the throw", () => {
    // Aimed past the object ball on its left (−x) by half a ball: the line of centres points to +x by 30°.
    const result = strokeShot({ ...shot, cueBall: { x: -radius, y: -0.5 } }, DEFAULT_CONDITIONS)!;
    expect(result.lineAngle).toBeCloseTo(Math.PI / 6, 12);
    expect(result.objectAngle).toBeLessThan(result.lineAngle);
    expect(result.objectAngle).toBeCloseTo(
      throwAngle(result.cueBallAtContact, result.lineAngle, DEFAULT_CONDITIONS) + Math.PI / 6,
      12,
    );
    const mirror = strokeShot({ ...shot, cueBall: { x: radius, y: -0.5 } }, DEFAULT_CONDITIONS)!;
    expect(mirror.objectAngle).toBeCloseTo(-result.objectAngle, 12);
    expect(mirror.bank!.path!.bend).toBeCloseTo(result.bank!.path!.bend, 9);
  });
  it("turns with the table: aim and place turned alike give the collision turned", () => {
    const turn = 0.4;
    const straight = strokeShot(
      { ...shot, cueBall: { x: -radius, y: -0.5 }, stroke: { ...stroke, up: 0.2 * radius, right: 0.3 * radius } },
      DEFAULT_CONDITIONS,
    )!;
    const turned = strokeShot(
      {
        ...shot,
        aim: turn,
        cueBall: {
          x: -radius * Math.cos(turn) - 0.5 * Math.sin(turn),
          y: radius * Math.sin(turn) - 0.5 * Math.cos(turn),
        },
        stroke: { ...stroke, up: 0.2 * radius, right: 0.3 * radius },
      },
      DEFAULT_CONDITIONS,
    )!;
    expect(turned.objectAngle - turn).toBeCloseTo(straight.objectAngle, 12);
    expect(turned.objectBall.wz).toBeCloseTo(straight.objectBall.wz, 9);
  });
  it("is undefined for a miss, and refuses balls in one place", () => {
    expect(strokeShot({ ...shot, aim: 0.5 }, DEFAULT_CONDITIONS)).toBeUndefined();
    expect(strokeShot({ ...shot, aim: Math.PI }, DEFAULT_CONDITIONS)).toBeUndefined();
    expect(() => strokeShot({ ...shot, cueBall: { x: 0, y: -radius } }, DEFAULT_CONDITIONS)).toThrow(/overlap/);
  });
});

describe("measured constants", () => {
  it("undo the runs that they are measured from", () => {
    expect(rollFrictionOfRun(0.5 * 0.012 * GRAVITY * 25, 5)).toBeCloseTo(0.012, 14);
    expect(slipFrictionOfStun(2, (12 * 4) / (49 * 0.2 * GRAVITY))).toBeCloseTo(0.2, 14);
    const back = -impact(stateOf({ speed: 1.5, angle: 0, roll: 1, side: 0, swerve: 0 }, "in", radius), {
      ...DEFAULT_CONDITIONS,
      restitution: 0.83,
    }).vy;
    expect(restitutionOfLag(1.5, back, 1, DEFAULT_CONDITIONS)).toBeCloseTo(0.83, 9);
    expect(restitutionOfLag(1, 1.1, 1, DEFAULT_CONDITIONS)).toBeUndefined();
  });
});

describe("closest passing", () => {
  it("finds the piece between points, the hit, and the single point", () => {
    const path = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
    ];
    const passing = closestPassing(
      path,
      [
        { x: 5, y: 5, radius: 1 },
        { x: 12, y: 5, radius: 0.5 },
      ],
      1,
    )!;
    expect(passing).toEqual({ clearance: 0.5, obstacle: 1, at: { x: 10, y: 5 } });
    expect(closestPassing(path, [{ x: 5, y: 1, radius: 1 }], 1)!.clearance).toBe(-1);
    expect(closestPassing([{ x: 0, y: 0 }], [{ x: 3, y: 4, radius: 1 }], 1)!.clearance).toBe(3);
    expect(closestPassing(path, [], 1)).toBeUndefined();
  });
});

it("motion of a ball off the cushion: positive angle goes on along +x", () => {
  const off = impact(stateOf({ speed: 2, angle: 0.6, roll: 0, side: 0, swerve: 0 }, "in", radius), DEFAULT_CONDITIONS);
  expect(motionOf(off, radius).angle).toBeGreaterThan(0);
  expect(off.vy).toBeLessThan(0);
});

describe("the way before the impact", () => {
  it("leaves a ball that rolls from its spot rolling, slower by what rolling costs", () => {
    const motion = { speed: 2, angle: 0, roll: 1, side: 0, swerve: 0 };
    const bank = wholeBank({ motion, distance: 0.6, across: 0.5 }, DEFAULT_CONDITIONS)!;
    expect(bank.motionAtCushion.roll).toBeCloseTo(1, 12);
    // v² falls by twice what rolling costs a metre.
    const lost = 2 * DEFAULT_CONDITIONS.rollFriction * GRAVITY * 0.6;
    expect(bank.motionAtCushion.speed).toBeCloseTo(Math.sqrt(4 - lost), 12);
  });

  it("makes a cue ball that is struck without spin slower and rolls it on, over the distance it has", () => {
    const stroke = { cueSpeed: 3, cueMass: 0.54, up: 0, right: 0 };
    const hit = (gap: number) =>
      strokeHit({ stroke, cueBall: { x: 0, y: -2 * radius - gap }, aim: 0 }, DEFAULT_CONDITIONS)!.cueBallAtContact;
    const near = hit(0);
    expect(near.wx).toBeCloseTo(0, 12);
    const far = hit(0.1);
    // While it slides v² falls by 2 μ g s, and R ω grows by 5/2 of what v loses.
    const left = Math.sqrt(near.vy ** 2 - 2 * DEFAULT_CONDITIONS.slipFriction * GRAVITY * 0.1);
    expect(far.vy).toBeCloseTo(left, 12);
    expect(-far.wx * radius).toBeCloseTo(2.5 * (near.vy - left), 12);
  });
});
