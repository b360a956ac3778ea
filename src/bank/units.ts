/**
 * The units people give lengths, speeds and masses of a shot in, as factors to SI.
 */

/** Exact: international yard and pound agreement (1959). In m. */
export const INCH = 0.0254;

/** Factors from the unit that people give to SI, and the units' names. */
export interface System {
  readonly name: "us" | "si";
  readonly length: number;
  readonly lengthName: string;
  readonly speed: number;
  readonly speedName: string;
  readonly mass: number;
  readonly massName: string;
  toCelsius(temperature: number): number;
  fromCelsius(celsius: number): number;
}

/** Exact: inch, mile per hour and ounce of the international yard and pound agreement (1959). */
export const SYSTEMS: Readonly<Record<"us" | "si", System>> = {
  us: {
    name: "us",
    length: INCH,
    lengthName: "in",
    speed: 0.44704,
    speedName: "mph",
    mass: 0.028349523125,
    massName: "oz",
    toCelsius: (temperature) => ((temperature - 32) * 5) / 9,
    fromCelsius: (celsius) => (celsius * 9) / 5 + 32,
  },
  si: {
    name: "si",
    length: 1,
    lengthName: "m",
    speed: 1,
    speedName: "m/s",
    mass: 1,
    massName: "kg",
    toCelsius: (temperature) => temperature,
    fromCelsius: (celsius) => celsius,
  },
};

export const DEGREE = Math.PI / 180;
