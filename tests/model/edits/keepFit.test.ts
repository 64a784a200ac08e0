import { describe, expect, test } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { onPaper } from '../../../src/drilling/onPaper.ts';
import { keepFit } from '../../../src/model/edits/keepFit.ts';
import { addStation, removeStation } from '../../../src/model/edits/stationEdits.ts';
import { drawnChord, drawnClear } from '../../../src/model/rooms.ts';
import type { Model } from '../../../src/model/schema.ts';
import { chordGapChain, clearHeight } from '../../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { randomPanel } from '../../random-panel.ts';
import { changed, mainRib, PANELS, panel } from '../panels.ts';

/* Ribs cut to the fit they had, and the rooms they are cut by. The chains of cap and chord gap are the other way to ask. */

const gaps = (m: Model, rib: string): number[] =>
  onPaper(m)
    .filter((f) => ['cap-gap', 'chord-gap'].includes(f.check) && f.place.split(' ')[0] === rib)
    .map((f) => Math.round(f.value * 1e4) / 1e4);

/** Panel "plain" with a doubler on its front web that ends between S2 and S3, ribs under it that much shorter. */
const doubled = changed(panel('plain'), (m) => {
  m.readings = [];
  const sheet = m.sheets[0]!;
  m.spars.front.webDoublers.push({ sheet: sheet.id, from: m.spars.front.from, to: 350, height: 60 });
  for (const r of m.ribs)
    if (r.kind === 'main' && m.stations.find((s) => s.id === r.station)!.y <= 350) r.length -= sheet.thickness;
});

describe('a station added', () => {
  test('has the gaps of the one it is like, on the web doubler or clear of it', () => {
    for (const y of [310, 390]) {
      const more = addStation(doubled, y).apply(doubled);
      const own = more.ribs.find(
        (r) => r.kind === 'main' && more.stations.find((s) => s.id === r.station)!.y === y,
      )!.id;
      // Panel "plain" is drawn with 0.05 at the caps and 0.10 between the webs.
      expect(gaps(more, own), String(y)).toEqual([0.05, 0.05, 0.1]);
    }
  });
  test('brings the doublers its ribs are made for, and takes them along when it goes', () => {
    for (const name of PANELS) {
      const m = { ...panel(name), readings: [] };
      const y = (m.stations[1]!.y + m.stations[2]!.y) / 2;
      const more = addStation(m, y).apply(m);
      const id = more.stations.find((s) => s.y === y)!.id;
      const own = more.ribs.find((r) => r.station === id && r.kind === 'main')!.id;
      expect(gaps(more, own), name).toEqual(gaps(m, 'M2'));
      expect(removeStation(more, id).apply(more)).toEqual(m);
    }
  });
});

describe('ribs keep their fit', () => {
  test('where a web doubler is laid past them or cut back', () => {
    const shorter = changed(doubled, (m) => {
      m.spars.front.webDoublers[0]!.to = 100;
    });
    expect(gaps(shorter, 'M2')[2]).toBeCloseTo(0.1 + doubled.sheets[0]!.thickness, 4);
    expect(gaps(keepFit(doubled, shorter), 'M2')).toEqual(gaps(doubled, 'M2'));
  });
});

describe('rooms by the drawing', () => {
  test('are what the chains say where nothing is read', () => {
    for (const m of [
      ...PANELS.map((n): Model => ({ ...panel(n), readings: [] })),
      doubled,
      ...[2, 6, 15].map((n): Model => ({ ...randomPanel(n), readings: [] })),
    ]) {
      const skeleton = skeletonOf(m);
      for (const bay of skeleton.bays) {
        for (const name of ['front', 'rear'] as const)
          if (m.spars[name])
            expect(drawnClear(m, name, bay.station.y)).toBeCloseTo(best(clearHeight(skeleton, name, bay.station)), 9);
        if (!bay.main || !m.spars.rear) continue;
        const own = skeleton.model.doublers
          .filter((d) => d.part === bay.main!.id && (d.form === 'channel' || d.on === 'web'))
          .reduce((sum, d) => sum + m.sheets.find((s) => s.id === d.sheet)!.thickness, 0);
        expect(drawnChord(m, bay.station.y) - mainRib(m, bay.main.id).length - own).toBeCloseTo(
          best(chordGapChain(skeleton, bay, bay.main, 'straight')),
          9,
        );
      }
    }
  });
});
