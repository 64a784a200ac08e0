import { chain } from '../../chains/chain.ts';
import type { Band } from '../../model/checkRow.ts';
import { outboardAt } from '../../model/hand.ts';
import { type Limit, limitFor } from '../../model/limits.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { UNSEEN } from '../slack.ts';

/*
 * Asks: do the ribs stand square? Lean (C7), skew in plan (C8), bay diagonals (C9). Only what was read is judged.
 * A tapered bay's diagonals differ when it is square, so each is compared with its own nominal.
 */

const side = (v: number): string => (v < 0 ? 'inboard' : 'outboard');

/**
 * Under this height a lean is held to what it is at the top of a rib so high, mm: a rafter square tells 0.15 mm, not
 * 0.02.
 */
const SQUARE_TELLS = 100;

/**
 * The limit of a lean over a height: on a low rib never finer than a rafter square can tell. 54 mm: 1.1 mm in 100,
 * 0.6 mm at its top.
 */
function leanLimit(limit: Limit, height: number): Limit {
  const by = Math.max(1, SQUARE_TELLS / height);
  const wider = ([a, b]: Band): Band => [a === null ? null : a * by, b === null ? null : b * by];
  return by === 1 ? limit : { ...limit, fits: wider(limit.fits), act: wider(limit.act) };
}

function leanFinding(skeleton: Skeleton, bay: Bay): Finding | undefined {
  const { model, book } = skeleton;
  const key = `lean@${bay.station.id}`;
  const read = book.find(key);
  if (!read) return undefined;
  const height = book.readingsOf(key).at(-1)?.over ?? bay.main?.front.height ?? bay.tip?.rear.height;
  if (!height) return undefined;
  const mark = bay.main?.id ?? bay.tip?.id ?? bay.station.id;
  return judge({
    check: 'lean',
    at: { station: bay.station.id, part: bay.main?.id ?? bay.tip?.id },
    place: mark,
    restsOn: chain([100 / height, read]),
    limit: leanLimit(limitFor(model, 'lean'), height),
    sense: (v) => `top ${side(v)}`,
    say: (j) =>
      sentence(
        model,
        j,
        `${mark} leans: its top is ${show(model, Math.abs(read.best))} ${side(read.best)} over ${show(model, height)}, ${show(model, Math.abs(j.value), 'mm/100')}`,
        {
          todo: 'Square it from the web, then look at its sight lines again: they move with it.',
        },
      ),
  });
}

function skewFinding(skeleton: Skeleton, bay: Bay): Finding | undefined {
  const { model, book } = skeleton;
  const read = book.find(`skew@${bay.station.id}`);
  if (!read) return undefined;
  const mark = bay.main?.id ?? bay.tip?.id ?? bay.station.id;
  return judge({
    check: 'skew',
    at: { station: bay.station.id, part: bay.main?.id ?? bay.tip?.id },
    place: mark,
    restsOn: chain([1, read]),
    limit: limitFor(model, 'skew'),
    sense: (v) => `rear ${side(v)}`,
    say: (j) =>
      sentence(model, j, `${mark} stands skewed: its rear end is ${show(model, Math.abs(j.value))} ${side(j.value)}`, {
        todo: 'Bring it back to its line and look at the diagonals of both bays.',
      }),
  });
}

/**
 * Nominal diagonals of a bay, mm: front of a to rear of b, and front of b to rear of a. A station's rear is B(y) aft
 * of its front.
 */
export function nominalDiagonals(width: number, webA: number, webB: number): { ab: number; ba: number } {
  return { ab: Math.hypot(width, webB), ba: Math.hypot(width, webA) };
}

function diagonalFinding(skeleton: Skeleton, a: Bay, b: Bay): Finding | undefined {
  const { model, book } = skeleton;
  const ab = book.find(`diagonal@${a.station.id}-${b.station.id}`);
  const ba = book.find(`diagonal@${b.station.id}-${a.station.id}`);
  if (!ab || !ba) return undefined;
  const web = (bay: Bay): number => book.nominal(`webs@${bay.station.id}`) ?? 0;
  const nominal = nominalDiagonals(b.station.y - a.station.y, web(a), web(b));
  const [offAb, offBa] = [ab.best - nominal.ab, ba.best - nominal.ba];
  const out = outboardAt(model, (a.station.y + b.station.y) / 2);
  const bayName = `bay ${a.station.id} to ${b.station.id}`;
  return judge({
    check: 'diagonals',
    at: { station: a.station.id, from: a.station.id, to: b.station.id },
    place: bayName,
    restsOn: chain([out, ab], [-out, ba]),
    value: out * (offAb - offBa),
    limit: limitFor(model, 'diagonals'),
    sense: (v) => (v < 0 ? 'racked inboard at the rear' : 'racked outboard at the rear'),
    say: (j) =>
      sentence(
        model,
        j,
        `The diagonals of ${bayName} differ by ${show(model, Math.abs(j.value))} from their drawing difference`,
        {
          note: `Front ${a.station.id} to rear ${b.station.id} is ${off(skeleton, offAb)}, front ${b.station.id} to rear ${a.station.id} is ${off(skeleton, offBa)}.`,
          todo: 'Find which rear end stands off its line before sliding a spar.',
        },
      ),
  });
}

function off(skeleton: Skeleton, v: number): string {
  return Math.abs(v) < UNSEEN ? 'right' : `${show(skeleton.model, Math.abs(v))} ${v < 0 ? 'short' : 'long'}`;
}

export function* square(skeleton: Skeleton): Generator<Finding> {
  const { bays } = skeleton;
  for (const [i, bay] of bays.entries()) {
    const next = bays[i + 1];
    for (const f of [
      leanFinding(skeleton, bay),
      skewFinding(skeleton, bay),
      next && diagonalFinding(skeleton, bay, next),
    ])
      if (f) yield f;
  }
}
