import { useState, useTransition } from 'react';
import { show } from '../../checks/describe.ts';
import { doneByHand, openDecisions } from '../../model/edits/work.ts';
import type { Model } from '../../model/schema.ts';
import { packsTaken } from '../../remedies/offers/packing.ts';
import { continuousPacks } from '../../truing/attitude.ts';
import { packing } from '../../truing/packing.ts';
import type { PackingPlan } from '../../truing/packingPlan.ts';
import { ribStances } from '../../truing/stance.ts';
import { type TruingList, truingList } from '../../truing/truing.ts';
import { SheetButton } from '../paper/SheetView.tsx';
import { useMoreToCome } from '../state/atRest.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { ToMake } from '../widgets/ToMake.tsx';
import './packing.css';

/** The packing plan as asked for, kept until the panel changes. */
export function usePacking(): { plan: PackingPlan | null | undefined; busy: boolean; ask: () => void } {
  const model = useApp((s) => s.model);
  const [found, setFound] = useState<{ readonly of: Model; readonly plan: PackingPlan | null }>();
  const [busy, start] = useTransition();
  useMoreToCome(busy);
  const ask = (): void =>
    start(() => {
      const of = useApp.getState().model;
      setFound({ of, plan: packing(of) ?? null });
    });
  return { plan: found?.of === model ? found.plan : undefined, busy, ask };
}

/** Packs that are decided and not in yet. */
function PacksDecided() {
  const model = useApp((s) => s.model);
  const [open] = openDecisions(model).filter((d) => d.does?.set.stock !== undefined);
  if (!open) return null;
  return (
    <section className="packing" aria-label="Packs decided">
      <p>{open.what}: decided, not in yet.</p>
      <ToMake decision={open} made="The packs are in" />
    </section>
  );
}

/** How much goes under a block, mm; undefined where there is no block. */
function Pack({ total }: { total: number | undefined }) {
  const model = useApp((s) => s.model);
  if (total === undefined) return 'no block';
  return total > 0 ? <b>{show(model, total)}</b> : 'none';
}

/** Which packs under which block take the twist out, what the stand will read then, and what is left. */
export function Packing({ plan, busy, ask }: ReturnType<typeof usePacking>) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  if (!continuousPacks(model, 'front'))
    return (
      <p className="small">
        Packs: read the heights of both spars over the bench, and name the jig blocks, to know where they go.
      </p>
    );
  if (plan === undefined)
    return (
      <>
        <PacksDecided />
        <button type="button" className="take" aria-disabled={busy} onClick={() => !busy && ask()}>
          {busy ? 'Trying the packs…' : 'Where do the packs go?'}
        </button>
      </>
    );
  if (plan === null) return null;
  return (
    <section className="packing" aria-label="Packing plan">
      <h2>Packing plan</h2>
      {plan.sentences.map((s) => (
        <p key={s}>{s}</p>
      ))}
      <table>
        <thead>
          <tr>
            <th>station</th>
            <th>pack, {plan.side}</th>
            <th>front will read</th>
            <th>rear will read</th>
            <th>twist left</th>
          </tr>
        </thead>
        <tbody>
          {plan.after.heights.map((h) => {
            const pack = plan.packs.find((p) => p.station === h.station);
            const twist = plan.after.twist.find((t) => t.station === h.station);
            return (
              <tr key={h.station}>
                <td>{h.station}</td>
                <td>
                  <Pack total={pack?.total} />
                </td>
                <td className="one-line">{show(model, h.front)}</td>
                <td className="one-line">{show(model, h.rear)}</td>
                <td className="one-line">{twist ? show(model, twist.value, 'deg') : ''}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <SheetButton sheet="packing-plan">Print this plan</SheetButton>
      {plan.packs.some((p) => p.total > 0) && (
        <>
          <button type="button" className="take" onClick={() => edit(packsTaken(model, plan, today()))}>
            Decide on these packs
          </button>
          <p className="small">
            Nothing counts as packed yet: put them in, then tick it. What the packs moved is worked out until you read
            it again.
          </p>
        </>
      )}
    </section>
  );
}

/** How surely a rib stands where the square was held to it, mm: as a rafter square reads. */
const SQUARED = 0.15;

/** "I squared the ribs": which holes and sight lines moved, with their verdict before and after; taken as one step. */
export function Truing() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [found, setFound] = useState<{ readonly of: Model; readonly list: TruingList }>();
  const list = found?.of === model ? found.list : undefined;
  const stances = ribStances(model).filter((s) => s.lean !== 0 || s.skew !== 0);
  if (stances.length === 0) return null;
  const names = stances.map((s) => s.station).join(', ');
  const square = stances.map(({ station }) => ({ station, lean: 0, skew: 0 }));
  if (!list)
    return (
      <button
        type="button"
        className="take"
        onClick={() => setFound({ of: model, list: truingList(model, ribStances(model), square) })}
      >
        I squared {names}: what moved?
      </button>
    );
  return (
    <section className="packing" aria-label="After squaring">
      <h2>After squaring {names}</h2>
      {list.moved.length === 0 && <p>No hole and no sight line moved.</p>}
      <ul>
        {list.moved.map((m) => (
          <li key={m.what + m.place}>{m.changed ? <b>{m.sentence}</b> : m.sentence}</li>
        ))}
      </ul>
      <button
        type="button"
        className="take"
        onClick={() =>
          edit(doneByHand(list.model, { kind: 'squared', what: `squared ${names}`, date: today(), by: '' }, SQUARED))
        }
      >
        It is done: take it
      </button>
    </section>
  );
}
