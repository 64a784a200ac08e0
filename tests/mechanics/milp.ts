import loader from 'highs';
import type { Batten } from '../../src/mechanics/batten.ts';
import { Draw } from '../random-panel.ts';

/*
 * A batten over its posts as a mixed-integer program for a general solver: one binary a choice, two a limit (between fits
 * and act, beyond act), the height at a post a sum over its choices. Shared by the test and the bench.
 */

export interface Limits {
  readonly kink: readonly [fits: number, act: number];
  readonly line: readonly [fits: number, act: number];
  /** What a finding between fits and act costs, and one beyond act. */
  readonly outside: number;
  readonly beyond: number;
}

const LIMITS: Limits = { kink: [0.5, 1], line: [1, 2], outside: 50, beyond: 1000 };

function priced(value: number, [fits, act]: readonly [number, number], { outside, beyond }: Limits): number {
  if (Math.abs(value) <= fits) return 0;
  return Math.abs(value) <= act ? outside : beyond;
}

/** A made-up batten: `n` posts of `m` choices, heights up to a millimetre and a half off, whole costs up to 20. */
export function madeUp(seed: number, n: number, m: number, limits: Limits = LIMITS): Batten {
  const d = new Draw(seed);
  let y = 0;
  const ys = Array.from({ length: n }, () => (y += d.between(150, 400)));
  const choices = ys.map(() => {
    const start = d.between(-1.5, 1.5);
    return Array.from({ length: m }, (_, k) => ({
      height: k === 0 ? start : start + d.between(-1.2, 1.2),
      cost: k === 0 ? 50 * Math.floor(3 * d.next()) : 1 + Math.floor(20 * d.next()),
    }));
  });
  return {
    ys,
    choices,
    kink: (_, q) => priced(q, limits.kink, limits),
    line: (_, r) => priced(r, limits.line, limits),
    end: (_, v) => priced(v, limits.line, limits),
  };
}

/** The same in the LP format. */
function asProgram({ ys, choices }: Batten, limits: Limits = LIMITS): string {
  const n = ys.length;
  const objective: string[] = [];
  const rows: string[] = [];
  const binaries: string[] = [];
  const x = (i: number, k: number): string => `x${i}_${k}`;
  choices.forEach((list, i) => {
    list.forEach((c, k) => {
      objective.push(`${c.cost} ${x(i, k)}`);
      binaries.push(x(i, k));
    });
    rows.push(`one${i}: ${list.map((_, k) => x(i, k)).join(' + ')} = 1`);
    rows.push(
      `height${i}: v${i} ${list.map((c, k) => `${c.height! < 0 ? '+' : '-'} ${Math.abs(c.height!)} ${x(i, k)}`).join(' ')} = 0`,
    );
  });
  const most = 20;
  const limit = (
    name: string,
    terms: readonly (readonly [number, number])[],
    [fits, act]: readonly [number, number],
  ): void => {
    objective.push(`${limits.outside} o${name}`, `${limits.beyond} b${name}`);
    binaries.push(`o${name}`, `b${name}`);
    for (const sign of [1, -1]) {
      const sum = terms.map(([i, c]) => `${sign * c < 0 ? '-' : '+'} ${Math.abs(c)} v${i}`).join(' ');
      rows.push(`${name}${sign > 0 ? 'p' : 'm'}: ${sum} - ${act - fits} o${name} - ${most} b${name} <= ${fits}`);
    }
  };
  const share = (a: number, b: number, at: number): number => (ys[at]! - ys[a]!) / (ys[b]! - ys[a]!);
  limit('e0', [[0, 1]], limits.line);
  limit(`e${n - 1}`, [[n - 1, 1]], limits.line);
  for (let i = 1; i < n - 1; i++) {
    const t = share(i - 1, i + 1, i);
    limit(
      `q${i}`,
      [
        [i, 1],
        [i - 1, -(1 - t)],
        [i + 1, -t],
      ],
      limits.kink,
    );
    const s = share(0, n - 1, i);
    limit(
      `r${i}`,
      [
        [i, 1],
        [0, -(1 - s)],
        [n - 1, -s],
      ],
      limits.line,
    );
  }
  return [
    'Minimize',
    ` obj: ${objective.join(' + ')}`,
    'Subject To',
    ...rows.map((r) => ` ${r}`),
    'Bounds',
    ...ys.map((_, i) => ` -20 <= v${i} <= 20`),
    'Binary',
    ` ${binaries.join(' ')}`,
    'End',
  ].join('\n');
}

let solver: ReturnType<typeof loader> | undefined;

/** Least cost by the general solver; undefined where it was not proven in the time given, seconds. */
export async function byProgram(batten: Batten, seconds: number): Promise<{ cost: number | undefined; ms: number }> {
  solver ??= loader();
  const highs = await solver;
  const text = asProgram(batten);
  const start = performance.now();
  const answer = highs.solve(text, { time_limit: seconds, mip_rel_gap: 0, mip_abs_gap: 0.5, output_flag: false });
  const ms = performance.now() - start;
  return { cost: answer.Status === 'Optimal' ? Math.round(answer.ObjectiveValue) : undefined, ms };
}
