import { best, chain } from '../../chains/chain.ts';
import { fromInstruments, type Size } from '../../chains/size.ts';
import { type DirectReading, differenceOf, type Posterior, posterior, suspectsOf } from '../../chains/update.ts';
import { limitFor } from '../../model/limits.ts';
import { INSTRUMENTS, QUANTITIES } from '../../model/quantities.ts';
import type { Model, Reading } from '../../model/schema.ts';
import type { SizeEntry } from '../../model/sizeEntries.ts';
import { instrumentUncertainty } from '../../model/sizes.ts';
import { byParts, type FeelerGap, feelerAt, feelerGaps } from '../../parts/layout/feelers.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import type { At } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Draft, type Finding, judge } from '../finding.ts';

/*
 * Asks: do readings of one thing agree? A gap felt directly against the gap its parts leave, and one size read with
 * two instruments. Beyond three combined uncertainties one of them was misread or mistyped: that comes before any
 * conclusion. The value is the difference in combined standard uncertainties.
 */

const WHERE: Record<FeelerGap['what'], string> = {
  caps: 'at the caps',
  top: 'at the top',
  bottom: 'at the bottom',
  steps: 'from cap to rib',
  webs: 'between the webs',
};

/** Where a felt gap is. */
function atGap({ key, station, part, end, what }: FeelerGap): At {
  const here = { station, part, end, size: key };
  return what === 'top' || what === 'bottom' ? { ...here, what: 'caps', side: what } : { ...here, what };
}

/** Felt less computed, in combined standard uncertainties of the two: 0.63 ± 0.12 is 5.2. */
function apart(reading: DirectReading): number {
  const { difference, u } = differenceOf(reading);
  return u > 0 ? difference / u : 0;
}

/** What the gap's own finding says about having been felt: nothing where it was not. */
export function feelerHere(
  skeleton: Skeleton,
  bay: Bay,
  keys: readonly string[],
): Pick<Draft, 'basis' | 'atLeast'> & { note?: string | undefined; disputed?: string | undefined } {
  if (!feelerAt(skeleton, bay.station.id)) return {};
  const gaps = feelerGaps(byParts(skeleton), bay).filter((g) => keys.includes(g.key));
  const first = gaps[0];
  if (!first) return {};
  const { model } = skeleton;
  const limit = limitFor(model, 'disagreement').act[1] ?? 3;
  const worst = gaps.reduce((a, b) => (Math.abs(apart(b)) > Math.abs(apart(a)) ? b : a), first);
  const note = `Felt ${WHERE[worst.what]}: ${show(model, worst.read.best)}; its parts alone say ${show(model, best(worst.computed))}.`;
  if (Math.abs(apart(worst)) <= limit) return { basis: 'measured', note };
  return {
    basis: 'measured',
    atLeast: 'unsettled',
    note,
    disputed: 'The two disagree: settle which is wrong before anything is concluded.',
  };
}

/** Of a felt gap and its parts, the size that most likely is wrong. */
function suspectAt(gap: FeelerGap, all: readonly FeelerGap[], after: Posterior) {
  const mine = new Set([gap.read.key, ...gap.computed.map((t) => t.size.key)]);
  return suspectsOf(all, after).find((s) => mine.has(s.size.key));
}

/**
 * The size most worth reading again where readings disagree, by its key: of a felt gap and its parts the likeliest to
 * be wrong, of one size read with several instruments that size; undefined for a finding that is about no size.
 */
export function worthRepeating(skeleton: Skeleton, { at }: Finding): string | undefined {
  const parts = byParts(skeleton);
  const felt = skeleton.bays.filter((bay) => feelerAt(skeleton, bay.station.id));
  const all = felt.flatMap((bay) => feelerGaps(parts, bay));
  const gap = all.find((g) => g.key === at.size);
  return (gap && suspectAt(gap, all, posterior(all))?.size.key) ?? at.size;
}

function advice(skeleton: Skeleton, gap: FeelerGap, all: readonly FeelerGap[], after: Posterior): string {
  const first = suspectAt(gap, all, after);
  if (!first) return 'Repeat both.';
  const read = skeleton.book.readingsOf(first.size.key).length > 0;
  return read
    ? `Most worth repeating: the ${first.size.name}.`
    : `Measure the ${first.size.name}: only the drawing says it.`;
}

