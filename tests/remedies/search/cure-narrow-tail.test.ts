import { describe, expect, it } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { kinksOf, nosesOf } from '../../../src/checks/fit/noseLine.ts';
import type { Model } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { offersFor } from '../../../src/remedies/offering.ts';
import { bendEasier } from '../../../src/remedies/offers/easier.ts';
import { remake } from '../../../src/remedies/offers/remake.ts';
import { resheet } from '../../../src/remedies/offers/resheet.ts';
import { shim } from '../../../src/remedies/offers/shim.ts';
import { swap } from '../../../src/remedies/offers/swap.ts';
import { levelOf, reachOf } from '../../../src/remedies/reach.ts';
import type { Remedy } from '../../../src/remedies/remedy.ts';
import { leastWork } from '../../../src/remedies/search/leastWork.ts';
import { placementsOf } from '../../../src/remedies/search/placement.ts';
import { betterFirst, type Plan, planOf } from '../../../src/remedies/search/plan.ts';
import { finished } from '../../../src/remedies/steps.ts';
import { changed, finding, mainRib, panel, reading, rib } from '../../model/panels.ts';

/*
 * Panel A, "narrow tail": what must come out, by the independent working of the demo panels (items 2, 3, 4, 7, 9, 11).
 */

const A = panel('narrow-tail');
const outcome = finished(leastWork(A));
const plan = (remedies: readonly Remedy[], model: Model = A): Plan => {
  const made = planOf(model, remedies);
  if (!made.ok) throw new Error(made.faults.map((f) => f.sentence).join(' '));
  return made.plan;
};
const ids = (p: Plan): string[] => p.remedies.flatMap((r) => r.id.split(' + '));
const named = (start: string): Plan => outcome.plans.find((p) => p.name === start)!;
const kinks = (m: Model): number => Math.max(...kinksOf(nosesOf(skeletonOf(m), 'straight')).map(Math.abs));

/** Every doubler bent at 5/64 in first (item 5), as the other items take it. */
const home = plan(A.doublers.map((d) => bendEasier(A, d, (5 / 64) * 25.4))).model;

describe('panel A, item 3: M5', () => {
  const d5 = home.doublers.find((d) => d.id === 'D5')!;
  const M5 = mainRib(home, 'M5');
  const leave = plan([], home);
  const thicker = plan([resheet(home, d5, 's032')], home);
  const shimmed = plan([shim(home, { rib: M5, end: 'front', thickness: 0.381 }, 'top')], home);

  it('the thicker doubler closes the cap gap and spoils the chord gap out of view', () => {
    expect(finding(thicker.model, 'cap-gap', 'M5 front').value).toBeCloseTo(0.02, 2);
    expect(finding(thicker.model, 'chord-gap', 'M5').value).toBeCloseTo(-0.23, 2);
    expect(finding(shimmed.model, 'chord-gap', 'M5').value).toBeCloseTo(-0.05, 2);
    expect(finding(leave.model, 'cap-gap', 'M5 front').value).toBeCloseTo(0.38, 2);
  });

  it('doubler and shim first, then leaving it, the thicker doubler last', () => {
    expect([thicker, leave, shimmed].sort(betterFirst)).toEqual([shimmed, leave, thicker]);
    expect(thicker.tally.beyond).toBe(leave.tally.beyond + 1);
  });

  it('the thicker doubler on a rib 0.2 shorter is no worse than leaving it', () => {
    const cut = changed(home, (m) => {
      reading(m, 'M5.length').value -= 0.2;
    });
    const both = plan([resheet(cut, d5, 's032')], cut);
    expect(finding(both.model, 'chord-gap', 'M5').value).toBeCloseTo(-0.03, 2);
    expect(both.tally.beyond).toBe(leave.tally.beyond);
  });

  it('no plan offered takes the thicker doubler at M5, and the shim is among the offers for its gap', () => {
    for (const p of outcome.plans) expect(ids(p)).not.toContain('resheet:D5:s032');
    const offers = offersFor(home, finding(home, 'cap-gap', 'M5 front')).map((o) => o.remedy.id);
    expect(offers).toContain('shim:M5.front:top:shim15');
    expect(offers.indexOf('shim:M5.front:top:shim15')).toBeLessThan(offers.indexOf('resheet:D5:s032'));
  });
});

