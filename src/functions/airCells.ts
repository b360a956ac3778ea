/**
 * BANK.DEWPOINT and the other air measures, over ranges.
 */
import {
  absoluteHumidity,
  dewPoint,
  MAGNUS_RANGE,
  mixingRatio,
  relativeHumidity,
  saturationPressure,
  STANDARD_PRESSURE,
  vapourPressure,
} from "../bank/air";
import { isBlank, lift, argumentNumber } from "./arguments";
import { messages } from "./messages";
import { toSystem, type System } from "./system";

function toCelsius(name: string, cell: unknown, system: System): number {
  const degrees = system.name === "us" ? "°F" : "°C";
  const celsius = system.toCelsius(argumentNumber(name, cell, `a temperature in ${degrees}`));
  if (celsius >= MAGNUS_RANGE.low && celsius <= MAGNUS_RANGE.high) return celsius;
  throw messages.outOfRange(
    name,
    cell,
    `give ${degrees} from ${system.fromCelsius(MAGNUS_RANGE.low)} to ${system.fromCelsius(MAGNUS_RANGE.high)}, which the source covers`,
  );
}

/** Relative humidity: 45, "45%", or 0.45 as a cell shown in % holds it; no room has 1 % or less. @returns a share */
function toHumidity(cell: unknown): number {
  const humidity = argumentNumber("humidity", cell, "relative humidity in %, such as 45 or 45%");
  if (!(humidity > 0 && humidity <= 100))
    throw messages.outOfRange("humidity", cell, "relative humidity is above 0 and up to 100 %");
  return humidity <= 1 ? humidity : humidity / 100;
}

export function dewPoints(temperature: unknown, humidity: unknown, units: unknown): unknown[][] {
  return lift({ temperature, humidity, units }, (t, h, u) => {
    const system = toSystem(u);
    return system.fromCelsius(dewPoint(toCelsius("temperature", t, system), toHumidity(h)));
  });
}

export function vapourPressures(temperature: unknown, humidity: unknown, units: unknown): unknown[][] {
  return lift({ temperature, humidity, units }, (t, h, u) => {
    const celsius = toCelsius("temperature", t, toSystem(u));
    return isBlank(h) ? saturationPressure(celsius) : vapourPressure(celsius, toHumidity(h));
  });
}

export function absoluteHumidities(temperature: unknown, humidity: unknown, units: unknown): unknown[][] {
  return lift({ temperature, humidity, units }, (t, h, u) =>
    absoluteHumidity(toCelsius("temperature", t, toSystem(u)), toHumidity(h)),
  );
}

export function mixingRatios(temperature: unknown, humidity: unknown, pressure: unknown, units: unknown): unknown[][] {
  return lift({ temperature, humidity, pressure, units }, (t, h, p, u) => {
    const hectopascal = isBlank(p) ? STANDARD_PRESSURE : argumentNumber("pressure", p, "a pressure in hPa");
    if (!(hectopascal >= 300 && hectopascal <= 1200))
      throw messages.outOfRange("pressure", p, "give hPa from 300 to 1200");
    return mixingRatio(toCelsius("temperature", t, toSystem(u)), toHumidity(h), hectopascal);
  });
}

export function relativeHumidities(temperature: unknown, dewPointCells: unknown, units: unknown): unknown[][] {
  return lift({ temperature, dewPoint: dewPointCells, units }, (t, d, u) => {
    const system = toSystem(u);
    const air = toCelsius("temperature", t, system);
    const dew = toCelsius("dewPoint", d, system);
    if (dew > air) throw messages.outOfRange("dewPoint", d, "a dew point is at or below the temperature");
    return 100 * relativeHumidity(air, dew);
  });
}
