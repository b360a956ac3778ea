/**
 * Certificates for https on this machine, made once and renewed before they run out. They stay in .cache/, unread by
 * Excel until the user trusts them.
 */
import { X509Certificate } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { generateCertificates } from "office-addin-dev-certs";
import { root } from "./install.mjs";

const DAYS = 365;
const WEEK = 7 * 24 * 3600 * 1000;

export interface Certificates {
  /** What the user trusts. Its key is never written, so that nobody can sign another with it. */
  readonly authority: string;
  readonly cert: Buffer;
  readonly key: Buffer;
}

/** Files that fit together and are good for another week; new ones where they are not. */
export async function certificates(folder = join(root, ".cache", "certificates")): Promise<Certificates> {
  const [authority, cert, key] = ["ca.crt", "localhost.crt", "localhost.key"].map((name) => join(folder, name));
  if (!usable(authority, cert, key)) {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    for (const file of [authority, cert, key]) rmSync(file, { force: true });
    await generateCertificates(authority, cert, key, DAYS, ["127.0.0.1", "localhost"]);
  }
  return { authority, cert: readFileSync(cert), key: readFileSync(key) };
}

function usable(authority: string, cert: string, key: string): boolean {
  if (![authority, cert, key].every((file) => existsSync(file))) return false;
  try {
    const [signer, own] = [authority, cert].map((file) => new X509Certificate(readFileSync(file)));
    return (
      own.verify(signer.publicKey) && [signer, own].every(({ validTo }) => Date.parse(validTo) > Date.now() + WEEK)
    );
  } catch {
    return false;
  }
}
