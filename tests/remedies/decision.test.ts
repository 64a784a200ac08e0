import { describe, expect, test } from 'vitest';
import { conditionsFor, notedOn, noteText, settledByNote } from '../../src/checks/accepting.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import { evidenceOf } from '../../src/checks/evidence.ts';
import { gatesOf } from '../../src/drilling/gates.ts';
import { afterLast } from '../../src/model/acts.ts';
import { applyEdit, type Edit, measure } from '../../src/model/edits/edits.ts';
import { asDecided, madeIt, takenBack } from '../../src/model/edits/work.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import { writeModel } from '../../src/model/file/write.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { askedLater, leave, taken, takingOf } from '../../src/remedies/decision.ts';
import { madeToFit } from '../../src/remedies/offers/fit.ts';
import { packer } from '../../src/remedies/offers/packer.ts';
import { packsTaken } from '../../src/remedies/offers/packing.ts';
import { remake } from '../../src/remedies/offers/remake.ts';
import { shim } from '../../src/remedies/offers/shim.ts';
import { packing } from '../../src/truing/packing.ts';
import { putPacksIn } from '../../src/truing/putPacksIn.ts';
import { changed, finding, frozen, mainRib, panel, readAs } from '../model/panels.ts';

/* What may be accepted: trade conditions (common practice, no source). A note never changes a finding, and never opens a gate. */

const A = frozen(panel('narrow-tail'));
const done = (model: Model, edit: Edit): Model => {
  const next = applyEdit(model, edit);
  if (!next.ok) throw new Error(next.faults.map((f) => f.sentence).join(' '));
  return frozen(next.model);
};
const TOLD = 'worked out after packing: read it again';
/** The same with what was worked out taken as it would be read. */
const unworked = (m: object): object =>
  JSON.parse(JSON.stringify(m, (k, v) => (k === 'worked' || v === TOLD ? undefined : v)));

const SAID = { why: 'the drawing allows a packer there', asked: 'the designer, by letter: yes', date: '2026-06-20' };
const flat = packer(A, { rib: mainRib(A, 'M6'), end: 'rear', sheet: 's032' });

/** Every answer of the gates but whether the designer was asked. */
const besides = (m: Model): string[] =>
  gatesOf(m).flatMap((g) => g.items.filter((i) => i.name !== 'the designer has answered').map((i) => i.answer));

describe('packs put in', () => {
  const plan = packing(A)!;
  const m = done(A, packsTaken(A, plan, '2026-06-21'));

  test('leave what the plan alone leaves, and a line that says where they went and what it did to the twist', () => {
    const { decisions, ...rest } = asDecided(m);
    const { readings, ...alone } = putPacksIn(A, plan).apply(A);
    const sorted = (list: readonly { readonly size: string }[]): unknown[] =>
      [...list].sort((a, b) => (a.size < b.size ? -1 : 1));
    expect(unworked({ ...rest, readings: sorted(rest.readings) })).toEqual(
      unworked({ ...alone, readings: sorted(readings) }),
    );
    const put = plan.packs.filter((p) => p.total > 0);
    expect(decisions).toHaveLength(1);
    expect(decisions![0]!.places).toEqual(expect.arrayContaining(put.map((p) => p.station)));
    for (const p of put) expect(decisions![0]!.what).toContain(`under the ${plan.side} spar at ${p.station}`);
    expect(decisions![0]!.ask).toEqual([]);
    // What the plan said would be left, by heights.
    const last = put.at(-1)!.station;
    expect(decisions![0]!.lines.find((l) => l.finding === `twist:${last}-by-heights`)!.after!.value).toBeCloseTo(
      plan.after.twist.find((t) => t.station === last)!.value,
      9,
    );
  });
});

