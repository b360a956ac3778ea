/**
 * Where the impact is: the power series of the step in hand, what each contact does, and numbers that change.
 *
 * The numbers stand in fields, because a module's variables and what a call takes and returns are numbers on the heap
 * wherever V8 does not inline: 24 kB an impact, as a profile showed. All of it is reused, as nothing here waits or
 * calls back.
 */

/** What a contact does. */
export const FREE = 0;
export const SLIP = 1;
export const STICK = 2;

/** Slip below this share of the normal speed counts as none. */
export const STOPPED = 1e-13;

/** What holds from event to event. */
export const now = {
  /** Terms of the series. */
  terms: 14,
  nose: FREE,
  bed: FREE,
  lifted: false,
  restoring: false,
  /** Whether slip at the bed begins at zero in the step in hand. */
  bedBegins: false,
  /** Whether a creep is followed. */
  creeping: false,
};

/**
 * V8 keeps fields that hold fractions in place; whole numbers would be kept otherwise until the first fraction comes.
 * @param fields of a class of its own: literals share their form with every other one in the program whose names begin
 * alike, and the first of those to hold anything else than a number takes these numbers out of their places
 */
function fractions<Fields extends object>(fields: Fields): Fields {
  const numbers = fields as Record<string, number>;
  for (const name of Object.keys(numbers)) numbers[name] += 0.5;
  return fields;
}

/** The nose's angle, what follows from it, and the frictions; the same all through an impact. */
export const model = fractions(
  new (class {
    sine = 0;
    cosine = 1;
    kappa = 1;
    alpha = 2.5;
    gamma = 2.5;
    noseFriction = 0;
    bedFriction = 0;
  })(),
);

/** Slip that starts: its directions and rates. */
export const start = fractions(
  new (class {
    /** Direction in which slip at the bed begins at zero in the step in hand, and how fast it grows. */
    begin1 = 0;
    begin2 = 0;
    bedRate = 0;
    /** Direction in which slip at the nose starts, and how fast it grows. */
    depart1 = 0;
    depart2 = 0;
    noseRate = 0;
    /** Slip times the turning of its direction, which a creep takes off the drive; see creep.ts. */
    turn1 = 0;
    turn2 = 0;
  })(),
);

/** Integrals over the impulse so far: of 1, of the frictions. */
export const sums = fractions(
  new (class {
    p = 0;
    f1 = 0;
    f2 = 0;
    g1 = 0;
    g2 = 0;
  })(),
);

/** The step in hand and what it is chosen by. */
export const step = fractions(
  new (class {
    /** Error that it may add; its greatest length; how far a direction may be from the one that it settles on. */
    tolerance = 0;
    longest = 0;
    settled = 0;
    length = 0;
  })(),
);

/** Where a series is looked at, and its value there: what `sumUp` takes and gives. */
export const look = fractions(
  new (class {
    at = 0;
    found = 0;
  })(),
);

/** Math.hypot guards against overflow that cannot happen here, and takes many times as long. */
export function length(a: number, b: number): number {
  return Math.sqrt(a * a + b * b);
}
