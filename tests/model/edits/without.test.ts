import { describe, expect, test } from 'vitest';
import { onPaper } from '../../../src/drilling/onPaper.ts';
import { alongAt } from '../../../src/model/along.ts';
import { applyEdit, type Edit } from '../../../src/model/edits/edits.ts';
import { removePart, removeStation } from '../../../src/model/edits/stationEdits.ts';
import { withoutPart } from '../../../src/model/edits/without.ts';
import { meaningFaults } from '../../../src/model/file/faults.ts';
import { QUANTITIES } from '../../../src/model/quantities.ts';
import type { Along, Model, Reading } from '../../../src/model/schema.ts';
import { sizeEntries } from '../../../src/model/sizes.ts';
import { Draw, randomPanel } from '../../random-panel.ts';
import { changed, PANELS, panel } from '../panels.ts';

/*
 * Parts and stations taken out. Laws: what is left passes the checks a file passes; nothing names what is gone; whatever
 * stays has every drawing value and reading it had.
 */

function taken(m: Model, edit: Edit): Model {
  const done = applyEdit(m, edit);
  if (!done.ok) throw new Error(done.faults.map((f) => f.sentence).join('\n'));
  return done.model;
}

/** A panel with every size it has read once. */
function allRead(m: Model): Model {
  const readings = [...sizeEntries(m).values()].map(
    (e): Reading => ({
      size: e.key,
      value: e.nominal ?? 1,
      instrument: Object.keys(QUANTITIES[e.kind].u)[0]!,
      sure: true,
    }),
  );
  const full = { ...m, readings };
  expect(meaningFaults(full)).toEqual([]);
  return full;
}

const removals = (m: Model): [string, Edit][] => [
  ...m.stations.map((s): [string, Edit] => [s.id, removeStation(m, s.id)]),
  ...[...m.ribs, ...m.doublers, ...m.brackets, ...m.joints].map((p): [string, Edit] => [p.id, removePart(m, p.id)]),
];

/** Every whole name a panel mentions, readings' keys in their pieces, the builder's own words aside. */
function mentions(m: Model): Set<string> {
  const { name: _n, note: _t, decisions: _d, log: _l, ticks: _k, ...told } = m;
  return new Set(
    JSON.stringify(told)
      .split(/[^A-Za-z0-9-]+/)
      .flatMap((w) => [w, ...w.split('-')]),
  );
}

describe('whatever is taken out', () => {
  test.each([
    ...PANELS.map((n): [string, Model] => [n, panel(n)]),
    ...[3, 8, 12, 21].map((n): [string, Model] => [`random panel ${n}`, randomPanel(n)]),
  ])('of %s, the rest passes as a file, and nothing names it', (_, m) => {
    const full = allRead(m);
    for (const [id, edit] of removals(full)) {
      if (full.stations.length < 2 && full.stations[0]!.id === id) continue;
      const less = taken(full, edit);
      expect(mentions(less).has(id), id).toBe(false);
    }
  });
  test('a part that a stage takes off again leaves that stage too', () => {
    const m = changed(panel('narrow-tail'), (x) => {
      const at = x.stages.findIndex((s) => s.brings.includes('N2'));
      x.stages.splice(
        at + 1,
        0,
        { id: 'off', name: 'N2 off', takes: ['N2'], brings: [], opens: [] },
        { id: 'again', name: 'N2 on', brings: ['N2'], opens: [] },
      );
      for (const s of x.stages) s.opens = [];
    });
    expect(meaningFaults(m)).toEqual([]);
    expect(taken(m, removePart(m, 'N2')).stages.find((s) => s.id === 'off')!.takes).toEqual([]);
  });
  test('a hole drilled through a lost layer follows what that one was drilled through', () => {
    const m = changed(panel('narrow-tail'), (x) => {
      const [first, second] = x.joints.find((j) => j.id === 'F4')!.holes;
      for (const h of [first!, second!]) for (const l of h.layers) if (l.part === 'M4') l.through = 'D4';
      second!.layers.find((l) => l.part === 'D4')!.through = 'apart';
    });
    const holes = taken(m, removePart(m, 'D4')).joints.find((j) => j.id === 'F4')!.holes;
    // Through the doubler, and that through the spar: as good as through the spar. The doubler drilled apart: the rib too.
    expect(holes.slice(0, 2).map((h) => h.layers.find((l) => l.part === 'M4')!.through)).toEqual([undefined, 'apart']);
  });
  test('where the guide is lost, offsets count from the layer that leads then', () => {
    const m = changed(panel('narrow-tail'), (x) => {
      const j = x.joints.find((y) => y.id === 'F4')!;
      j.guide = 'D4';
      for (const h of j.holes)
        for (const l of h.layers)
          Object.assign(l, { state: l.part === 'N4' ? 'none' : 'pilot', size: l.part === 'N4' ? 0 : j.pilot });
      x.readings = [
        { size: 'F4/h1.front.up', value: 0.2, instrument: 'pin' },
        { size: 'F4/h1.M4.up', value: 0.5, instrument: 'pin' },
      ];
    });
    const less = withoutPart(m, new Set(['D4']));
    expect(less.joints.find((j) => j.id === 'F4')!.guide).toBe('front');
    // 0.2 and 0.5 off one hole are 0.3 off each other.
    expect(less.readings.map((r) => [r.size, Math.round(r.value * 1e9) / 1e9])).toEqual([['F4/h1.M4.up', 0.3]]);
  });
});

