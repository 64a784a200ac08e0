import { askHoles, drillText, type HoleAnswer, type HoleState } from '../../checks/drill.ts';
import { show } from '../../checks/describe.ts';
import { type Gate, gatesOf } from '../../checks/gates.ts';
import type { Joint, Model } from '../../model/schema.ts';
import { bagList } from '../../checks/rivets.ts';
import { drilled, layRow } from '../../model/rows.ts';
import { type Bay, skeletonOf } from '../../parts/skeleton.ts';
import { exactLength, formatPercent, parseLength } from '../../units.ts';
import { useState } from 'react';
import { useApp } from '../store.ts';
import { HoleKey, HolePicture, HoleSymbol } from './HolePicture.tsx';

const WORD: Record<HoleState, string> = { now: 'drill now', 'not yet': 'not yet', never: 'never at this size', done: 'done' };
const ORDER: readonly HoleState[] = ['never', 'now', 'not yet', 'done'];
const GATE_MARK = { yes: '✓', no: '✕', unsettled: '?' } as const;

/** The drill question's answer: how many holes now, not yet, never, and the one that is in trouble. */
export function holesHeadline(model: Model): string {
  const answers = askHoles(skeletonOf(model));
  if (answers.length === 0) return 'No holes are laid out yet.';
  const n = (s: HoleState): number => answers.filter((a) => a.state === s).length;
  const said = ORDER.filter((s) => s !== 'never' && n(s) > 0).map((s) => `${n(s)} ${s === 'now' ? 'may be drilled now' : WORD[s]}`);
  const trouble = answers.find((a) => a.state === 'never') ?? answers.find((a) => /no step is left/.test(a.why));
  return `${said.join(', ')}.${trouble ? ` ${trouble.joint.id} ${trouble.hole.id} ${trouble.state === 'never' ? 'must not be drilled at this size' : 'is in doubt, and no step is left'}.` : ''}`;
}

/** The three gates: yes, no or unsettled, with the first thing to do for each item that is not yes. */
export function Gates() {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  return (
    <div className="gates">
      {gatesOf(model).map((g: Gate) => (
        <details key={g.id} className={`gate ${g.answer}`}>
          <summary><b>{g.question}</b> <span className="gate-answer">{GATE_MARK[g.answer]} {g.answer}</span></summary>
          <ul>
            {g.items.map((i) => (
              <li key={i.name}>
                <span className="gate-mark" aria-hidden="true">{GATE_MARK[i.answer]}</span>
                <span><b>{i.answer}</b>: {i.name}{i.first && <>. {i.finding ? <button type="button" className="chip wrap" onClick={() => choose(i.finding!.station, i.finding!.id)}>{i.first}</button> : i.first}</>}{i.note && <small className="gate-note"> {i.note}</small>}</span>
              </li>
            ))}
          </ul>
        </details>
      ))}
    </div>
  );
}

/** All holes along the span in a strip: front row above, rear row below. */
export function HoleStrip() {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  const skeleton = skeletonOf(model);
  const answers = askHoles(skeleton);
  if (answers.length === 0) return null;
  const [y0, y1] = [skeleton.bays[0]!.station.y, skeleton.bays[skeleton.bays.length - 1]!.station.y];
  const W = 392;
  const many = skeleton.bays.length > 16;
  const r = many ? 2.4 : 5;
  const at = new Map(skeleton.bays.map((b) => [b.station.id, b.station.y]));
  const X = (id: string): number => 16 + (((at.get(id) ?? 0) - y0) / Math.max(1, y1 - y0)) * (W - 32);
  const spot = (a: HoleAnswer): readonly [number, number] => {
    const peers = skeleton.jointsAt(a.joint.station).filter((j) => j.end === a.joint.end).flatMap((j) => j.holes.map((h) => `${j.id}/${h.id}`));
    return [X(a.joint.station), (a.joint.end === 'front' ? 14 : 84) + peers.indexOf(a.id) * (2 * r + 2)];
  };
  const counts = ORDER.map((s) => [s, answers.filter((a) => a.state === s).length] as const).filter(([, n]) => n > 0);
  return (
    <figure>
      <figcaption className="hole-counts">{counts.map(([s, n]) => <span key={s}><svg width="14" height="14" aria-hidden="true"><HoleSymbol state={s} x={7} y={7} r={5} /></svg> {n} {WORD[s]}</span>)}</figcaption>
      <svg className="picture" viewBox={`0 0 ${W} 150`} role="img" aria-label={counts.map(([s, n]) => `${n} ${WORD[s]}`).join(', ')}>
        <text x="2" y="10" className="tiny">front</text>
        <text x="2" y="80" className="tiny">rear</text>
        {answers.map((a) => {
          const [x, y] = spot(a);
          return <g key={a.id} className="pick" onClick={() => choose(a.joint.station)}><title>{`${a.joint.id} ${a.hole.id}: ${WORD[a.state]}. ${a.why}`}</title><HoleSymbol state={a.state} x={x} y={y} r={r} /></g>;
        })}
      </svg>
    </figure>
  );
}

/** Records what was just drilled: the pilot in the layers that lack it, or final through all of them. */
function MarkDrilled({ answer }: { answer: HoleAnswer }) {
  const edit = useApp((s) => s.edit);
  const { joint, hole } = answer;
  const pilot = answer.how === 'pilot';
  const lacking = joint.layers.filter((part) => (pilot ? !hole.layers.some((l) => l.part === part && l.state !== 'none') : true));
  const mark = () => {
    for (const part of lacking) edit(drilled(joint, hole.id, part, pilot ? 'pilot' : 'final'));
  };
  return <button type="button" className="take" onClick={mark}>{pilot ? `Pilot drilled in ${lacking.join(', ')}` : 'Opened to final in every layer'}</button>;
}

