/** What a request carries. */
import type { IncomingMessage } from "node:http";

/** @param largest in bytes @throws Error with the code EFBIG */
export async function bodyOf(request: IncomingMessage, largest: number): Promise<Buffer> {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of request as AsyncIterable<Buffer>) {
    size += part.length;
    if (size > largest) throw Object.assign(new Error("too large"), { code: "EFBIG" });
    parts.push(part);
  }
  return Buffer.concat(parts);
}