describe('panel A, items 2 and 9: M2', () => {
  const [M2, M3] = [mainRib(A, 'M2'), mainRib(A, 'M3')];

  it('re-making M2 alone ranks above the swap once the relief hole is seen, and the pilots it would lose', () => {
    const again = plan([remake(M2)]);
    const exchanged = plan([swap(A, M2, M3)]);
    expect(finding(exchanged.model, 'cap-gap', 'M3 front').value).toBeCloseTo(0.03, 2);
    expect(finding(exchanged.model, 'cap-gap', 'M2 front').value).toBeCloseTo(-0.07, 2);
    expect(finding(exchanged.model, 'relief', 'M2 front').value).toBeLessThan(0);
    expect(finding(again.model, 'relief', 'M2 front').value).toBeGreaterThan(0.5);
    expect(exchanged.tally.holesLost).toBe(12);
    expect(betterFirst(again, exchanged)).toBeLessThan(0);
  });

  it('what brings its cap gap between the limits is offered before what leaves it binding', () => {
    const offers = offersFor(A, finding(A, 'cap-gap', 'M2 front'));
    const level = (id: string): number => {
      const { after } = offers.find((o) => o.remedy.id === id)!;
      return levelOf(reachOf(after!.value, after!.limits));
    };
    // Item 2: clear height 84.30, doubler 2 × 0.635, so 83.03 is the highest that goes in; M2 is drawn 83.10: made again it still
    // binds, by 0.07, and 83.05 is what a hand makes that goes in. No hand presses a joggle by less than 0.3: then 0.28 is loose.
    expect([
      offers[0]!.remedy.id,
      level('fit:M2:front=83.05'),
      level('joggle:M2.front:0.3'),
      level('remake:M2'),
    ]).toEqual(['fit:M2:front=83.05', 0, 1, 1]);
    // Whatever is offered first, nothing that brings a place home and spoils none comes after something that does not.
    for (const rib of ['M3', 'M5', 'M7']) {
      const home = offersFor(A, finding(A, 'cap-gap', `${rib} front`)).map((o) => {
        const spoils = o.effect.changes.some(
          (c) =>
            c.after &&
            !c.after.echoOf &&
            levelOf(reachOf(c.after.value, c.after.limits)) === 2 &&
            !(c.before && levelOf(reachOf(c.before.value, c.before.limits)) === 2),
        );
        return !spoils && levelOf(reachOf(o.after!.value, o.after!.limits)) === 0;
      });
      expect(home, rib).toEqual([...home].sort((a, b) => Number(b) - Number(a)));
    }
  });

  it('every plan that leaves nothing at act makes M2 again and keeps it at S2', () => {
    for (const p of outcome.plans.filter((x) => x.tally.beyond === 0)) {
      expect(ids(p).some((id) => /^(remake|fit):M2/.test(id))).toBe(true);
      expect(rib(p.model, 'M2').station).toBe('S2');
    }
  });

  it('the best single exchange is M2 and M3; the best of all 720 placements never cures M5', () => {
    const mains = placementsOf(A).find((p) => p.kind === 'main')!;
    expect(mains.proven).toBe(true);
    expect(mains.swap!.remedies.map((r) => r.id)).toEqual(['swap:M2:M3']);
    expect(finding(mains.best!.model, 'cap-gap', 'M5 front').value).toBeCloseTo(0.38, 2);
    // Holes aside: those of a rib that is moved are lost, and one that was spoiled is not asked about any more.
    const beyond = (p: Plan): number =>
      checkAll(p.model).filter(
        (f) => f.check !== 'hole-cleanup' && levelOf(reachOf(f.value, f.limits)) === 2 && !f.echoOf,
      ).length;
    expect(beyond(mains.swap!)).toBe(beyond(mains.best!));
    // The shortest rib already stands at the lowest place: anywhere else it is looser still.
    for (const other of ['M2', 'M3', 'M4', 'M6', 'M7'])
      expect(
        finding(plan([swap(A, mainRib(A, 'M5'), mainRib(A, other))]).model, 'cap-gap', 'M5 front').value,
      ).toBeGreaterThanOrEqual(0.38 - 1e-9);
  });
});

