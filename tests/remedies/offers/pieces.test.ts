import { describe, expect, it } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { applyEdit } from '../../../src/model/edits/edits.ts';
import type { Model } from '../../../src/model/schema.ts';
import { capGapChain, clearHeight } from '../../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { channelDoubler } from '../../../src/remedies/offers/channel.ts';
import { pressFlanges } from '../../../src/remedies/offers/flange.ts';
import { joggleDeeper } from '../../../src/remedies/offers/joggle.ts';
import { moveStation } from '../../../src/remedies/offers/move.ts';
import { remediesFor } from '../../../src/remedies/offers/offers.ts';
import { packer } from '../../../src/remedies/offers/packer.ts';
import { shim } from '../../../src/remedies/offers/shim.ts';
import { shorter } from '../../../src/remedies/offers/shorter.ts';
import { stepUp } from '../../../src/remedies/offers/step.ts';
import { swap } from '../../../src/remedies/offers/swap.ts';
import { leaveOut } from '../../../src/remedies/offers/without.ts';
import type { Remedy } from '../../../src/remedies/remedy.ts';
import { changed, mainRib, noseRib, panel } from '../../model/panels.ts';

/* Pieces put in and left out, and what every remedy says of itself. Laws: a remedy says that it changes layers wherever it does; what is left out is named nowhere. */

const A = panel('narrow-tail');

/** Panel A with a row in the top cap at S4, through the rib. */
const capRow = changed(A, (m) => {
  const f4 = m.joints.find((j) => j.id === 'F4')!;
  m.joints.push({
    ...structuredClone(f4),
    id: 'C4',
    on: 'top',
    layers: ['front', 'M4'],
    guide: 'front',
    holes: [
      {
        id: 'h1',
        along: 8,
        up: 10,
        layers: [
          { part: 'front', state: 'none', size: 0 },
          { part: 'M4', state: 'none', size: 0 },
        ],
      },
    ],
  });
});

/** What joints go through: their layers and holes, their rivets, the sheet of each layer. */
function gone(m: Model): string {
  const sheet = (part: string) => [...m.doublers, ...m.ribs, ...m.brackets].find((p) => p.id === part)?.sheet;
  return JSON.stringify(m.joints.map((j) => [j.id, j.layers.map((l) => [l, sheet(l)]), j.holes, j.rivet, j.final]));
}

describe('what a remedy says of itself', () => {
  const all: Remedy[] = [
    ...[A, capRow, panel('washed-out-wing')].flatMap((m) => checkAll(m).flatMap((f) => remediesFor(m, f))),
    shim(capRow, { rib: mainRib(capRow, 'M4'), end: 'front', thickness: 0.508 }, 'top'),
    channelDoubler(A, { rib: mainRib(A, 'M4'), end: 'rear', sheet: 's025' }),
    packer(A, { rib: noseRib(A, 'N4'), end: 'tail', sheet: 's032' }),
    leaveOut(A, A.doublers[0]!),
    shorter(A, mainRib(A, 'M3'), 0.4),
    moveStation(A, 'S4', 30),
    swap(A, mainRib(A, 'M2'), mainRib(A, 'M3')),
    stepUp(A, A.joints.find((j) => j.id === 'F3')!)!,
  ];
  it('it changes layers wherever it does', () => {
    const seen = new Set<string>();
    for (const m of [A, capRow])
      for (const r of all) {
        let after: Model;
        try {
          after = r.edit.apply(m);
        } catch {
          continue;
        }
        if (gone(after) === gone(m)) continue;
        seen.add(r.kind);
        expect(r.layers, r.id).toBe(true);
      }
    for (const kind of ['shim', 'channel', 'flat', 'packer', 'resheet', 'without', 'remake', 'shorter', 'step', 'swap'])
      expect(seen, kind).toContain(kind);
  });
  // Trade: hard sheet is bent again once at most, cold, then looked at (AC 43.13-1B ch. 4: straightened cold, then checked with a magnifier).
  it('metal bent again is bent once, cold, and looked at', () => {
    for (const r of [joggleDeeper(A, mainRib(A, 'M2'), 'front', 0.2), pressFlanges(A, mainRib(A, 'M4'), 'rear', 0.2)])
      expect(r.note, r.id).toMatch(/once at most, cold, .*magnifier/);
  });
});

describe('a piece left out', () => {
  it('leaves its joint, its holes and its readings, whatever was drilled through it', () => {
    const m = changed(A, (x) => {
      for (const h of x.joints.find((j) => j.id === 'F4')!.holes) h.layers.find((l) => l.part === 'M4')!.through = 'D4';
      x.readings.push(
        { size: 'F4/h1.D4.up', value: 0.1, instrument: 'pin' },
        { size: 'D4.radius', value: 2.4, instrument: 'radius' },
      );
      x.stages.at(-1)!.takes = ['D4'];
    });
    const done = applyEdit(m, leaveOut(m, m.doublers.find((d) => d.id === 'D4')!).edit);
    if (!done.ok) throw new Error(done.faults.map((f) => f.sentence).join('\n'));
    expect(JSON.stringify({ ...done.model, decisions: [], log: [] })).not.toMatch(/\bD4\b/);
    const gap = (x: Model): number =>
      best(capGapChain(skeletonOf(x), skeletonOf(x).places.find((p) => p.key === 'M4.front')!));
    // Two legs of it gone: the gap is wider by both.
    expect(gap(done.model) - gap(m)).toBeCloseTo(
      2 * A.sheets.find((s) => s.id === A.doublers.find((d) => d.id === 'D4')!.sheet)!.thickness,
      9,
    );
  });
});

it('a packer on the web is no higher than the strips in the caps leave room for', () => {
  const m = changed(A, (x) => {
    x.readings = [];
    x.spars.front.strips = [
      {
        sheet: x.sheets.find((s) => s.thickness > 1)!.id,
        from: x.spars.front.from,
        to: x.spars.front.to,
        caps: 'both',
      },
      {
        sheet: x.sheets.find((s) => s.thickness > 1)!.id,
        from: x.spars.front.from,
        to: x.spars.front.to,
        caps: 'both',
      },
    ];
  });
  const piece = packer(m, { rib: mainRib(m, 'M4'), end: 'front', sheet: 's032' })
    .edit.apply(m)
    .doublers.at(-1)!;
  const bay = skeletonOf(m).bays.find((b) => b.main?.id === 'M4')!;
  expect(piece.height!).toBeLessThanOrEqual(
    best(clearHeight(skeletonOf(m), 'front', bay.station)) - 2 * m.spars.front.radius,
  );
});
