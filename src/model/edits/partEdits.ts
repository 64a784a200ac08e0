import { ribEndAt, withRibEnd } from '../ribEnd.ts';
import type { Bracket, Doubler, Model, Rib, RibEnd } from '../schema.ts';
import type { Edit } from './edits.ts';
import { layAnew } from './jointsLaid.ts';
import { nextFreeName } from './stationEdits.ts';

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

/**
 * The rib as drawn for a piece of a thickness at one of its ends: shorter where it lies on a web, lower where it lies
 * on caps.
 */
function madeFor(rib: Rib, d: NewDoubler, t: number): Rib {
  const shorter = d.form === 'channel' || d.on === 'web' ? t : 0;
  const lower = thicknessOverCaps(d, t);
  const end = (e: RibEnd): RibEnd =>
    lower === 0 || e.ends !== 'nests'
      ? e
      : { ...e, height: tidy(e.height - lower), joggle: tidy(e.joggle + lower / 2) };
  return withRibEnd({ ...rib, length: tidy(rib.length - shorter) }, d.end, end);
}

/** What a piece of a thickness takes of the room between the caps: a channel's two legs, a flat on a cap itself. */
function thicknessOverCaps(d: NewDoubler, t: number): number {
  if (d.form === 'channel') return 2 * t;
  return d.on === 'web' ? 0 : t;
}

/** Parts that come in the same stage as another; where nothing says when, the first stage. */
function withStage(m: Model, id: string, like: (part: string) => boolean): Model['stages'] {
  const at = m.stages.findIndex((s) => s.brings.some(like));
  return m.stages.map((s, i) => (i === Math.max(at, 0) ? { ...s, brings: [...s.brings, id] } : s));
}

/**
 * A new piece for a rib end: as wide as two end flanges, its bends the spar's, a flat on the web as high as it lies
 * clear of the bends.
 */
function pieceFor(model: Model, d: NewDoubler, id: string, end: RibEnd | undefined): Doubler {
  const { form, on, sheet, part } = d;
  const { radius } = model.spars[d.end === 'rear' ? 'rear' : 'front'] ?? model.spars.front;
  const tab = end?.tab ?? 16;
  const plain: Doubler = { id, form, on, sheet, part, end: d.end, width: 2 * tab, designed: true };
  if (form === 'channel') return { ...plain, on: 'web', radius, leg: tab };
  if (on !== 'web') return plain;
  return { ...plain, height: Math.max(10, Math.floor((end?.height ?? 60) - 2 * radius - 4)) };
}

/** Puts a doubler or packer at a rib end; it comes in with the spars, as a dry fit wants it. */
export function addDoubler(model: Model, d: NewDoubler): Edit {
  const rib = model.ribs.find((r) => r.id === d.part);
  const id = nextFreeName(model, 'D', Number(/\d+$/.exec(d.part)?.[0] ?? 1));
  const t = model.sheets.find((s) => s.id === d.sheet)?.thickness ?? 0;
  const piece = pieceFor(model, d, id, rib && ribEndAt(rib, d.end));
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

/**
 * Puts a bracket on a spar at a station, as high as its end flange leaves room for; it comes in with the nose ribs,
 * and a row goes through it: on the front web the rib's own, if nothing is drilled in it yet, on the rear web one
 * beside it.
 */
export function addBracket(
  model: Model,
  at: { readonly spar: Bracket['spar']; readonly station: string; readonly sheet: string },
): Edit {
  const id = nextFreeName(model, 'B', Number(/\d+$/.exec(at.station)?.[0] ?? 1));
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
