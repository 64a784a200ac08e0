import { alongAt } from '../along.ts';
import { drawnChord, drawnClear } from '../rooms.ts';
import type { Model, Rib, RibEnd, SparName } from '../schema.ts';

/*
 * Ribs cut again so that each keeps the fit it was drawn with, when what they stand in is redrawn: the room between
 * the caps, the room between the webs, the nose. Only differences are carried over, so whatever daylight or bite the
 * drawing had, on purpose or not, it has still.
 */

const tidy = (v: number): number => Math.round(v * 1e4) / 1e4;

interface Room {
  readonly clear: number;
  readonly depth: number;
}

function roomIn(model: Model, name: SparName, y: number): Room | undefined {
  const spar = model.spars[name];
  return spar && { clear: drawnClear(model, name, y), depth: alongAt(spar.depth, y) };
}

function recut(end: RibEnd, a: Room | undefined, b: Room | undefined): RibEnd {
  if (!a || !b) return end;
  const by = end.ends === 'nests' ? b.clear - a.clear : b.depth - a.depth;
  const step = b.depth - a.depth - by;
  return by === 0 && step === 0
    ? end
    : { ...end, height: tidy(end.height + by), joggle: Math.max(0, tidy(end.joggle + step / 2)) };
}

/** Where a rib stands: the model, the place along the span, the drawing's nose there. */
interface Spot {
  readonly model: Model;
  readonly y: number;
  readonly nose: number;
}

function spotOf(model: Model, station: string): Spot | undefined {
  const s = model.stations.find((x) => x.id === station);
  return s && { model, y: s.y, nose: s.nose };
}

/**
 * The rib as it would be drawn at another spot with the fit it has at its own: heights by the room, lengths by the
 * webs, what lies on them, and the nose.
 */
export function ribMoved(rib: Rib, a: Spot, b: Spot): Rib {
  const end = (e: RibEnd, name: SparName): RibEnd => recut(e, roomIn(a.model, name, a.y), roomIn(b.model, name, b.y));
  const webs = alongAt(b.model.webToWeb, b.y) - alongAt(a.model.webToWeb, a.y);
  const nose = b.nose - a.nose;
  switch (rib.kind) {
    case 'main':
      return {
        ...rib,
        length: tidy(rib.length + drawnChord(b.model, b.y) - drawnChord(a.model, a.y)),
        front: end(rib.front, 'front'),
        rear: end(rib.rear, 'rear'),
      };
    case 'nose':
      return { ...rib, length: tidy(rib.length + nose), tail: end(rib.tail, 'front') };
    case 'tip': {
      const deeper = (roomIn(b.model, 'front', b.y)?.depth ?? 0) - (roomIn(a.model, 'front', a.y)?.depth ?? 0);
      return {
        ...rib,
        length: tidy(rib.length + webs + nose),
        height: tidy(rib.height + deeper),
        rear: end(rib.rear, 'rear'),
        ...(rib.clip ? { clip: { ...rib.clip, noseToHole: tidy(rib.clip.noseToHole + nose) } } : {}),
      };
    }
  }
}

/** The model after a change of its stations or spars, with every rib cut again to the fit it had before. */
export function keepFit(before: Model, after: Model): Model {
  const ribs = after.ribs.map((rib) => {
    const was = before.ribs.find((r) => r.id === rib.id);
    const [a, b] = [spotOf(before, was?.station ?? ''), spotOf(after, rib.station)];
    return a && b ? ribMoved(rib, a, b) : rib;
  });
  return { ...after, ribs };
}
