/** Writes down which marked places the process comes to, each once; where none are asked for, it does nothing. */
import { appendFileSync } from "node:fs";

const file = process.env["BENDBOOK_REACHED"];
if (file !== undefined) {
  const seen = [];
  globalThis.reached = (number) => {
    if (seen[number]) return;
    seen[number] = true;
    appendFileSync(file, `${number}\n`);
  };
}
