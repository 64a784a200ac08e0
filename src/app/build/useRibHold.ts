import { useMemo } from 'react';
import { show } from '../../checks/describe.ts';
import type { Model } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { moveStation } from '../../remedies/offers/move.ts';
import { askMove } from '../../remedies/offers/moveAsked.ts';
import { formatLength } from '../../units.ts';
import { useApp } from '../state/store.ts';
import type { RibHold } from '../view3d/grips/RibGrip.tsx';

/** Nearness at which a rib comes to a place of note, mm. */
const DRAWN_TO = 8;
/** What is kept from the neighbours: the width of a flange, mm. */
const KEPT_CLEAR = 40;
/** Findings that change, and sizes asked for anew, said while a rib is held. */
const [CHANGES, ASKS] = [4, 2];

/** What is said of a station while it is held at a place. */
function saidAt(model: Model, { id, y }: Bay['station'], to: number): string[] {
  const by = to - y;
  const head = `${id} at ${formatLength(to, model.units)}, moved ${formatLength(by, model.units, { signed: true })}`;
  const answer = askMove(model, id, by);
  if (!answer.ok) return [head, answer.faults[0]?.sentence ?? ''];
  const asks = answer.asks.slice(0, ASKS).map((a) => `${a.what}: ${a.before} → ${a.after}`);
  const changes = answer.changes
    .flatMap(({ after: f }) => (f ? [`${f.place}: ${show(model, f.value, f.unit)} ${f.sense} (${f.verdict})`] : []))
    .slice(0, CHANGES);
  return [head, ...asks, ...changes];
}

/**
 * What stands at a station, to be slid between its neighbours; undefined for a tip rib, which stays on its spar's
 * end.
 */
function holdOf(model: Model, station: string | null): RibHold | undefined {
  const { bays } = skeletonOf(model);
  const at = bays.findIndex((b) => b.station.id === station);
  const [before, here, after] = [bays[at - 1]?.station, bays[at]?.station, bays[at + 1]?.station];
  if (!before || !here || !after) return undefined;
  const [low, high] = [before.y + KEPT_CLEAR, after.y - KEPT_CLEAR];
  const step = model.units === 'in' ? 25.4 / 8 : 1;
  const notes = [
    { y: here.y, name: 'where it was' },
    { y: (before.y + after.y) / 2, name: `midway between ${before.id} and ${after.id}` },
  ];
  return {
    station: here.id,
    y: here.y,
    at: (to) => {
      const held = Math.min(Math.max(to, low), high);
      const near = notes.find((n) => Math.abs(n.y - held) < DRAWN_TO);
      return near
        ? { y: Math.round(near.y * 100) / 100, snapped: near.name }
        : { y: Math.round(Math.round(held / step) * step * 1e4) / 1e4, snapped: '' };
    },
    says: (to) => saidAt(model, here, to),
    onPut: (to) => void useApp.getState().edit(moveStation(useApp.getState().model, here.id, to - here.y).edit),
  };
}

/**
 * What stands at the chosen station, to be slid along its spars by hand; undefined unless Build is asked and one is
 * chosen.
 */
export function useRibHold(): RibHold | undefined {
  const model = useApp((s) => s.model);
  const station = useApp((s) => s.station);
  const question = useApp((s) => s.question);
  return useMemo(() => (question === 'build' ? holdOf(model, station) : undefined), [model, station, question]);
}