function gapFinding(skeleton: Skeleton, gap: FeelerGap, all: readonly FeelerGap[], after: Posterior): Finding {
  const { model } = skeleton;
  const ratio = apart(gap);
  return judge({
    check: 'disagreement',
    at: atGap(gap),
    place: `${gap.place} ${WHERE[gap.what]}`,
    restsOn: chain([1, gap.read], ...gap.computed.map((t): [number, Size] => [-t.c, t.size])),
    value: ratio,
    u: 0,
    limit: limitFor(model, 'disagreement'),
    sense: (v) => (v < 0 ? 'felt tighter' : 'felt wider'),
    say: (j) => {
      const { difference } = differenceOf(gap);
      const phrase = `${gap.place} was felt at ${show(model, gap.read.best)} ${WHERE[gap.what]}, and its parts say ${show(model, best(gap.computed))}: ${show(model, Math.abs(difference))} apart, ${show(model, Math.abs(j.value), 'u')}`;
      return sentence(model, j, phrase, { todo: `${advice(skeleton, gap, all, after)} Draw no conclusion before.` });
    },
  });
}

/** A size by the readings of one instrument alone. */
function sizeBy(model: Model, { key, name, kind }: SizeEntry, instrument: string, readings: readonly Reading[]): Size {
  return {
    ...fromInstruments(key, name, [
      {
        instrument,
        values: readings.map((r) => r.value),
        u: instrumentUncertainty(model, kind, instrument) ?? 0,
        scale: model.instruments.find((i) => i.id === instrument)?.scale,
      },
    ]),
    key: `${key} by ${instrument}`,
  };
}

const pairOf = (first: Size, second: Size) => ({ first, computed: chain([1, first]), read: second });

/** One size read with several instruments: the pair that lies farthest apart, if there is one. */
function instrumentFinding(skeleton: Skeleton, key: string): Finding | undefined {
  const { model, book } = skeleton;
  const entry = book.entryOf(key);
  if (!entry) return undefined;
  const groups = new Map<string, Reading[]>();
  for (const r of book.readingsOf(key)) groups.set(r.instrument, [...(groups.get(r.instrument) ?? []), r]);
  if (groups.size < 2) return undefined;
  const sizes = [...groups].map(([instrument, list]) => sizeBy(model, entry, instrument, list));
  const pairs = sizes.flatMap((a, i) => sizes.slice(i + 1).map((b) => pairOf(a, b)));
  const pair = pairs.reduce((far, next) => (Math.abs(apart(next)) > Math.abs(apart(far)) ? next : far));
  const { first: a, read } = pair;
  const by = (size: Size): string => size.key.slice(key.length + 4);
  const word = (size: Size): string => INSTRUMENTS[by(size)] ?? by(size);
  return judge({
    check: 'disagreement',
    at: { station: entry.station, size: key },
    place: entry.name,
    restsOn: chain([1, read], [-1, a]),
    value: apart(pair),
    u: 0,
    limit: limitFor(model, 'disagreement'),
    sense: (v) => (v < 0 ? `${word(read)} reads less` : `${word(read)} reads more`),
    say: (j) =>
      sentence(
        model,
        j,
        `The ${entry.name} is ${show(model, a.best, QUANTITIES[entry.kind].unit)} by ${word(a)} and ${show(model, read.best, QUANTITIES[entry.kind].unit)} by ${word(read)}, ${show(model, Math.abs(j.value), 'u')} apart`,
        {
          todo: `Repeat the one by ${word(a.u > read.u ? a : read)}. Draw no conclusion before.`,
        },
      ),
  });
}

export function* disagreement(skeleton: Skeleton): Generator<Finding> {
  const { book, bays } = skeleton;
  const touched = bays.filter((bay) => feelerAt(skeleton, bay.station.id));
  if (touched.length > 0) {
    const parts = byParts(skeleton);
    const all = touched.flatMap((bay) => feelerGaps(parts, bay));
    const after = posterior(all);
    for (const gap of all) yield gapFinding(skeleton, gap, all, after);
  }
  const times = new Map<string, number>();
  for (const station of [null, ...bays.map((b) => b.station.id)])
    for (const { size } of book.readingsAt(station)) times.set(size, (times.get(size) ?? 0) + 1);
  for (const [key, many] of times) {
    const f = many > 1 ? instrumentFinding(skeleton, key) : undefined;
    if (f) yield f;
  }
}
