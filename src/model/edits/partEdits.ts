import type { Bracket, Doubler, Model, Rib } from '../schema.ts';
import type { Edit } from './edits.ts';
import { layAnew } from './jointsLaid.ts';
import { freeName } from './stationEdits.ts';

/* New parts put in by hand. */

/** What is asked of a new doubler or packer. */
export interface NewDoubler {
  readonly part: string;
  readonly end: Doubler['end'];
  readonly form: Doubler['form'];
  readonly on: Doubler['on'];
  readonly sheet: string;
  /** The rib is drawn lower or shorter by it, so that its fit is the one it had. */
  readonly made: boolean;
}

const tidy = (v: number): number => Math.round(v * 1e4) / 1e4;

/** The rib as drawn for a piece of a thickness at one of its ends: shorter where it lies on a web, lower where it lies on caps. */
function madeFor(rib: Rib, d: NewDoubler, t: number): Rib {
  const shorter = d.form === 'channel' || d.on === 'web' ? t : 0;
  const lower = d.form === 'channel' ? 2 * t : d.on === 'web' ? 0 : t;
  const end = <E extends { height: number; joggle: number; ends: string }>(e: E): E =>
    lower === 0 || e.ends !== 'nests'
      ? e
      : { ...e, height: tidy(e.height - lower), joggle: tidy(e.joggle + lower / 2) };
  const length = tidy(rib.length - shorter);
  if (rib.kind === 'main')
    return d.end === 'front' ? { ...rib, length, front: end(rib.front) } : { ...rib, length, rear: end(rib.rear) };
  return rib.kind === 'nose' ? { ...rib, length, tail: end(rib.tail) } : { ...rib, length, rear: end(rib.rear) };
}

/** Parts that come in the same stage as another; where nothing says when, the first stage. */
function withStage(m: Model, id: string, like: (part: string) => boolean): Model['stages'] {
  const at = m.stages.findIndex((s) => s.brings.some(like));
  return m.stages.map((s, i) => (i === Math.max(at, 0) ? { ...s, brings: [...s.brings, id] } : s));
}

/** Puts a doubler or packer at a rib end; it comes in with the spars, as a dry fit wants it. */
export function addDoubler(model: Model, d: NewDoubler): Edit {
  const rib = model.ribs.find((r) => r.id === d.part);
  const id = freeName(model, 'D', Number(/\d+$/.exec(d.part)?.[0] ?? 1));
  const name = d.end === 'rear' ? 'rear' : 'front';
  const spar = model.spars[name] ?? model.spars.front;
  const spec =
    rib &&
    (rib.kind === 'nose'
      ? rib.tail
      : rib.kind === 'main' && d.end === 'front'
        ? rib.front
        : rib.kind === 'main'
          ? rib.rear
          : rib.rear);
  const tab = spec?.tab ?? 16;
  const t = model.sheets.find((s) => s.id === d.sheet)?.thickness ?? 0;
  const piece: Doubler = {
    id,
    form: d.form,
    on: d.form === 'channel' ? 'web' : d.on,
    sheet: d.sheet,
    part: d.part,
    end: d.end,
    width: 2 * tab,
    designed: true,
    ...(d.form === 'channel'
      ? { radius: spar.radius, leg: tab }
      : d.on === 'web'
        ? { height: Math.max(10, Math.floor((spec?.height ?? 60) - 2 * spar.radius - 4)) }
        : {}),
  };
  return {
    name: `put ${id} at the ${d.end} of ${d.part}`,
    apply: (m) => ({
      ...m,
      doublers: [...m.doublers, piece],
      stages: withStage(m, id, (p) => p === 'front'),
      ribs: d.made ? m.ribs.map((r) => (r.id === d.part ? madeFor(r, d, t) : r)) : m.ribs,
    }),
  };
}

/** Puts a bracket on a spar at a station, as high as its end flange leaves room for; it comes in with the nose ribs, and a row goes through it: on the front web the rib's own, if nothing is drilled in it yet, on the rear web one beside it. */
export function addBracket(
  model: Model,
  at: { readonly spar: Bracket['spar']; readonly station: string; readonly sheet: string },
): Edit {
  const id = freeName(model, 'B', Number(/\d+$/.exec(at.station)?.[0] ?? 1));
  const main = model.ribs.find((r) => r.station === at.station && r.kind === 'main');
  const tab = main?.kind === 'main' ? main[at.spar].tab : 22;
  const height = main?.kind === 'main' ? Math.max(20, Math.floor(main[at.spar].height * 0.6)) : 60;
  const bracket: Bracket = { id, ...at, width: 2 * tab, height, edge: tab / 2 };
  const nose = new Set(model.ribs.filter((r) => r.kind === 'nose').map((r) => r.id));
  return {
    name: `put bracket ${id} at ${at.station}`,
    apply: (m) => {
      const next: Model = { ...m, brackets: [...m.brackets, bracket], stages: withStage(m, id, (p) => nose.has(p)) };
      return layAnew(next, undefined, { station: at.station, end: at.spar }).apply(next);
    },
  };
}
