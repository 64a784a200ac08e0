import { useMemo, useState } from 'react';
import { heightsAt } from '../../geometry/airfoil.ts';
import { alongAt } from '../../model/along.ts';
import {
  chordAt,
  cutSpars,
  depthByShape,
  readShape,
  type Shape,
  sectionOf,
  shapeNow,
  shapeRibs,
  straightBehind,
} from '../../model/edits/profileEdits.ts';
import type { Model } from '../../model/schema.ts';
import { contourBetween } from '../../parts/shapes/contourBetween.ts';
import { noseOutline } from '../../parts/shapes/noseOutline.ts';
import { exactLength, formatLength, parseLength } from '../../units.ts';
import { useApp } from '../state/store.ts';

const W = 620;

const rearDepth = ({ spars }: Model, y: number): number | undefined => spars.rear && alongAt(spars.rear.depth, y);

/** The section at the first rib, cut by the spars as drawn; the spars' depth beside what the section leaves them. */
function Picture({ model, shape, chord, straight }: { model: Model; shape: Shape; chord: number; straight: boolean }) {
  const station = model.stations[0]!;
  const [P, B] = [station.nose, alongAt(model.webToWeb, station.y)];
  const section = sectionOf(shape);
  const H = alongAt(model.spars.front.depth, station.y);
  const long = section ? Math.max(chord, P + B) : P + B;
  const s = (W - 40) / long;
  const mid = Math.max(60, (H * s) / 2 + 34);
  const X = (x: number): number => 20 + x * s;
  const Z = (z: number): number => mid - z * s;
  const line = (points: readonly (readonly [number, number])[]): string =>
    points.map(([x, z], i) => `${i ? 'L' : 'M'}${X(x).toFixed(1)} ${Z(z).toFixed(1)}`).join('');
  const nose0 = section?.points[section.nose]?.[0] ?? 0;
  const given =
    shape.kind === 'ellipse' || shape.kind === 'straight'
      ? undefined
      : shape.kind === 'naca4'
        ? ({ kind: 'naca4', name: shape.name, chord } as const)
        : {
            kind: 'points' as const,
            chord,
            points: shape.section.points.map(([x, z]): [number, number] => [100 * x, 100 * z]),
          };
  const nose = noseOutline(given ?? { kind: 'ellipse' }, { length: P, height: H, cut: P });
  const R = rearDepth(model, station.y) ?? H;
  const rows =
    (given && !straight ? contourBetween(given, { length: B, drawn: B, cut: P, front: H, rear: R }) : undefined) ??
    ([
      [0, H / 2, -H / 2],
      [B, R / 2, -R / 2],
    ] as const);
  const spar = (x: number, h: number, cap: number, opens: 'aft' | 'forward'): string => {
    const d = opens === 'aft' ? cap : -cap;
    return `M${X(x + d)} ${Z(h / 2)}L${X(x)} ${Z(h / 2)}L${X(x)} ${Z(-h / 2)}L${X(x + d)} ${Z(-h / 2)}`;
  };
  const { front, rear } = model.spars;
  // The drawing's own middle runs through the middle of what each spar is cut from the section.
  const middle = (at: number): number => {
    const of = section && heightsAt(section, nose0 + at / chord);
    return of ? ((of.upper + of.lower) * chord) / 2 : 0;
  };
  const [m0, m1] = [middle(P), rear ? middle(P + B) : middle(P)];
  const aside = (x: number): number => m0 + ((m1 - m0) * (x - P)) / B;
  return (
    <svg
      className="shape-view"
      viewBox={`0 0 ${W} ${2 * mid}`}
      role="img"
      aria-label={`The section at ${station.id}, to scale, cut by the spars`}
    >
      {section && (
        <path
          d={line(
            section.points.map(([x, z]): [number, number] => {
              const at = (x - nose0) * chord;
              return [at, z * chord - aside(at)];
            }),
          )}
          className="view-thin"
        />
      )}
      <path
        d={
          shape.kind === 'straight'
            ? line([
                [P, H / 2],
                [0, 0],
                [P, -H / 2],
              ])
            : line(nose.map(([x, z]): [number, number] => [x + P, z]))
        }
        className="view-rib"
      />
      {([1, 2] as const).map((k) => (
        <path key={k} d={line(rows.map((row): [number, number] => [row[0] + P, row[k]]))} className="view-rib" />
      ))}
      <path d={spar(P, H, alongAt(front.capWidth, station.y), front.opens)} className="view-spar" />
      {rear && (
        <path
          d={spar(P + B, alongAt(rear.depth, station.y), alongAt(rear.capWidth, station.y), rear.opens)}
          className="view-spar"
        />
      )}
      <text x="20" y="18" className="tiny">
        {station.id}: dashed the section, solid what is drawn
      </text>
    </svg>
  );
}

