import { describe, expect, test } from 'vitest';
import { jointSample } from '../src/chance/jointSample.ts';
import { nextReadings } from '../src/chance/nextReading.ts';
import { checkAll } from '../src/checks/checkAll.ts';
import { reportOf, reportText } from '../src/checks/report.ts';
import { askHoles } from '../src/drilling/drill.ts';
import { gatesOf } from '../src/drilling/gates.ts';
import { ledgerText } from '../src/drilling/ledger.ts';
import { onPaper } from '../src/drilling/onPaper.ts';
import { openKernel } from '../src/geometry/kernel.ts';
import { meaningFaults } from '../src/model/file/faults.ts';
import { parseModel } from '../src/model/file/parse.ts';
import { writeModel } from '../src/model/file/write.ts';
import type { Model } from '../src/model/schema.ts';
import { skeletonOf } from '../src/parts/layout/skeleton.ts';
import { solidsOf } from '../src/parts/placed/solids.ts';
import { leastWork } from '../src/remedies/search/leastWork.ts';
import { finished } from '../src/remedies/steps.ts';
import { sceneOf } from '../src/scene/scene.ts';
import { SHEETS } from '../src/sheets/all.ts';
import { stepsOf } from '../src/sheets/steps/steps.ts';
import { contact } from '../src/solidChecks/contact.ts';
import { massOf } from '../src/solidChecks/mass.ts';
import { overlap } from '../src/solidChecks/overlap.ts';
import { readOff } from '../src/solidChecks/readOff.ts';
import { lockIn } from '../src/truing/lockIn.ts';
import { packing } from '../src/truing/packing.ts';
import { changed, frozen, panel, readAs } from './model/panels.ts';
import { BROKEN, unsound } from './unsound.ts';

/*
 * The leanest panels there can be: every engine answers, and nothing that is not a number comes out of any. No source but
 * that a panel of one rib is still a panel.
 */

const kernel = await openKernel();
const PLAIN = panel('plain');

/** A panel left with the stations named, and what stands there. */
function only(model: Model, ids: readonly string[]): Model {
  return changed(model, (m) => {
    m.stations = m.stations.filter((s) => ids.includes(s.id));
    m.ribs = m.ribs.filter((r) => ids.includes(r.station));
    const parts = new Set(m.ribs.map((r) => r.id));
    m.doublers = m.doublers.filter((d) => parts.has(d.part));
    m.brackets = m.brackets.filter((b) => ids.includes(b.station));
    m.joints = m.joints.filter((j) => ids.includes(j.station));
    m.stages = [];
    m.survey.supports = m.survey.supports.filter((s) => ids.includes(s));
    delete m.survey.reference;
    delete (m as { now?: string }).now;
    m.readings = m.readings.filter((r) =>
      [...r.size.matchAll(/\b[A-Z]\d+\b/g)].every(([id]) => ids.includes(id) || parts.has(id)),
    );
  });
}

/** The spars and nothing else. */
const bare = (model: Model): Model =>
  changed(
    only(
      model,
      model.stations.map((s) => s.id),
    ),
    (m) => {
      m.ribs = [];
      m.doublers = [];
      m.brackets = [];
      m.joints = [];
      m.readings = [];
    },
  );

const PANELS: readonly (readonly [string, Model])[] = [
  ['one station', only(PLAIN, ['S2'])],
  ['one tip rib', only(PLAIN, ['S1'])],
  ['two stations', only(PLAIN, ['S2', 'S3'])],
  ['two tip ribs', only(PLAIN, ['S1', 'S4'])],
  [
    'no readings',
    changed(PLAIN, (m) => {
      m.readings = [];
    }),
  ],
  [
    'every gap nothing at all',
    changed(PLAIN, (m) => {
      m.readings = [];
      for (const r of m.ribs) {
        if (r.kind === 'main') {
          r.length = 200 - 0.8128;
          r.front.height = 80 - 2 * 0.8128;
        }
        if (r.kind !== 'nose') r.rear.height = 50 - 2 * 0.8128;
      }
    }),
  ],
  [
    'no noses',
    changed(only(PLAIN, ['S2', 'S3']), (m) => {
      m.ribs = m.ribs.filter((r) => r.kind === 'main');
      m.joints = m.joints.filter((j) => j.layers.every((l) => !l.startsWith('N')));
      m.readings = [];
    }),
  ],
  [
    'noses alone',
    changed(only(PLAIN, ['S2', 'S3']), (m) => {
      m.ribs = m.ribs.filter((r) => r.kind === 'nose');
      m.doublers = [];
      m.joints = [];
      m.readings = [];
    }),
  ],
  [
    'no rear spar',
    changed(only(PLAIN, ['S2', 'S3']), (m) => {
      delete (m.spars as { rear?: unknown }).rear;
      m.stand = 'front';
      m.joints = m.joints.filter((j) => j.end === 'front');
      m.brackets = m.brackets.filter((b) => b.spar === 'front');
      m.readings = [];
    }),
  ],
  ['spars and nothing else', bare(PLAIN)],
  [
    'every station read the same',
    changed(PLAIN, (m) => {
      for (const s of m.stations) {
        readAs(m, `level@${s.id}`, 0, 'level');
        readAs(m, `nose@${s.id}`, 100, 'string');
        readAs(m, `front.bow@${s.id}`, 0, 'string');
      }
    }),
  ],
];

