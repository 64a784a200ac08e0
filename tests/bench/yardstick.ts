/*
 * What figures are set against. The plain loop does the same arithmetic everywhere, so a time divided by its time says
 * nothing of how fast the machine is. It is measured again for each part of the table; the least of all is taken.
 */

/** A million rounds of whole-number and floating arithmetic over a small table; the sum keeps it from being left out. */
export function plainRounds(): number {
  const table = new Float64Array(1024);
  let [x, sum] = [123456789, 0];
  for (let i = 0; i < 1_000_000; i++) {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    const k = x & 1023;
    table[k] = table[k]! * 0.5 + Math.sqrt(i + k);
    sum += table[k]!;
  }
  return sum;
}

/** Processor milliseconds one job takes: what else the machine does counts little. */
export function timed(job: () => void): number {
  const from = process.cpuUsage();
  job();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
}

/** The least of several, after warm-ups that are not counted. */
export function least(runs: number, job: () => void, warm = 2): number {
  for (let i = 0; i < warm; i++) job();
  return Math.min(...Array.from({ length: runs }, () => timed(job)));
}

/** The middle of several, after warm-ups; `ms` of each is what the job says itself. */
export function middle(runs: number, job: () => number, warm = 1): number {
  for (let i = 0; i < warm; i++) job();
  return Array.from({ length: runs }, job).sort((a, b) => a - b)[runs >> 1]!;
}

export const PLAIN = 'plain loop';

let best = Number.POSITIVE_INFINITY;

/** Milliseconds of the plain loop: the least this run has seen so far, for a busy moment must not make all else look quick. */
export function plainLoop(): number {
  best = Math.min(
    best,
    least(60, () => void plainRounds(), 5),
  );
  return best;
}
