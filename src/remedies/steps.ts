/*
 * Long answers come in steps: a caller takes as many as it has time for, and stops by taking no more.
 */

/** Takes every step of a search; what it comes to. */
export function finished<P, T>(search: Generator<P, T>): T {
  for (let step = search.next(); ; step = search.next()) if (step.done) return step.value;
}

/** Goes through a search within the search, telling at every `every`-th step how far all is. */
export function* relayed<P, Q, T>(inner: Generator<P, T>, told: (p: P) => Q, every = 1): Generator<Q, T> {
  let taken = 0;
  for (let step = inner.next(); ; step = inner.next()) {
    if (step.done) return step.value;
    if (++taken % every === 0) yield told(step.value);
  }
}