/** Panel "plain" over ten and more stations, so that W1 is the start of other names. */
function long(): Model {
  return changed(panel('plain'), (m) => {
    m.readings = [];
    m.stations.splice(0, m.stations.length);
    for (let i = 1; i <= 12; i++) m.stations.push({ id: `W${i}`, y: 75 * i, nose: 90, washout: 0 });
    Object.assign(m, { ribs: [], doublers: [], brackets: [], joints: [], stages: [] });
    delete m.now;
    m.survey.supports = ['W1', 'W12'];
  });
}

describe('a station taken out', () => {
  test('leaves the readings of stations whose names only start like its own', () => {
    const full = allRead(long());
    const less = taken(full, removeStation(full, 'W1'));
    const own = (k: string): boolean => /(@|-)W1$|@W1-/.test(k);
    const lost = full.readings.filter((r) => own(r.size)).length;
    expect(lost).toBeGreaterThan(10);
    expect(full.readings.length - less.readings.length).toBe(lost);
    expect(less.readings.some((r) => r.size === 'nose@W10')).toBe(true);
  });
  test('at the end of a taper leaves the taper: every chord gap on paper is what it was', () => {
    const tapered = changed(panel('plain'), (m) => {
      m.readings = [];
      m.webToWeb = [
        [0, 200],
        [900, 160],
      ];
    });
    const last = tapered.stations.at(-1)!;
    const at = changed(tapered, (m) => {
      m.webToWeb = [
        [m.stations[0]!.y, 200],
        [last.y, 160],
      ];
    });
    const gaps = (m: Model) =>
      onPaper(m)
        .filter((f) => f.check === 'chord-gap')
        .map((f) => [f.id, f.value]);
    const less = withoutStationOf(at, last.id);
    const left = new Set(less.ribs.map((r) => r.id));
    expect(gaps(less)).toEqual(gaps(at).filter(([id]) => left.has(String(id).split(':')[1]!)));
    expect(gaps(less).length).toBeGreaterThan(0);
  });
  test('moves no drawing value at any other, whatever the slopes are', () => {
    const d = new Draw(41);
    for (let n = 0; n < 40; n++) {
      const m = long();
      // Points at some stations and beside some, some of them on the line of their neighbours.
      const slope = (low: number, high: number): Along => {
        const points = m.stations.flatMap((s): [number, number][] =>
          d.chance(0.5) ? [[s.y + (d.chance(0.2) ? 10 : 0), d.chance(0.3) ? low : d.between(low, high)]] : [],
        );
        return points.length === 0 ? low : points;
      };
      const tall = {
        ...m,
        webToWeb: slope(150, 220),
        spars: { ...m.spars, front: { ...m.spars.front, depth: slope(70, 90), capWidth: slope(18, 22) } },
        survey: { ...m.survey, rearHigher: slope(0, 20) },
      };
      const values = (x: Model, id: string) => {
        const { y } = x.stations.find((s) => s.id === id)!;
        return [x.webToWeb, x.spars.front.depth, x.spars.front.capWidth, x.survey.rearHigher].map((a) => alongAt(a, y));
      };
      for (const gone of m.stations) {
        const less = removeStation(tall, gone.id).apply(tall);
        for (const s of less.stations)
          values(less, s.id).forEach((v, i) => {
            expect(v, `${gone.id} out, ${s.id}`).toBeCloseTo(values(tall, s.id)[i]!, 5);
          });
      }
    }
  });
  test('takes along a point of a slope that says nothing by itself', () => {
    const m = {
      ...long(),
      webToWeb: [
        [75, 200],
        [300, 190],
        [525, 180],
        [900, 180],
      ] as Along,
    };
    expect(removeStation(m, 'W4').apply(m).webToWeb).toEqual([
      [75, 200],
      [525, 180],
      [900, 180],
    ]);
    expect(removeStation(m, 'W12').apply(m).webToWeb).toEqual([
      [75, 200],
      [300, 190],
      [525, 180],
    ]);
    expect(removeStation(m, 'W1').apply(m).webToWeb).toEqual(m.webToWeb);
    expect(removeStation(m, 'W7').apply(m).webToWeb).toEqual(m.webToWeb);
  });
});

function withoutStationOf(m: Model, id: string): Model {
  return taken(m, removeStation(m, id));
}