describe('a remedy taken', () => {
  const m = done(A, taken(takingOf([flat], ['chord-gap:M6']), SAID));

  test('is written down with why, whom, when and what it changed, in the same step', () => {
    const d = m.decisions![0]!;
    expect(d).toMatchObject({
      id: 'd1',
      kind: 'taken',
      what: flat.name,
      why: SAID.why,
      asked: SAID.asked,
      date: SAID.date,
      remedies: [flat.id],
      findings: ['chord-gap:M6'],
    });
    expect(d.ask[0]).toBe('the designer');
    // The finding it was taken for comes first. By hand: 0.95 - 0.032 in = 0.14.
    expect(d.lines[0]).toMatchObject({
      finding: 'chord-gap:M6',
      place: 'M6',
      check: 'chord-gap',
      before: { text: '0.95 mm, loose' },
      after: { text: '0.14 mm, loose' },
    });
    expect(d.lines[0]!.after!.value - d.lines[0]!.before!.value).toBeCloseTo(-0.032 * 25.4, 9);
  });

  test('decided, it changes nothing that is asked; the panel as decided is what the remedy alone makes', () => {
    const { decisions: _, ...rest } = m;
    expect(rest).toEqual({ ...A });
    expect(checkAll(m).map((f) => [f.id, f.value, f.verdict])).toEqual(
      checkAll(A).map((f) => [f.id, f.value, f.verdict]),
    );
    const { decisions: __, ...whole } = asDecided(m);
    expect(unworked(whole)).toEqual({ ...flat.edit.apply(A) });
  });

  test('made, it is there, what it moved is worked out and no longer read, and the act is numbered', () => {
    const made = done(m, madeIt('d1', { by: 'AB', date: '2026-06-08' }));
    const alone = flat.edit.apply(A);
    expect(made.doublers).toEqual(alone.doublers);
    expect(made.acts).toMatchObject([{ n: 1, by: 'AB', date: '2026-06-08', decision: 'd1' }]);
    expect(made.decisions![0]).toMatchObject({ made: { by: 'AB', date: '2026-06-08', act: 1 } });
    expect(made.decisions![0]!.does).toBeUndefined();
    // By hand: 264 - 2 × 0.8128 - 0.635 - 261.6.
    expect(finding(made, 'chord-gap', 'M6').value).toBeCloseTo(0.1394, 9);
    const skeleton = skeletonOf(made);
    expect(evidenceOf(skeleton, finding(made, 'chord-gap', 'M6'))).toMatchObject({ basis: 'predicted' });
    const felt = done(made, measure(made, 'chord.M6', [0.14], { instrument: 'feeler', ...afterLast(made) }));
    expect(evidenceOf(skeletonOf(felt), finding(felt, 'chord-gap', 'M6'))).toMatchObject({ basis: 'measured' });
    // Another gap that nothing moved rests on what it rested on.
    expect(evidenceOf(skeleton, finding(made, 'chord-gap', 'M3')).basis).toBe(
      evidenceOf(skeletonOf(A), finding(A, 'chord-gap', 'M3')).basis,
    );
  });

  test('decided, it can be taken back, and nothing of it is left; made, it stays', () => {
    expect(done(m, takenBack('d1'))).toEqual({ ...A, decisions: [] });
    const made = done(m, madeIt('d1', { by: 'AB', date: '' }));
    expect(done(made, takenBack('d1'))).toEqual(made);
  });

  test('comes back from the file', () => {
    const read = parseModel(writeModel(m));
    expect(read.ok && read.model).toEqual(m);
  });

  test('a second gets a name of its own, and who was asked can be written in later', () => {
    const two = done(
      m,
      taken(takingOf([shim(m, { rib: mainRib(m, 'M5'), end: 'front', thickness: 0.508 }, 'top')], [], 'shim it'), {
        ...SAID,
        asked: '',
      }),
    );
    expect(two.decisions!.map((d) => d.id)).toEqual(['d1', 'd2']);
    expect(two.decisions![1]!.what).toBe('shim it: shim of 0.020 in at the top cap, M5 front');
    expect(done(two, askedLater('d2', 'the inspector')).decisions![1]!.asked).toBe('the inspector');
  });

  test('text too long for the file is refused with its path', () => {
    const tried = applyEdit(A, taken(takingOf([flat], []), { ...SAID, why: 'x'.repeat(501) }));
    expect(tried.ok).toBe(false);
    expect(!tried.ok && tried.faults[0]!.path).toContain('decisions');
  });
});

