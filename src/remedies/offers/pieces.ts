import { show } from '../../checks/describe.ts';
import { nextBlock } from '../../checks/fit/bendRide.ts';
import { withoutPart } from '../../model/edits/without.ts';
import { drawnClear } from '../../model/rooms.ts';
import type { Doubler, Joint, Model, Rib } from '../../model/schema.ts';
import { carrying } from '../carried.ts';
import { FREE, freeName, type Remedy } from '../remedy.ts';

/*
 * Pieces put between a part and a spar: shims on a cap, flat and channel doublers on a rib end, packers behind a nose rib.
 * Which way the part moves follows from where the piece lies; it is never assumed.
 */

export type End = Doubler['end'];

const lettered = (rib: string): string => rib.replace(/^[A-Za-z]+/, '');
const onSpar = (end: End): 'front' | 'rear' => (end === 'rear' ? 'rear' : 'front');

/** Puts a piece into the joint of its rib end, beside the rib, so that grip and holes count it. */
function joined(joints: readonly Joint[], rib: Rib, piece: Doubler): Joint[] {
  const { end } = piece;
  return joints.map((j) => {
    const row = j.on ?? 'web';
    if (
      j.station !== rib.station ||
      j.end !== onSpar(end) ||
      !j.layers.includes(rib.id) ||
      !(piece.form === 'channel' || piece.on === row)
    )
      return j;
    const at = j.layers.indexOf(rib.id);
    const before = end === 'tail' ? at + 1 : j.layers[at - 1] === onSpar(end) || at > 0 ? at : at + 1;
    return { ...j, layers: [...j.layers.slice(0, before), piece.id, ...j.layers.slice(before)] };
  });
}

function added(model: Model, rib: Rib, piece: Doubler): Model {
  // It comes in with its rib; where no stage brings the rib, with the first.
  const at = Math.max(
    0,
    model.stages.findIndex((s) => s.brings.includes(rib.id)),
  );
  const stages = model.stages.map((s, i) => (i === at ? { ...s, brings: [...s.brings, piece.id] } : s));
  return { ...model, stages, doublers: [...model.doublers, piece], joints: joined(model.joints, rib, piece) };
}

/** Clear height and inside radius of the spar a rib end meets, from the drawing: what a piece must stay inside. */
function room(model: Model, rib: Rib, end: End): { clear: number; radius: number } {
  const name = model.spars[onSpar(end)] ? onSpar(end) : 'front';
  const y = model.stations.find((s) => s.id === rib.station)?.y ?? 0;
  return { clear: drawnClear(model, name, y), radius: (model.spars[name] ?? model.spars.front).radius };
}

interface Where {
  readonly rib: Rib;
  readonly end: End;
  readonly sheet: string;
}