/** Lays the row of a joint out by count and pitch, while nothing is drilled in it. */
function RowForm({ joint }: { joint: Joint }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [count, setCount] = useState('3');
  const [pitch, setPitch] = useState(exactLength(5 * joint.rivet.diameter, model.units));
  const read = parseLength(pitch, model.units);
  const n = Number(count);
  const rule = read.ok && Number.isInteger(n) && n > 0 && n <= 60 ? layRow(joint, { count: n, pitch: read.value, along: 0 }) : null;
  if (joint.holes.some((h) => h.layers.some((l) => l.state !== 'none'))) return null;
  return (
    <form className="row-form" onSubmit={(e) => { e.preventDefault(); if (rule) edit(rule); }}>
      <label>Holes <input value={count} inputMode="numeric" size={3} onChange={(e) => setCount(e.target.value)} /></label>
      <label>pitch <input value={pitch} size={8} onChange={(e) => setPitch(e.target.value)} /></label>
      <button type="submit" className="take" disabled={!rule}>Lay the row out</button>
      <output className="echo">{read.ok ? `${(read.value / joint.rivet.diameter).toFixed(1)} D apart` : read.sentence}</output>
    </form>
  );
}

/** Which rivet in which hole, joint by joint; what the packers changed comes first. */
export function Bags() {
  const model = useApp((s) => s.model);
  const bags = bagList(skeletonOf(model));
  if (bags.length === 0) return null;
  const sorted = [...bags].sort((a, b) => Number(b.changed) - Number(a.changed));
  return (
    <details className="bags">
      <summary>Rivet bags{bags.some((b) => b.changed) ? `, ${bags.filter((b) => b.changed).length} changed` : ''}</summary>
      <ul className="hole-key">{sorted.map((b) => <li key={b.joint.id}>{b.changed ? <b>{b.joint.id}: {b.count} of {b.take}</b> : <>{b.joint.id}: {b.count} of {b.take}</>}, grip {show(model, b.grip)}</li>)}</ul>
      <p className="small">Commercial blind rivets are not approved on certificated structure (AC 43.13-1B, 4-57f(9)).</p>
    </details>
  );
}

function HoleRow({ answer, one = true }: { answer: HoleAnswer; one?: boolean }) {
  const model = useApp((s) => s.model);
  const { joint, need } = answer;
  const chance = (p: number | undefined): string => (p === undefined ? '' : `, ${formatPercent(p)} likely`);
  return (
    <li className="hole-row">
      <p><svg width="18" height="18" aria-hidden="true"><HoleSymbol state={answer.state} x={9} y={9} r={7} /></svg> <b>{joint.id} {answer.hole.id}: {WORD[answer.state]}</b>. {answer.why[0]?.toUpperCase()}{answer.why.slice(1)}.</p>
      {one && answer.state === 'now' && <MarkDrilled answer={answer} />}
      {need && answer.bestMargin !== undefined && answer.bestMargin < 0.35 && (
        <div className="hole-detail">
          <HolePicture answer={answer} />
          <div>
            <HoleKey answer={answer} />
            <p className="small">Following {joint.guide}: {drillText(need.following)}, margin {show(model, answer.followMargin!)}{chance(answer.followChance)}. Best axis: {drillText(need.bestAxis)}, margin {show(model, answer.bestMargin)}{chance(answer.bestChance)}.</p>
          </div>
        </div>
      )}
    </li>
  );
}

function Edges({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const { joint } = answer;
  if (answer.edges.length === 0) return null;
  const far = (d: number): string => `${d.toFixed(2)} D${d < 2 ? ', too near' : ''}`;
  return <p className="small">Edges at {joint.id}: {answer.edges.map((e) => `${e.part} ${show(model, e.mm)}, ${far(e.final)} at ${drillText(joint.final)}${e.next === undefined ? '' : `, ${far(e.next)} at the next size`}`).join('; ')}.</p>;
}

/** The holes of a station, joint by joint: what may be drilled now, what not yet, what never, and why. */
export function StationHoles({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const skeleton = skeletonOf(model);
  const answers = askHoles(skeleton).filter((a) => a.joint.station === bay.station.id);
  const joints = skeleton.jointsAt(bay.station.id);
  if (joints.length === 0) return <p className="lead">No holes are laid out at {bay.station.id}.</p>;
  return (
    <>
      {joints.map((j) => {
        const own = answers.filter((a) => a.joint === j).sort((a, b) => ORDER.indexOf(a.state) - ORDER.indexOf(b.state));
        const same = own.length > 1 && own[0]!.state !== 'now' && own.every((a) => a.why === own[0]!.why);
        return (
          <section key={j.id} className="joint">
            <h2>{j.id} <small>{j.layers.join(' / ')}, guided by {j.guide}</small></h2>
            <ul className="groups">{same ? <HoleRow key={own[0]!.id} one={own.length === 1} answer={{ ...own[0]!, hole: { ...own[0]!.hole, id: own.map((a) => a.hole.id).join(', ') } }} /> : own.map((a) => <HoleRow key={a.id} answer={a} />)}</ul>
            {own[0] && <Edges answer={own[0]} />}
            <RowForm joint={j} />
          </section>
        );
      })}
    </>
  );
}
