import { type FormEvent, useState } from 'react';
import { show } from '../../checks/describe.ts';
import { alongAt } from '../../model/along.ts';
import { layRow, type RowRule, rowOfCount, rowOfPitch } from '../../model/edits/rows.ts';
import type { Joint, Model } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { parseLength } from '../../units/read.ts';
import { exactLength } from '../../units.ts';
import { useApp } from '../state/store.ts';

/** Holes a row may have at most. */
const MOST_HOLES = 60;

/** The length a joint's row may take, mm: the tab or web between its bends, or the stretch of cap from bay to bay. */
function lengthFor(skeleton: Skeleton, joint: Joint, bay: Bay): number {
  const { model, bays } = skeleton;
  const place = skeleton.placesAt(joint.station).find((p) => p.spar === joint.end && joint.layers.includes(p.rib.id));
  if (joint.on === 'top' || joint.on === 'bottom') {
    if (place) return place.rib.flange;
    const next = bays[bay.index + 1] ?? bays[bay.index - 1];
    return next ? Math.abs(next.station.y - bay.station.y) : 0;
  }
  const spar = model.spars[joint.end] ?? model.spars.front;
  const bend = spar.radius + (model.sheets.find((s) => s.id === spar.sheet)?.thickness ?? 0);
  return Math.min(place?.spec.height ?? Number.POSITIVE_INFINITY, alongAt(spar.depth, bay.station.y)) - 2 * bend;
}

type Way = 'pitch' | 'count';

interface Typed {
  readonly way: Way;
  readonly edge: string;
  readonly pitch: string;
  readonly count: string;
}

/** The row that was typed, or why there is none. */
type Asked = { readonly rule: RowRule } | { readonly why: string };

const laidOr = (rule: RowRule | null, why: string): Asked => (rule ? { rule } : { why });

function asked(typed: Typed, model: Model, length: number): Asked {
  const edge = parseLength(typed.edge, model.units);
  if (!edge.ok) return { why: edge.sentence };
  const row = { length, edge: edge.value };
  const noRoom = `no room in ${show(model, length)}`;
  if (typed.way === 'count') {
    const count = Number(typed.count);
    const countable = Number.isInteger(count) && count > 0 && count <= MOST_HOLES;
    return laidOr(countable ? rowOfCount(row, count) : null, noRoom);
  }
  const pitch = parseLength(typed.pitch, model.units);
  if (!pitch.ok) return { why: pitch.sentence };
  return laidOr(pitch.value > 0 ? rowOfPitch(row, pitch.value) : null, noRoom);
}

/** `5 holes, 20.00 mm apart, 6.3 D`. */
function ruleWords(rule: RowRule, model: Model, joint: Joint): string {
  if (rule.count === 1) return '1 hole';
  return `${rule.count} holes, ${show(model, rule.pitch)} apart, ${(rule.pitch / joint.rivet.diameter).toFixed(1)} D`;
}

function Field({ name, value, size, onType }: { name: string; value: string; size: number; onType(v: string): void }) {
  return (
    <label>
      {name} <input value={value} size={size} onChange={(e) => onType(e.target.value)} />
    </label>
  );
}

interface Props {
  readonly skeleton: Skeleton;
  readonly joint: Joint;
  readonly bay: Bay;
}

/**
 * Lays the row of a joint out from the edge distance kept at its ends, by pitch or by count, while nothing is drilled
 * in it.
 */
export function RowForm({ skeleton, joint, bay }: Props) {
  const { model } = skeleton;
  const edit = useApp((s) => s.edit);
  const usual = (diameters: number): string => exactLength(diameters * joint.rivet.diameter, model.units);
  const [typed, setTyped] = useState<Typed>(() => ({ way: 'pitch', edge: usual(2.5), pitch: usual(5), count: '3' }));
  if (joint.holes.some((h) => h.layers.some((l) => l.state !== 'none'))) return null;
  const type = (part: Partial<Typed>): void => setTyped({ ...typed, ...part });
  const answer = asked(typed, model, lengthFor(skeleton, joint, bay));
  const laid = 'rule' in answer ? layRow(joint, answer.rule) : null;
  const submit = (e: FormEvent): void => {
    e.preventDefault();
    if (laid) edit(laid);
  };
  return (
    <form className="row-form" onSubmit={submit}>
      <Field name="edge at both ends" value={typed.edge} size={8} onType={(edge) => type({ edge })} />
      <label>
        by{' '}
        <select value={typed.way} onChange={(e) => type({ way: e.target.value as Way })}>
          <option value="pitch">pitch</option>
          <option value="count">count</option>
        </select>
      </label>
      {typed.way === 'pitch' ? (
        <Field name="pitch" value={typed.pitch} size={8} onType={(pitch) => type({ pitch })} />
      ) : (
        <Field name="holes" value={typed.count} size={3} onType={(count) => type({ count })} />
      )}
      <button type="submit" className="take" disabled={!laid}>
        Lay the row out
      </button>
      <output className="echo">{'rule' in answer ? ruleWords(answer.rule, model, joint) : answer.why}</output>
    </form>
  );
}
