/** Remembering what was worked out for data that do not change. */

/**
 * A store of results by the object that they were made from and further keys, all compared by identity. Results go when
 * their object goes; per object the last few are kept.
 * @example memo()([1], ["a"], () => 2) === 2
 */
export function memo<T>(kept = 8): (of: object, keys: readonly unknown[], make: () => T) => T {
  const known = new WeakMap<object, { readonly keys: readonly unknown[]; readonly value: T }[]>();
  return (of, keys, make) => {
    const earlier = known.get(of) ?? [];
    const found = earlier.find((one) => one.keys.length === keys.length && one.keys.every((key, i) => key === keys[i]));
    if (found) return found.value;
    const value = make();
    known.set(of, [{ keys, value }, ...earlier].slice(0, kept));
    return value;
  };
}
