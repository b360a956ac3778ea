/**
 * How the host's objects are described: by kind, with the members in the wire's own spelling (PascalCase). What a kind
 * does not list, the host does not know.
 */
/* eslint-disable @typescript-eslint/no-explicit-any -- kinds of every target stand side by side, and arguments come from the wire */

/** An object as the client may hold it. A target of null is the null object of an …OrNullObject method. */
export interface Remote {
  readonly kind: Kind<any>;
  readonly target: unknown;
}

export interface Kind<Target> {
  /** As the client calls it: "Range". */
  readonly name: string;
  /** Properties that can be loaded. */
  readonly get?: Readonly<Record<string, (target: Target) => unknown>>;
  readonly set?: Readonly<Record<string, (target: Target, value: any) => void>>;
  /** Properties that are objects. */
  readonly parts?: Readonly<Record<string, (target: Target) => Remote>>;
  /** Methods give a value, or an object. */
  readonly methods?: Readonly<Record<string, (target: Target, ...given: any[]) => unknown>>;
  /** Of a collection. */
  readonly items?: (target: Target) => readonly Remote[];
  readonly item?: (target: Target, key: any) => Remote;
  /** What the collection knows it by. */
  readonly key?: (target: Target) => string;
  /** Whether it went after the client got hold of it. */
  readonly gone?: (target: Target) => boolean;
  /** Cells that an answer about it may hold, for Excel's limit. */
  readonly size?: (target: Target) => number;
}

export function remote<Target>(kind: Kind<Target>, target: Target | null): Remote {
  return { kind, target };
}

export function isRemote(value: unknown): value is Remote {
  return typeof value === "object" && value !== null && "kind" in value && "target" in value;
}