/** Flat shims on one cap or both at a rib end: each takes its thickness from the cap gap. */
export function shim({ rib, end, sheet }: Where, caps: 'top' | 'bottom' | 'both'): Remedy {
  const sides = caps === 'both' ? (['top', 'bottom'] as const) : ([caps] as const);
  return {
    id: `shim:${rib.id}.${end}:${caps}:${sheet}`,
    kind: 'shim',
    name: `shim of ${sheet} at ${caps === 'both' ? 'both caps' : `the ${caps} cap`}, ${rib.id} ${end}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, pieces: sides.length },
    askDesigner: true,
    layers: true,
    edit: {
      name: `shimmed ${rib.id} ${end}`,
      apply: carrying((m) =>
        sides.reduce(
          (now, on) =>
            added(now, rib, {
              id: freeName(now, `Q${lettered(rib.id)}`),
              form: 'flat',
              on,
              sheet,
              part: rib.id,
              end,
              width: 2 * rib.flange,
              designed: false,
            }),
          m,
        ),
      ),
    },
  };
}

/** A sheet name for shim stock: `shim15` for 0.015 in, `shim0p4` for 0.40 mm. */
function shimName(thickness: number): string {
  const mil = thickness / 0.0254;
  return Math.abs(mil - Math.round(mil)) < 0.02
    ? `shim${Math.round(mil)}`
    : `shim${thickness.toFixed(2).replace('.', 'p')}`;
}

/** A shim cut from shim stock of a thickness, mm; the stock comes into the panel's list of sheets with it. */
export function shimOf(
  { rib, end, thickness }: { readonly rib: Rib; readonly end: End; readonly thickness: number },
  caps: 'top' | 'bottom' | 'both',
  model: Model,
): Remedy {
  const had = model.sheets.find((s) => Math.abs(s.thickness - thickness) < 0.002);
  const sheet = had?.id ?? shimName(thickness);
  const plain = shim({ rib, end, sheet }, caps);
  if (had) return plain;
  const alloy = model.sheets.find((s) => s.id === rib.sheet)?.alloy ?? '6061-T6';
  const listed = (m: Model): Model =>
    m.sheets.some((s) => s.id === sheet) ? m : { ...m, sheets: [...m.sheets, { id: sheet, alloy, thickness }] };
  return {
    ...plain,
    name: `shim of ${show(model, thickness)} at ${caps === 'both' ? 'both caps' : `the ${caps} cap`}, ${rib.id} ${end}`,
    edit: { ...plain.edit, apply: (m) => plain.edit.apply(listed(m)) },
  };
}

/** A channel doubler at a rib end, bent easily enough to clear the spar's bend: two legs from the cap gap, its web from the chord. */
export function channelDoubler({ rib, end, sheet }: Where): Remedy {
  return {
    id: `channel:${rib.id}.${end}:${sheet}`,
    kind: 'channel',
    name: `channel doubler of ${sheet} at ${rib.id} ${end}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, pieces: 1 },
    askDesigner: true,
    layers: true,
    edit: {
      name: `put a channel doubler on ${rib.id} ${end}`,
      apply: carrying((m) => {
        const t = m.sheets.find((s) => s.id === sheet)?.thickness ?? 0;
        const radius = nextBlock(Math.max(0, room(m, rib, end).radius - t));
        return added(m, rib, {
          id: freeName(m, `D${lettered(rib.id)}`),
          form: 'channel',
          on: 'web',
          sheet,
          part: rib.id,
          end,
          radius,
          leg: rib.flange,
          width: 2 * rib.flange,
          designed: false,
        });
      }),
    },
  };
}

/** A flat doubler on the web at a rib end, or a packer behind a nose rib: kept short enough to clear both bends. */
export function flatOnWeb({ rib, end, sheet }: Where): Remedy {
  const packer = end === 'tail';
  return {
    id: `${packer ? 'packer' : 'flat'}:${rib.id}.${end}:${sheet}`,
    kind: packer ? 'packer' : 'flat',
    name: packer ? `packer of ${sheet} behind ${rib.id}` : `flat packer of ${sheet} on the web at ${rib.id} ${end}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, pieces: 1 },
    askDesigner: true,
    layers: true,
    edit: {
      name: packer ? `packed ${rib.id}` : `put a flat packer on ${rib.id} ${end}`,
      apply: carrying((m) => {
        const { clear, radius } = room(m, rib, end);
        const height = Math.floor(clear - 2 * radius - 1);
        return added(m, rib, {
          id: freeName(m, `P${lettered(rib.id)}`),
          form: 'flat',
          on: 'web',
          sheet,
          part: rib.id,
          end,
          height,
          width: 2 * rib.flange,
          designed: false,
        });
      }),
    },
  };
}

/** Takes a doubler or shim out, or gives it another sheet: the cure of a cure. */
export function resheet(model: Model, piece: Doubler, sheet: string | null): Remedy {
  const rib = model.ribs.find((r) => r.id === piece.part)!;
  const without = (m: Model): Model => withoutPart(m, new Set([piece.id]));
  const changed = (m: Model): Model => ({
    ...m,
    doublers: m.doublers.map((d) => (d.id === piece.id ? { ...d, sheet: sheet! } : d)),
  });
  return {
    id: sheet === null ? `without:${piece.id}` : `resheet:${piece.id}:${sheet}`,
    kind: sheet === null ? 'without' : 'resheet',
    name: sheet === null ? `leave ${piece.id} out` : `${piece.id} of ${sheet} instead`,
    station: rib.station,
    part: piece.id,
    cost: { ...FREE, pieces: sheet === null ? 0 : 1 },
    askDesigner: true,
    layers: true,
    edit: {
      name: sheet === null ? `left ${piece.id} out` : `made ${piece.id} of ${sheet}`,
      apply: carrying(sheet === null ? without : changed),
    },
  };
}
