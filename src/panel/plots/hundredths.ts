/** As fine as pixels need. @example hundredths(1.23456) === 1.23 */
export const hundredths = (value: number) => Math.round(100 * value) / 100;
