import type { Edit } from './edits.ts';
import { ribMoved } from './keepFit.ts';
import type { Model, Rib, Station } from './schema.ts';

/** A name with a letter and the first free number from `from` on. */
export function freeName(model: Model, letter: string, from: number): string {
  const taken = new Set([...model.stations, ...model.ribs, ...model.doublers, ...model.brackets, ...model.joints].map((p) => p.id));
  for (let n = from; ; n++) if (!taken.has(`${letter}${n}`)) return `${letter}${n}`;
}

/** Adds a station between others, or beyond them, with ribs like those of the nearest one that has a main rib, cut to the same fit. */
export function addStation(model: Model, y: number): Edit {
  const mark = model.stations[0]?.id.replace(/\d+$/, '') || 'S';
  const id = freeName(model, mark, model.stations.length + 1);
  const sorted = [...model.stations].sort((a, b) => a.y - b.y);
  const of = (read: (s: Station) => number): number => {
    const after = sorted.findIndex((s) => s.y >= y);
    const [a, b] = after <= 0 ? [sorted[Math.max(after, 0)], sorted[Math.max(after, 0)]] : [sorted[after - 1], sorted[after]];
    const [p, q] = after < 0 ? [sorted[sorted.length - 1], sorted[sorted.length - 1]] : [a, b];
    if (!p || !q || p === q) return p ? read(p) : 0;
    return Math.round((read(p) + ((read(q) - read(p)) * (y - p.y)) / (q.y - p.y)) * 1e4) / 1e4;
  };
  const station: Station = { id, y, nose: of((s) => s.nose), washout: of((s) => s.washout) };
  return {
    name: `added station ${id}`,
    apply: (m) => {
      const stations = [...m.stations, station].sort((a, b) => a.y - b.y);
      const all = { ...m, stations };
      const like = [...m.stations].filter((s) => m.ribs.some((r) => r.station === s.id && r.kind === 'main')).sort((a, b) => Math.abs(a.y - y) - Math.abs(b.y - y))[0];
      let named: Model = all;
      const ribs = like ? m.ribs.filter((r) => r.station === like.id && r.kind !== 'tip').map((r): Rib => {
        const fresh = { ...ribMoved(r, { model: m, y: like.y, nose: like.nose }, { model: m, y, nose: station.nose }), id: freeName(named, r.id.replace(/\d+$/, ''), Number(/\d+$/.exec(id)?.[0] ?? 1)), station: id };
        named = { ...named, ribs: [...named.ribs, fresh] };
        return fresh;
      }) : [];
      return { ...all, ribs: [...m.ribs, ...ribs] };
    },
  };
}

/** Takes a station away with all that stands at it, and every mention of it. */
export function removeStation(model: Model, id: string): Edit {
  const gone = new Set<string>(model.ribs.filter((r) => r.station === id).map((r) => r.id));
  for (const d of model.doublers) if (gone.has(d.part)) gone.add(d.id);
  for (const b of model.brackets) if (b.station === id) gone.add(b.id);
  return { name: `removed station ${id}`, apply: (m) => withoutStation(without(m, gone), id) };
}

function withoutStation(m: Model, id: string): Model {
  const left = { ...m, stations: m.stations.filter((s) => s.id !== id) };
  const joints = new Set(m.joints.filter((j) => j.station === id).map((j) => j.id));
  const { reference, ...survey } = m.survey;
  const y = m.stations.find((s) => s.id === id)?.y;
  const drop = (a: Model['webToWeb']): Model['webToWeb'] => (typeof a === 'number' || a.length < 2 ? a : a.filter(([at]) => at !== y));
  const spar = (s: Model['spars']['front']): Model['spars']['front'] => ({ ...s, depth: drop(s.depth), capWidth: drop(s.capWidth) });
  return {
    ...left,
    spars: { front: spar(m.spars.front), ...(m.spars.rear ? { rear: spar(m.spars.rear) } : {}) },
    webToWeb: drop(m.webToWeb),
    joints: m.joints.filter((j) => !joints.has(j.id)),
    stages: m.stages.map((s) => ({ ...s, opens: s.opens.filter((j) => !joints.has(j)) })),
    survey: { ...survey, rearHigher: drop(m.survey.rearHigher), supports: m.survey.supports.filter((s) => s !== id), ...(reference !== undefined && reference !== id ? { reference } : {}) },
    readings: m.readings.filter((r) => !r.size.includes(`@${id}`) && !r.size.endsWith(`-${id}`) && ![...joints].some((j) => r.size.startsWith(`${j}/`))),
  };
}

/** Takes parts away: out of the joints they were layers of, the stages, the readings. A joint left with one layer goes too. */
function without(m: Model, gone: ReadonlySet<string>): Model {
  const joints = m.joints.map((j) => (j.layers.some((l) => gone.has(l)) ? { ...j, layers: j.layers.filter((l) => !gone.has(l)), holes: j.holes.map((h) => ({ ...h, layers: h.layers.filter((l) => !gone.has(l.part)) })) } : j)).filter((j) => j.layers.length > 1 && j.layers.includes(j.guide) && !gone.has(j.id));
  const kept = new Set(joints.map((j) => j.id));
  const lost = m.joints.filter((j) => !kept.has(j.id)).map((j) => j.id);
  const stale = (key: string): boolean => [...gone].some((id) => key.startsWith(`${id}.`) || key.includes(`.${id}.`) || key === `gap.${id}` || key.startsWith(`gap.${id}.`) || key === `chord.${id}`) || lost.some((id) => key.startsWith(`${id}/`));
  return {
    ...m,
    ribs: m.ribs.filter((r) => !gone.has(r.id)),
    doublers: m.doublers.filter((d) => !gone.has(d.id) && !gone.has(d.part)),
    brackets: m.brackets.filter((b) => !gone.has(b.id)),
    joints,
    stages: m.stages.map((s) => ({ ...s, brings: s.brings.filter((p) => !gone.has(p)), opens: s.opens.filter((j) => kept.has(j)) })),
    readings: m.readings.filter((r) => !stale(r.size)),
  };
}

/** Takes one part or joint away, and what hangs on it. */
export function removePart(model: Model, id: string): Edit {
  const gone = new Set([id, ...model.doublers.filter((d) => d.part === id).map((d) => d.id)]);
  return { name: `removed ${id}`, apply: (m) => without(m, gone) };
}
