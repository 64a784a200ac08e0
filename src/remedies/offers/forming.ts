import { show } from '../../checks/describe.ts';
import type { MainRib, Model, NoseRib, Rib, TipRib } from '../../model/schema.ts';
import { carrying } from '../carried.ts';
import { drilledHoles } from '../holesAt.ts';
import { BENT_COLD, FREE, type Remedy, shifted } from '../remedy.ts';

/*
 * Metal moved on the part itself: end flanges bent again, joggles deeper, flanges opened or closed, a tip rib trimmed, a
 * part made again, a doubler bent easier. Hard sheet is bent again once at most, cold, then looked at with a magnifier.
 */

/** Re-bends a main rib's end flange so that the rib is shorter by s mm: its end holes are lost. */
export function rebendEnd(model: Model, rib: MainRib, end: 'front' | 'rear', s: number): Remedy {
  return {
    id: `rebend:${rib.id}.${end}:${s}`,
    kind: 'rebend',
    name: `re-bend the ${end} end flange of ${rib.id}, ${show(model, s)} shorter`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, reformed: 1, holesLost: drilledHoles(model, rib.id, end) },
    askDesigner: false,
    layers: false,
    note: BENT_COLD,
    edit: {
      name: `re-bent ${rib.id} ${end}`,
      apply: carrying((m) => {
        const shorter = shifted(m, `${rib.id}.length`, -s);
        return rib[end].relief ? shifted(shorter, `${rib.id}.${end}.relief`, -s) : shorter;
      }),
    },
  };
}

/** Re-bends a nose rib's tail flange so that the nose comes back by s mm. */
export function rebendTail(model: Model, rib: NoseRib, s: number): Remedy {
  return {
    id: `tail:${rib.id}:${s}`,
    kind: 'tail',
    name: `re-bend the tail of ${rib.id}, ${show(model, s)} shorter`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, reformed: 1, holesLost: drilledHoles(model, rib.id, 'front') },
    askDesigner: false,
    layers: false,
    note: BENT_COLD,
    edit: { name: `re-bent the tail of ${rib.id}`, apply: carrying((m) => shifted(m, `${rib.id}.length`, -s)) },
  };
}

/** Trims or re-bends a full tip rib's rear end by s mm: its nose comes back by as much. */
export function trimTip(model: Model, rib: TipRib, s: number): Remedy {
  return {
    id: `trim:${rib.id}:${s}`,
    kind: 'trim',
    name: `shorten the rear end of ${rib.id} by ${show(model, s)}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, reformed: 1, holesLost: drilledHoles(model, rib.id, 'rear') },
    askDesigner: true,
    layers: false,
    edit: { name: `shortened ${rib.id}`, apply: carrying((m) => shifted(m, `${rib.id}.length`, -s)) },
  };
}

/** Joggles a rib end deeper by s mm each side: the end is 2s lower, the contour stays. */
export function joggleDeeper(model: Model, rib: MainRib, end: 'front' | 'rear', s: number): Remedy {
  return {
    id: `joggle:${rib.id}.${end}:${s}`,
    kind: 'joggle',
    name: `joggle ${rib.id} ${end} ${show(model, s)} deeper each side`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, reformed: 1 },
    askDesigner: false,
    layers: false,
    note: BENT_COLD,
    edit: {
      name: `joggled ${rib.id} ${end} deeper`,
      apply: carrying((m) => shifted(shifted(m, `${rib.id}.${end}.height`, -2 * s), `${rib.id}.${end}.joggle`, s)),
    },
  };
}

/** Sizes that a part's own making decides: its own, and what was felt or read by the string where it stood. */
function ownSizes(model: Model, rib: Rib): string[] {
  return model.readings
    .map((r) => r.size)
    .filter(
      (k) =>
        k.startsWith(`${rib.id}.`) || k === `chord.${rib.id}` || (rib.kind !== 'main' && k === `nose@${rib.station}`),
    );
}

/** Cuts a cap strip of a spar back so that it ends clear of a station: `clear` mm short of it. */
export function cutStrip(
  model: Model,
  {
    spar,
    strip,
    station,
    clear,
  }: { readonly spar: 'front' | 'rear'; readonly strip: number; readonly station: string; readonly clear: number },
): Remedy {
  const y = model.stations.find((s) => s.id === station)?.y ?? 0;
  return {
    id: `strip:${spar}.${strip}:${station}`,
    kind: 'strip',
    name: `cut the cap strip of the ${spar} spar back, ${show(model, clear)} clear of ${station}`,
    station,
    part: spar,
    cost: { ...FREE, reformed: 1 },
    askDesigner: true,
    layers: false,
    edit: {
      name: `cut the cap strip of the ${spar} spar back`,
      apply: carrying((m) => {
        const own = m.spars[spar];
        if (!own) return m;
        const cut = own.strips.map((s, i) =>
          i !== strip ? s : s.to - y < y - s.from ? { ...s, to: y - clear } : { ...s, from: y + clear },
        );
        return { ...m, spars: { ...m.spars, [spar]: { ...own, strips: cut } } };
      }),
    },
  };
}

/** Makes a part again: its readings go, the drawing holds within its tolerance; holes are picked up from the spar, never from the old part. */
export function remake(model: Model, rib: Rib): Remedy {
  const own = new Set(ownSizes(model, rib));
  return {
    id: `remake:${rib.id}`,
    kind: 'remake',
    name: `make ${rib.id} again`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, remade: 1 },
    askDesigner: false,
    layers: true,
    edit: {
      name: `made ${rib.id} again`,
      apply: (m) => ({
        ...m,
        readings: m.readings.filter((r) => !own.has(r.size) && !r.size.includes(`.${rib.id}.`)),
        joints: m.joints.map((j) =>
          j.layers.includes(rib.id)
            ? {
                ...j,
                holes: j.holes.map((h) => ({
                  ...h,
                  layers: h.layers.map((l) => (l.part === rib.id ? { ...l, state: 'none' as const, size: 0 } : l)),
                })),
              }
            : j,
        ),
      }),
    },
  };
}

/** Bends a channel doubler again at an easier inside radius, mm: it lies home on the caps. */
export function bendEasier(model: Model, doubler: string, radius: number): Remedy {
  const piece = model.doublers.find((d) => d.id === doubler)!;
  const rib = model.ribs.find((r) => r.id === piece.part)!;
  return {
    id: `easier:${doubler}:${radius}`,
    kind: 'easier',
    name: `bend ${doubler} again at ${show(model, radius)}`,
    station: rib.station,
    part: doubler,
    cost: { ...FREE, pieces: 1 },
    askDesigner: false,
    layers: false,
    edit: {
      name: `bent ${doubler} at ${show(model, radius)}`,
      apply: (m) => ({
        ...m,
        doublers: m.doublers.map((d) => (d.id === doubler ? { ...d, radius } : d)),
        readings: m.readings.filter((r) => r.size !== `${doubler}.radius`),
      }),
    },
  };
}
