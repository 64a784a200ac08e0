/**
 * Works something out once for each thing it is worked out of, and forgets it with the thing. Only for what follows
 * from the thing itself, which is never changed; what follows from a whole panel goes through `src/model/rested.ts`.
 *
 * @example `const pitchOf = once((joint: Joint) => leastPitch(joint.holes))`
 */
export function once<T extends object, V>(make: (of: T) => V): (of: T) => V {
  const made = new WeakMap<T, { readonly value: V }>();
  return (of) => {
    const had = made.get(of);
    if (had) return had.value;
    const value = make(of);
    made.set(of, { value });
    return value;
  };
}
