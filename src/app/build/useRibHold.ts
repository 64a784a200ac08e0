import { useMemo } from 'react';
import { show } from '../../checks/describe.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { askMove, moveStation } from '../../remedies/offers/moving.ts';
import { formatLength } from '../../units.ts';
import { useApp } from '../state/store.ts';
import type { RibHold } from '../view3d/RibGrip.tsx';

/** Nearness at which a rib comes to a place of note, mm. */
const DRAWN_TO = 8;

/** What stands at the chosen station, to be slid along its spars by hand; undefined unless Build is asked and one is chosen. */
export function useRibHold(): RibHold | undefined {
  const model = useApp((s) => s.model);
  const station = useApp((s) => s.station);
  const question = useApp((s) => s.question);
  return useMemo(() => {
    const { bays } = skeletonOf(model);
    const at = bays.findIndex((b) => b.station.id === station);
    const bay = bays[at];
    if (question !== 'build' || !bay) return undefined;
    const { y, id } = bay.station;
    const [before, after] = [bays[at - 1]?.station.y, bays[at + 1]?.station.y];
    // A tip rib stays on its spar's end; the others keep a flange's width from their neighbours.
    if (before === undefined || after === undefined) return undefined;
    const [low, high] = [before + 40, after - 40];
    const step = model.units === 'in' ? 25.4 / 8 : 1;
    const notes = [
      { y, name: 'where it was' },
      { y: (before + after) / 2, name: `midway between ${bays[at - 1]!.station.id} and ${bays[at + 1]!.station.id}` },
    ];
    const says = (to: number): string[] => {
      const by = to - y;
      const answer = askMove(model, id, by);
      const head = `${id} at ${formatLength(to, model.units)}, moved ${formatLength(by, model.units, { signed: true })}`;
      if (!answer.ok) return [head, answer.faults[0]?.sentence ?? ''];
      const changes = answer.changes
        .filter((c) => c.after !== undefined)
        .slice(0, 4)
        .map(
          (c) =>
            `${c.after!.place}: ${show(model, c.after!.value, c.after!.unit)} ${c.after!.sense} (${c.after!.verdict})`,
        );
      return [head, ...answer.asks.slice(0, 2).map((a) => `${a.what}: ${a.before} → ${a.after}`), ...changes];
    };
    return {
      station: id,
      y,
      at: (to) => {
        const held = Math.min(Math.max(to, low), high);
        const near = notes.find((n) => Math.abs(n.y - held) < DRAWN_TO);
        return near
          ? { y: Math.round(near.y * 100) / 100, snapped: near.name }
          : { y: Math.round(Math.round(held / step) * step * 1e4) / 1e4, snapped: '' };
      },
      says,
      onPut: (to) => void useApp.getState().edit(moveStation(useApp.getState().model, id, to - y).edit),
    } satisfies RibHold;
  }, [model, station, question]);
}