describe('accepting with a note', () => {
  // M3's front end: 0.28 loose, watch; the relief and holes of M3 are not worse than watch, no bracket sits at S3.
  const sure = frozen(
    changed(A, (m) => {
      m.readings = m.readings.filter(
        (r) => !r.size.startsWith('F3/') && r.size !== 'webs@S3' && !/^D\d\.radius$/.test(r.size),
      );
      m.doublers = m.doublers.map((d) => ({ ...d, radius: 2.5 }));
      for (const n of [2, 3, 4]) readAs(m, `N${n}.length`, 121, 'caliper');
      for (const r of m.readings) if (/^(M3|N[234])\.length$/.test(r.size)) r.instrument = 'caliper';
      m.readings.push({ size: 'webs@S3', value: 264.1, instrument: 'stick' });
      // Every rib felt between the webs, as its parts say: whether the spar rests on M3 is then sure.
      for (const g of checkAll(A).filter((x) => x.check === 'chord-gap'))
        m.readings.push({ size: `chord.${g.at.part}`, value: g.value, instrument: 'feeler' });
    }),
  );
  const f = finding(sure, 'cap-gap', 'M3 front');

  test('every condition of the trade is asked; two are the builder’s to see', () => {
    const all = conditionsFor(sure, f);
    expect(all).toHaveLength(7);
    expect(all.filter((c) => c.holds === undefined)).toHaveLength(2);
    expect(all.filter((c) => c.holds === false).map((c) => c.against)).toEqual([]);
  });

  test('it counts as decided only when all hold and the builder has seen it, and the finding stays as it is', () => {
    const m = done(sure, leave(sure, f, { why: 'closes by finger', asked: '', date: '2026-06-20' }, true));
    const now = finding(m, 'cap-gap', 'M3 front');
    expect(now.verdict).toBe(f.verdict);
    expect(now.sentence).toBe(f.sentence);
    expect(settledByNote(m, now)).toBe(true);
    expect(noteText(notedOn(m, now)!)).toBe('Accepted on 2026-06-20: closes by finger.');
    const unseen = done(sure, leave(sure, f, { why: 'closes by finger', asked: '', date: '' }, false));
    expect(unseen.decisions![0]!.kind).toBe('left-open');
    expect(settledByNote(unseen, f)).toBe(false);
  });

  test('a note on something at act is left open, whatever was seen, and the gate says no all the same', () => {
    const bind = finding(A, 'cap-gap', 'M2 front');
    const m = done(A, leave(A, bind, { why: 'waiting for the designer', asked: '', date: '' }, true));
    expect(m.decisions![0]!.kind).toBe('left-open');
    const item = (x: Model) => gatesOf(x)[0].items.find((i) => i.name === 'the parts go together')!;
    expect(item(A).answer).toBe('no');
    expect(item(m).answer).toBe('no');
    expect(item(m).first).toBe(item(A).first);
    expect(besides(m)).toEqual(besides(A));
  });

  test('no gate answer changes for any note on any finding, but that the designer is now to be asked', () => {
    const before = besides(sure);
    for (const one of checkAll(sure)
      .filter((x) => x.verdict !== 'fits')
      .slice(0, 25))
      expect(besides(done(sure, leave(sure, one, { why: 'so be it', asked: '', date: '' }, true))), one.id).toEqual(
        before,
      );
  });

  test('once the place has moved by more than its doubt, it must be decided again', () => {
    const m = done(sure, leave(sure, f, { why: 'closes by finger', asked: '', date: '' }, true));
    const worse = frozen(changed(m, (x) => readAs(x, 'M3.front.height', 82.7, 'caliper')));
    const now = finding(worse, 'cap-gap', 'M3 front');
    expect(notedOn(worse, now)!.stands).toBe(false);
    expect(settledByNote(worse, now)).toBe(false);
    expect(noteText(notedOn(worse, now)!)).toContain('decide again');
  });
});

test('a part made again carries the doubt of that work, whichever way it is made', () => {
  const m2 = mainRib(A, 'M2');
  for (const remedy of [remake(m2), madeToFit(A, m2, ['front'])]) {
    if (!remedy) throw new Error('M2 can be made to fit');
    const decided = done(A, taken(takingOf([remedy], []), { why: '', asked: '', date: '2026-01-02' }));
    const moves = decided.decisions?.at(-1)?.does?.moves ?? [];
    expect(moves.length, remedy.id).toBeGreaterThan(0);
    // One standard uncertainty of a part made again, mm: picked.
    expect(Math.max(...moves.map((x) => x.u ?? 0)), remedy.id).toBeCloseTo(0.3, 9);
  }
});
