import type { Model } from '../../src/model/schema.ts';

/**
 * A panel repeated along the span until it has `stations` stations: the same ribs, joints and readings again and again,
 * named apart. A long, busy panel of the same kind, to see how the work grows.
 */
export function repeated(model: Model, stations: number): Model {
  const n = model.stations.length;
  const times = Math.ceil(stations / n);
  const first = model.stations[0]!.y;
  const pitch = model.stations[n - 1]!.y - first + 60;
  const ids = new Set(
    [...model.stations, ...model.ribs, ...model.doublers, ...model.brackets, ...model.joints].map((x) => x.id),
  );
  const out = {
    ...structuredClone(model),
    stations: [],
    ribs: [],
    doublers: [],
    brackets: [],
    joints: [],
    readings: [],
  } as Model;
  out.readings.push(...model.readings.filter((r) => r.size.startsWith('sheet.')));
  for (let k = 0; k < times; k++) {
    const name = (id: string): string => (ids.has(id) ? `${id}-${k}` : id);
    const key = (text: string): string => text.replace(/[A-Z]\d+/g, (id) => (ids.has(id) ? `${id}-${k}` : id));
    out.stations.push(...model.stations.map((s) => ({ ...s, id: name(s.id), y: s.y - first + k * pitch })));
    out.ribs.push(...model.ribs.map((r) => ({ ...r, id: name(r.id), station: name(r.station) })));
    out.doublers.push(...model.doublers.map((d) => ({ ...d, id: name(d.id), part: name(d.part) })));
    out.brackets.push(...model.brackets.map((b) => ({ ...b, id: name(b.id), station: name(b.station) })));
    out.joints.push(
      ...model.joints.map((j) => ({
        ...j,
        id: name(j.id),
        station: name(j.station),
        layers: j.layers.map(name),
        guide: name(j.guide),
        holes: j.holes.map((h) => ({ ...h, layers: h.layers.map((l) => ({ ...l, part: name(l.part) })) })),
      })),
    );
    out.readings.push(
      ...model.readings.filter((r) => !r.size.startsWith('sheet.')).map((r) => ({ ...r, size: key(r.size) })),
    );
  }
  const length = (times - 1) * pitch + (model.stations[n - 1]!.y - first);
  const spars = structuredClone(out.spars);
  for (const spar of [spars.front, spars.rear]) if (spar) Object.assign(spar, { from: 0, to: length });
  return { ...out, spars, stages: [], now: undefined as never, survey: { ...out.survey, supports: [] } };
}