describe('panel A, items 4 and 11: M6', () => {
  it('one new M6 is the single cure for its short length and its spoiled hole', () => {
    const again = plan([remake(mainRib(A, 'M6'))]);
    expect(finding(again.model, 'chord-gap', 'M6').value).toBeCloseTo(0.05, 2);
    expect(again.changes.find((c) => c.id === 'hole-cleanup:F6-hole-h2')!.after!.value).toBeGreaterThanOrEqual(0);
    expect(plan([]).tally.beyond - again.tally.beyond).toBeGreaterThanOrEqual(2);
    for (const p of outcome.plans.filter((x) => x.tally.beyond === 0))
      expect(ids(p).some((id) => /^(remake|fit):M6/.test(id))).toBe(true);
  });

  it('kept, M6 gets the flat packer of 0.032 in on the rear web, k +0.14, and its hole stays beyond cure', () => {
    const kept = named('Every rib kept as it is');
    expect(ids(kept)).toContain('flat:M6.rear:s032');
    expect(finding(kept.model, 'chord-gap', 'M6').value).toBeCloseTo(0.14, 2);
    expect(finding(kept.model, 'hole-cleanup', 'F6 hole h2').value).toBeLessThan(0);
  });
});

describe('panel A, item 7: the two nose plans', () => {
  it('plan 1: T8 shortened 0.9, N7 made 0.6 shorter, 0.032 in behind N4; kinks within 0.12', () => {
    const one = named('The straightest nose line');
    expect(ids(one)).toEqual(expect.arrayContaining(['trim:T8:0.9', 'shorter:N7:0.6', 'packer:N4.tail:s032']));
    expect(ids(one).filter((id) => /^(?:trim|shorter|packer|remake:[NT])/.test(id))).toHaveLength(3);
    expect(kinks(one.model)).toBeLessThanOrEqual(0.125);
  });

  it('plan 2: T8 kept, packers 0.032 behind N4, 0.020 behind N5, 0.025 behind N6; kinks within 0.26', () => {
    const two = named('The straightest nose line by packers alone');
    expect(
      ids(two)
        .filter((id) => /^(?:trim|shorter|packer|remake:[NT]|swap)/.test(id))
        .sort(),
    ).toEqual(['packer:N4.tail:s032', 'packer:N5.tail:s020', 'packer:N6.tail:s025']);
    expect(kinks(two.model)).toBeLessThanOrEqual(0.265);
  });

  it("N4's packer takes its stack out of the rivet's range, and the bag follows", () => {
    for (const p of [named('The straightest nose line'), named('The straightest nose line by packers alone')]) {
      expect(ids(p)).toContain('bag:F4:3.2004-4.7498');
      expect(finding(p.model, 'grip', 'F4').value).toBeCloseTo(0.139 * 25.4, 1);
    }
  });

  it('no plan packs or bends a nose for an echo: N5 is packed only where the line is made straight', () => {
    for (const p of outcome.plans)
      if (!p.name.startsWith('The straightest')) expect(ids(p).some((id) => id.includes(':N5'))).toBe(false);
  });
});

describe('panel A: what the search says of itself', () => {
  it('do nothing is last, every other plan proven, none beaten on every count', () => {
    expect(outcome.plans.at(-1)!.remedies).toEqual([]);
    expect(outcome.complete).toBe(true);
    for (const p of outcome.plans.slice(0, -1)) {
      expect(outcome.proofs.get(p.id)).toMatchObject({ proven: true });
      expect(outcome.proofs.get(p.id)!.found.work).toBe(p.tally.work);
    }
  });

  it('no plan puts a third piece in one stack or moves a drilled rib', () => {
    for (const p of outcome.plans) {
      const added = p.model.doublers
        .filter((d) => !A.doublers.some((e) => e.id === d.id) && d.on === 'web')
        .map((d) => `${d.part}.${d.end}`);
      for (const place of added) expect(added.filter((q) => q === place).length).toBeLessThanOrEqual(2);
      for (const r of A.ribs.filter((x) => x.kind === 'main')) expect(rib(p.model, r.id).station).toBe(r.station);
    }
  });

  it('can be stopped: then it says so and still answers with what it has', () => {
    let steps = 0;
    const stopped = finished(leastWork(A, { stop: () => ++steps > 5 }));
    expect(stopped.complete).toBe(false);
    expect(stopped.plans.map((p) => p.id)).toEqual(['nothing']);
  });
});