describe.each(PANELS)('%s', (_, given) => {
  const model = frozen(given);
  const skeleton = skeletonOf(model);

  test('is a panel, and its file reads back as itself', () => {
    expect(meaningFaults(model)).toEqual([]);
    const read = parseModel(writeModel(model));
    expect(read.ok && read.model).toEqual(model);
  });

  test('every finding is a number and a sentence', () => {
    for (const f of [...checkAll(model), ...onPaper(model)]) {
      const { limits: _limits, ...own } = f;
      expect(unsound(own), f.id).toEqual([]);
      expect(f.sentence, f.id).not.toMatch(BROKEN);
    }
    expect(reportText(model, checkAll(model), true)).not.toMatch(BROKEN);
    expect(unsound(reportOf(model, checkAll(model)))).toEqual([]);
  });

  test('every other question has an answer', () => {
    expect(unsound(askHoles(skeleton))).toEqual([]);
    expect(ledgerText(model)).not.toMatch(BROKEN);
    expect(JSON.stringify(gatesOf(model))).not.toMatch(BROKEN);
    expect(unsound(nextReadings(model))).toEqual([]);
    expect(unsound(packing(model))).toEqual([]);
    expect(unsound(lockIn(model))).toEqual([]);
    const sampled = jointSample(model, { seed: 1, points: 256, replicates: 2 });
    expect(unsound(sampled)).toEqual([]);
    const cure = finished(leastWork(model));
    expect(unsound(cure)).toEqual([]);
    expect(JSON.stringify(cure)).not.toMatch(BROKEN);
    for (const step of stepsOf(model)) {
      expect(unsound(step)).toEqual([]);
      expect(JSON.stringify(step)).not.toMatch(BROKEN);
    }
  });

  test('the solids close, weigh something and are read like any other', () => {
    for (const part of solidsOf(skeleton, { magnify: 1, skin: true, rivets: 'all' }))
      expect(kernel.volume(part.solid), part.id).toBeGreaterThan(0);
    for (const magnify of [10, 50])
      for (const part of solidsOf(skeleton, { magnify }))
        expect(kernel.volume(part.solid), `${part.id} at ${magnify}`).toBeGreaterThan(0);
    const { rows: _, ...mass } = massOf(skeleton, kernel);
    expect(unsound(mass)).toEqual([]);
    const reads = readOff(skeleton, kernel);
    for (const f of [...overlap(skeleton, kernel, reads), ...contact(skeleton, reads)])
      expect(f.sentence).not.toMatch(BROKEN);
    for (const place of skeleton.places) expect(unsound(reads.cap(place))).toEqual([]);
    expect(unsound(sceneOf(skeleton, checkAll(model), { question: 'fit', magnify: 10, station: null }))).toEqual([]);
  });

  test('every sheet can be printed', () => {
    for (const kind of SHEETS) {
      const sheet = kind.build({ model, date: '2026-06-20', paper: 'a4' });
      expect(unsound(sheet), kind.id).toEqual([]);
      expect(JSON.stringify(sheet), kind.id).not.toMatch(BROKEN);
    }
  });
});

test('two stations at one place, or out of order, are refused in a sentence', () => {
  const same = changed(PLAIN, (m) => {
    m.stations[1]!.y = m.stations[0]!.y;
  });
  expect(
    meaningFaults(same)
      .map((f) => f.sentence)
      .join(' '),
  ).toMatch(/S2.*S1|S1.*S2/);
});
