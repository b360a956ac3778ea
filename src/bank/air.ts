/**
 * Moist air, after the Magnus form over water of WMO-No. 8, Guide to Instruments and Methods of Observation, annex 4.B:
 * e_w = 6.112 exp(17.62 t / (243.12 + t)) hPa.
 *
 * Temperatures in °C, pressures in hPa, relative humidity as a share. WMO gives the form for −45 to 60 °C.
 */

/** Range of temperature in °C that the form is given for. */
export const MAGNUS_RANGE = { low: -45, high: 60 } as const;

/** Standard atmosphere in hPa: ISO 2533. */
export const STANDARD_PRESSURE = 1013.25;

/** Pressure of saturated vapour. @example saturationPressure(0) === 6.112 */
export function saturationPressure(celsius: number): number {
  return 6.112 * Math.exp((17.62 * celsius) / (243.12 + celsius));
}

/** Pressure of the vapour. @example vapourPressure(0, 0.5) === 3.056 */
export function vapourPressure(celsius: number, humidity: number): number {
  return humidity * saturationPressure(celsius);
}

/** Temperature at which air of this vapour pressure is saturated. @example dewPointOfPressure(6.112) === 0 */
export function dewPointOfPressure(pressure: number): number {
  const log = Math.log(pressure / 6.112);
  return (243.12 * log) / (17.62 - log);
}

/** Dew point. @example Math.round(10 * dewPoint(20, 0.5)) / 10 === 9.3 */
export function dewPoint(celsius: number, humidity: number): number {
  return dewPointOfPressure(vapourPressure(celsius, humidity));
}

/** Relative humidity as a share. @example relativeHumidity(20, 20) === 1 */
export function relativeHumidity(celsius: number, dewPointCelsius: number): number {
  return saturationPressure(dewPointCelsius) / saturationPressure(celsius);
}

/**
 * Vapour in the air in g/m³: e / (R_v T) with R_v = 461.5 J/(kg K).
 * @example Math.round(10 * absoluteHumidity(20, 0.5)) / 10 === 8.6
 */
export function absoluteHumidity(celsius: number, humidity: number): number {
  return (1e5 * vapourPressure(celsius, humidity)) / (461.5 * (celsius + 273.15));
}

/**
 * Vapour in g per kg of dry air: 621.98 e / (p − e).
 * @example Math.round(10 * mixingRatio(20, 0.5, 1013.25)) / 10 === 7.2
 */
export function mixingRatio(celsius: number, humidity: number, pressure: number): number {
  const vapour = vapourPressure(celsius, humidity);
  return (621.98 * vapour) / (pressure - vapour);
}
