import { mirrorModel } from '../edits/mirror.ts';
import type { Model } from '../schema.ts';
import type { SizeEntry } from '../sizeEntries.ts';
import { sizeEntries } from '../sizes.ts';

/* One half of a panel in one piece laid over its other half. */

/** The key of the same size where all marks are others: `to` says what each has become. */
function keysOver(model: Model, laid: Model, to: (mark: string) => string): (key: string) => string {
  const marks = ['station', 'from', 'to', 'part', 'joint', 'layer'] as const;
  const rest = ['end', 'side', 'spar', 'sheet', 'hole', 'axis'] as const;
  const form = ({ kind, of }: SizeEntry, mark: (m: string) => string): string =>
    [kind, ...marks.map((k) => mark(of[k] ?? '')), ...rest.map((k) => of[k] ?? '')].join(' ');
  const has = new Map([...sizeEntries(laid).values()].map((e) => [form(e, (m) => m), e.key]));
  const entries = sizeEntries(model);
  return (key) => {
    const entry = entries.get(key);
    return (entry && has.get(form(entry, to))) ?? key;
  };
}

/**
 * What each mark of a panel in one piece is called at the other end: stations by their order, parts by what they are
 * there. Undefined where a rib has no other.
 */
function pairsOf(model: Model): ReadonlyMap<string, string> | undefined {
  const ends = [...model.stations].reverse();
  const pair = new Map(model.stations.map((s, i) => [s.id, ends[i]?.id ?? s.id]));
  for (const rib of model.ribs) {
    const twin = model.ribs.find((r) => r.kind === rib.kind && r.station === pair.get(rib.station));
    if (!twin) return undefined;
    pair.set(rib.id, twin.id);
  }
  for (const d of model.doublers) {
    const twin = model.doublers.find(
      (x) => x.part === pair.get(d.part) && x.end === d.end && x.form === d.form && x.on === d.on,
    );
    if (twin) pair.set(d.id, twin.id);
  }
  for (const j of model.joints) {
    const twin = model.joints.find((x) => x.station === pair.get(j.station) && x.end === j.end && x.id[0] === j.id[0]);
    if (twin) pair.set(j.id, twin.id);
  }
  return pair;
}

/** The panel with every mark changed; its readings are left out. */
function renamed(m: Model, to: (id: string) => string): Model {
  return {
    ...m,
    stations: m.stations.map((s) => ({ ...s, id: to(s.id) })),
    ribs: m.ribs.map((r) => ({ ...r, id: to(r.id), station: to(r.station) })),
    doublers: m.doublers.map((d) => ({ ...d, id: to(d.id), part: to(d.part) })),
    brackets: m.brackets.map((b) => ({ ...b, station: to(b.station) })),
    joints: m.joints.map((j) => ({
      ...j,
      id: to(j.id),
      station: to(j.station),
      layers: j.layers.map(to),
      guide: to(j.guide),
      holes: j.holes.map((h) => ({ ...h, layers: h.layers.map((l) => ({ ...l, part: to(l.part) })) })),
    })),
    stages: m.stages.map((s) => ({ ...s, brings: s.brings.map(to), opens: s.opens.map(to) })),
    survey: {
      ...m.survey,
      supports: m.survey.supports.map(to),
      ...(m.survey.reference === undefined ? {} : { reference: to(m.survey.reference) }),
    },
    readings: [],
  };
}

/**
 * The other half of a panel in one piece, laid over this one: mirrored about its middle and its marks exchanged end
 * for end, so that S2's sizes stand against S7's. Undefined where the stations do not pair or parts do not.
 */
export function otherHalf(model: Model): Model | undefined {
  const pair = model.hand === 'both' ? pairsOf(model) : undefined;
  if (!pair) return undefined;
  const to = (id: string): string => pair.get(id) ?? id;
  const m = mirrorModel(model);
  const laid = renamed(m, to);
  const key = keysOver(model, laid, to);
  return { ...laid, readings: m.readings.map((r) => ({ ...r, size: key(r.size) })) };
}