/** The shape of the ribs: by name or from a published table, where the spars cut it, and what depth it leaves them. */
export function ShapesSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const now = useMemo(() => shapeNow(model), [model]);
  const [typed, setTyped] = useState<string | null>(null);
  const [chordText, setChord] = useState<string | null>(null);
  const [fault, setFault] = useState('');
  const [level, setLevel] = useState<boolean | null>(null);
  const straight = level ?? straightBehind(model);
  const text = typed ?? now.text;
  const read = useMemo(() => readShape(text), [text]);
  const length = chordText === null ? { ok: true as const, value: now.chord } : parseLength(chordText, model.units);
  const chord = length.ok && length.value > 0 ? length.value : now.chord;
  const shape = read.ok ? read.shape : null;
  const has = shape !== null && sectionOf(shape) !== undefined;
  const show = (v: number | undefined): string =>
    v === undefined ? '–' : formatLength(v, model.units, { unitMark: false });
  const take = () => {
    if (!shape || !length.ok) return;
    const faults = edit(shapeRibs(model, shape, chord, { straightBehind: straight }));
    setFault(faults.map((f) => f.sentence).join(' '));
    if (faults.length === 0) {
      setTyped(null);
      setChord(null);
      setLevel(null);
    }
  };
  const cut = shape && has ? cutSpars(model, shape, chord) : undefined;
  return (
    <div className="shapes">
      <form
        className="shape-form"
        onSubmit={(e) => {
          e.preventDefault();
          take();
        }}
      >
        <label htmlFor="shape-text">
          A four-digit section (0012), coordinates pasted from a published table, ellipse, or straight
        </label>
        <textarea
          id="shape-text"
          rows={text.includes('\n') ? 7 : 1}
          value={text}
          spellCheck={false}
          onChange={(e) => {
            setTyped(e.target.value);
            setFault('');
          }}
        />
        {read.ok ? (
          <p className="small">{read.says}</p>
        ) : (
          <ul className="refused" role="alert">
            {read.sentences.slice(0, 4).map((s) => (
              <li key={s}>{s}</li>
            ))}
          </ul>
        )}
        <label>
          Chord at {model.stations[0]!.id}{' '}
          <input
            size={10}
            value={chordText ?? exactLength(now.chord, model.units)}
            onChange={(e) => setChord(e.target.value)}
            disabled={!has}
          />
        </label>
        {!length.ok && (
          <p className="refused" role="alert">
            {length.sentence}
          </p>
        )}
        {has && (
          <label className="tick">
            <input type="checkbox" checked={straight} onChange={(e) => setLevel(e.target.checked)} /> straight between
            the spars
          </label>
        )}
        <p className="add-form">
          <button type="submit" className="take" disabled={!read.ok || !length.ok}>
            Bend the ribs to it
          </button>
          {has && (
            <button
              type="button"
              className="quiet"
              disabled={!cut}
              onClick={() => {
                if (cut)
                  setFault(
                    edit(cut)
                      .map((f) => f.sentence)
                      .join(' '),
                  );
              }}
            >
              Draw the spars as deep as it leaves them
            </button>
          )}
        </p>
        {fault && (
          <p className="refused" role="alert">
            {fault}
          </p>
        )}
        <p className="small">
          The chord tapers with the ribs. Rib ends keep their own heights: between them a rib bulges over the straight
          line as the section does.
        </p>
      </form>
      {shape && <Picture model={model} shape={shape} chord={chord} straight={straight} />}
      {shape && has && (
        <table className="grid" aria-label="Spar depths by the section">
          <thead>
            <tr>
              <th className="grid-name" />
              <th>chord</th>
              <th>front by section</th>
              <th>as drawn</th>
              {model.spars.rear && (
                <>
                  <th>rear by section</th>
                  <th>as drawn</th>
                </>
              )}
            </tr>
          </thead>
          <tbody>
            {model.stations.slice(0, 60).map((s) => (
              <tr key={s.id}>
                <th scope="row" className="grid-name">
                  {s.id}
                </th>
                <td className="cell number">
                  <span>{show(chordAt(model, chord, s.id))}</span>
                </td>
                {(['front', 'rear'] as const)
                  .filter((n) => model.spars[n])
                  .flatMap((n) => [
                    <td key={`${n}s`} className="cell number">
                      <span>{show(depthByShape(model, shape, chord, n, s.id))}</span>
                    </td>,
                    <td key={`${n}d`} className="cell number">
                      <span>{show(alongAt(model.spars[n]!.depth, s.y))}</span>
                    </td>,
                  ])}
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </div>
  );
}
