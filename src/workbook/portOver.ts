/**
 * A port that does some things otherwise than the one below it; all else goes through, what is added to Port later as
 * well. Whoever watches or remembers what is written need not list what it leaves alone.
 */
import type { Port } from "./port";

/** @param changes methods in place of those of `port`; one that `port` lacks stays missing */
export function portOver(port: Port, changes: Partial<Port>): Port {
  return new Proxy(port, {
    get(below, name) {
      const own: unknown = Reflect.get(below, name);
      if (own === undefined) return undefined;
      const changed: unknown = Reflect.get(changes, name);
      if (changed !== undefined) return changed;
      return typeof own === "function" ? own.bind(below) : own;
    },
  });
}
