import { show } from '../../checks/describe.ts';
import { leastPitch, rowToRow } from '../../checks/holes/edges.ts';
import { drillText, neededText } from '../../checks/holes/nextSize.ts';
import { stanceAt } from '../../checks/holes/offsets.ts';
import { namesOf, tonight } from '../../drilling/hold.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { drilledThrough } from '../../model/edits/rows.ts';
import { limitFor } from '../../model/limits.ts';
import type { Joint, Model } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatPercent } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { HoleSymbol, holeLook, LOOKS, lookWord } from '../widgets/HoleSymbol.tsx';
import { EdgePicture, HoleKey, HolePicture } from './HolePicture.tsx';
import { RowLooked, StationLooked } from './Looked.tsx';
import { CapRows, RowForm } from './RowForm.tsx';
import { holesShown, useHoles } from './useHoles.ts';

/** The drill question's answer: which holes to leave alone tonight; or, looking ahead, as of that stage and on what condition. */
export function holesHeadline(model: Model, ahead: string | null): string {
  const { answers, present, at, back } = holesShown(model, ahead);
  if (present) return tonight(answers).headline;
  const { headline } = tonight(answers, 'then');
  return `At stage ${at + 1}, ${back ? 'with the holes as they are now' : 'if all before it goes as planned'}: ${headline.charAt(0).toLowerCase()}${headline.slice(1)}`;
}

/** How the rib stands now, to be kept with its first pilots: squaring it afterwards moves them. */
function stood(model: Model, joint: Joint): Joint['stood'] {
  const { lean, height, skew } = stanceAt(skeletonOf(model), joint.station);
  return lean || skew ? { lean: lean ? (100 * lean.best) / height : 0, skew: skew?.best ?? 0 } : undefined;
}

