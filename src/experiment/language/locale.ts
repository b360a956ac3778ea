/** Numbers and dates as a reader's language writes them. */

/**
 * A language tag that can be used, out of what a browser or a system says; English where it says nothing of use.
 * @example usableLanguage("de_AT.UTF-8") === "de-AT"
 */
export function usableLanguage(said: string): string {
  try {
    return Intl.getCanonicalLocales(said.replace(/[@.].*$/, "").replaceAll("_", "-"))[0] ?? "en";
  } catch {
    return "en";
  }
}

/** The sign between whole and fraction. @example decimalSign("de") === "," */
export function decimalSign(language: string): string {
  return new Intl.NumberFormat(language).formatToParts(1.5).find(({ type }) => type === "decimal")?.value ?? ".";
}

/** The digits of one number with the sign between whole and fraction that the language has; as they are without one. */
export function inLanguage(digits: string, language: string | undefined): string {
  return language === undefined ? digits : digits.replace(".", decimalSign(language));
}

/** A number to so many significant digits. @example shownNumber(1234.5678, 6, "en-US") === "1,234.57" */
export function shownNumber(value: number, digits: number, language: string): string {
  if (value !== 0 && (Math.abs(value) < 1e-4 || Math.abs(value) >= 1e9))
    return inLanguage(
      Number(value.toPrecision(digits)).toExponential().replaceAll("-", "−").replace("e+", "e"),
      language,
    );
  return new Intl.NumberFormat(language, { maximumSignificantDigits: digits }).format(value);
}

/**
 * A number with so many decimals, zeros at the end among them, for they say how well it is known.
 * @example shownFixed(0.5, 3, "de") === "0,500"
 */
export function shownFixed(value: number, decimals: number, language: string): string {
  if (Math.abs(value) >= 1e9) return shownNumber(value, 6, language);
  return new Intl.NumberFormat(language, { minimumFractionDigits: decimals, maximumFractionDigits: decimals }).format(
    value,
  );
}

/** A day and its time. */
export function shownMoment(moment: Date, language: string): string {
  return new Intl.DateTimeFormat(language, { dateStyle: "long", timeStyle: "short" }).format(moment);
}
