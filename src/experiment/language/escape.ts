/** Text inside HTML or SVG. */

/** The text with every sign that markup knows as a number of its own. @example escapeMarkup("a<b") === "a&#60;b" */
export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