/** Records what was just drilled: the pilot in the layers that lack it, through the guide or apart, or final through all. */
function MarkDrilled({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const { joint, hole, layers } = answer;
  if (answer.how !== 'pilot')
    return (
      <button
        type="button"
        className="take"
        onClick={() => edit(drilledThrough(joint, hole.id, { parts: joint.layers, state: 'final' }))}
      >
        Opened to final in every layer
      </button>
    );
  const lacking = layers.filter((l) => l.state === 'none').map((l) => l.part);
  const mark = (apart: boolean) =>
    edit(drilledThrough(joint, hole.id, { parts: lacking, state: 'pilot', apart, stood: stood(model, joint) }));
  return (
    <p className="drill-did">
      <button type="button" className="take" onClick={() => mark(false)}>
        Pilot drilled in {lacking.join(', ')}
      </button>{' '}
      <button type="button" className="quiet" onClick={() => mark(true)}>
        marked and drilled apart
      </button>
    </p>
  );
}

/** Needed drill both ways, with its margin and chance. */
function Needs({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const { joint, need, followMargin, bestMargin, followChance, bestChance, next } = answer;
  if (
    !need ||
    followMargin === undefined ||
    bestMargin === undefined ||
    followChance === undefined ||
    bestChance === undefined
  )
    return null;
  return (
    <table className="drill-needs">
      <thead>
        <tr>
          <th>final {drillText(joint.final)}</th>
          <th>needs</th>
          <th>margin</th>
          <th>cleans up</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th>following {joint.guide}</th>
          <td>{neededText(need.following)}</td>
          <td>{show(model, followMargin)}</td>
          <td>{formatPercent(followChance)}</td>
        </tr>
        <tr>
          <th>midway, best axis</th>
          <td>{neededText(need.bestAxis)}</td>
          <td>{show(model, bestMargin)}</td>
          <td>{formatPercent(bestChance)}</td>
        </tr>
        {next && (
          <tr>
            <th>next size</th>
            <td colSpan={3}>
              {next.ok
                ? `${drillText(next.drill)} is left: edges and pitch hold, ${next.grams.toFixed(2)} g more a rivet${next.note ? `; ${next.note}` : ''}; ask the designer`
                : `no larger size is left: ${next.why}`}
            </td>
          </tr>
        )}
      </tbody>
    </table>
  );
}

function HoleRow({ answer, names, one = true }: { answer: HoleAnswer; names: string; one?: boolean }) {
  const { present } = useHoles();
  const { joint, need } = answer;
  const look = holeLook(answer);
  const close =
    look === 'doubt' ||
    look === 'never' ||
    (need !== undefined && answer.bestMargin !== undefined && answer.bestMargin < 0.35);
  const detail = (
    <>
      <div className="hole-detail">
        <HolePicture answer={answer} />
        <HoleKey answer={answer} />
      </div>
      <Needs answer={answer} />
      <EdgePicture answer={answer} />
    </>
  );
  return (
    <li className="hole-row">
      <p>
        <svg width="22" height="22" aria-hidden="true">
          <HoleSymbol look={look} x={11} y={11} r={8} />
        </svg>{' '}
        <b>
          {joint.id} {names}: {lookWord(look, present)}
        </b>
        . {answer.why[0]?.toUpperCase()}
        {answer.why.slice(1)}.
      </p>
      {present && one && answer.state === 'now' && <MarkDrilled answer={answer} />}
      {close ? (
        detail
      ) : (
        <details className="drill-more">
          <summary>{answer.circles.length > 0 ? 'Circles, margins and edges' : 'Edges'}</summary>
          {detail}
        </details>
      )}
    </li>
  );
}

/** Edge, pitch, row and bend figures of a joint, each beside its limit. */
function Rooms({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const { joint, edges } = answer;
  const d = joint.rivet.diameter;
  const [pitch, rows] = [leastPitch(joint), rowToRow(joint)];
  const edge = edges.length > 0 ? edges.reduce((a, b) => (b.final < a.final ? b : a)) : undefined;
  const bends = edges.flatMap((e) => (e.bend === undefined ? [] : [{ part: e.part, bend: e.bend }]));
  const bend = bends.length > 0 ? bends.reduce((a, b) => (b.bend < a.bend ? b : a)) : undefined;
  const line = (name: string, text: string, ok: boolean, limit: string, key: string) => (
    <tr key={key} className={ok ? '' : 'short'}>
      <th>{name}</th>
      <td>
        {text}
        {!ok && ', too near'}
      </td>
      <td>{limit}</td>
    </tr>
  );
  return (
    <table className="drill-needs">
      <tbody>
        {edge &&
          line(
            `edge of ${edge.part}`,
            `${show(model, edge.atAxis)}, ${edge.final.toFixed(2)} D${edge.next === undefined ? '' : `; next size ${edge.next.toFixed(2)} D`}`,
            edge.final >= 2 - 1e-9,
            `at least 2 D; lay out at 2.5 D`,
            'edge',
          )}
        {Number.isFinite(pitch) &&
          line(
            'hole to hole',
            `${show(model, pitch)}, ${(pitch / d).toFixed(2)} D`,
            pitch >= 3 * d - 1e-9,
            '4 to 8 D, never under 3 D',
            'pitch',
          )}
        {rows !== undefined &&
          line(
            'row to row',
            `${show(model, rows)}, ${(rows / d).toFixed(2)} D`,
            rows >= 2.5 * d - 1e-9,
            'at least 2.5 D',
            'rows',
          )}
        {bend &&
          line(
            `bend of ${bend.part} to the head`,
            show(model, bend.bend),
            bend.bend >= 0,
            'the head must lie flat',
            'bend',
          )}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={3}>
            {[
              ...new Set(
                ['edge-distance', 'pitch', ...(rows === undefined ? [] : ['rows'])].map(
                  (c) => limitFor(model, c).origin,
                ),
              ),
            ].join('. ')}
            .
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

/** The holes of a station, joint by joint: what may be drilled now, what not yet, what never, and why. */
export function StationHoles({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const skeleton = skeletonOf(model);
  const { answers, present } = useHoles();
  const here = answers.filter((a) => a.joint.station === bay.station.id);
  const joints = skeleton.jointsAt(bay.station.id);
  if (joints.length === 0) return <p className="lead">No holes are laid out at {bay.station.id}.</p>;
  const waits = here.filter((a) => a.state !== 'now' && a.state !== 'done');
  const which = waits.length === here.length ? 'every hole here' : namesOf(waits);
  const first = waits.length > 0 ? `Leave ${which} alone${present ? '' : ' then'}.` : '';
  return (
    <>
      {first && <p className="lead">{first}</p>}
      {joints.map((j) => {
        const own = here
          .filter((a) => a.joint === j)
          .sort((a, b) => LOOKS.indexOf(holeLook(a)) - LOOKS.indexOf(holeLook(b)));
        const alike = new Map<string, HoleAnswer[]>();
        for (const a of own) {
          const key = a.state === 'now' || a.bestMargin === undefined || a.bestMargin < 0.35 ? a.id : a.why;
          alike.set(key, [...(alike.get(key) ?? []), a]);
        }
        return (
          <section key={j.id} className="joint">
            <h2>
              {j.id}{' '}
              <small>
                {j.on === 'top' || j.on === 'bottom' ? `in the ${j.on} cap: ` : ''}
                {j.layers.join(' / ')}, guided by {j.guide}
              </small>
            </h2>
            <ul className="groups">
              {[...alike.values()].map((list) => (
                <HoleRow
                  key={list[0]!.id}
                  answer={list[0]!}
                  names={list.map((a) => a.hole.id).join(', ')}
                  one={list.length === 1}
                />
              ))}
            </ul>
            {present && <RowLooked joint={j} />}
            {own[0] && <Rooms answer={own[0]} />}
            <RowForm skeleton={skeleton} joint={j} bay={bay} />
          </section>
        );
      })}
      {present && <StationLooked station={bay.station.id} />}
      <CapRows skeleton={skeleton} bay={bay} />
    </>
  );
}
