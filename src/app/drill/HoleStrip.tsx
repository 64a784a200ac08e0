import type { PointerEvent } from 'react';
import { rowKey } from '../../drilling/rowKey.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { type HoleLook, HoleSymbol, holeLook, insideOf, LOOKS, lookWord } from '../widgets/HoleSymbol.tsx';
import { layStrip, type Spot, type Strip, WIDE } from './layStrip.ts';
import { useHoles } from './useHoles.ts';

const ring = (x: number, y: number, r: number): string =>
  `M${x - r} ${y} a${r} ${r} 0 1 0 ${2 * r} 0 a${r} ${r} 0 1 0 ${-2 * r} 0`;

/** The symbols of one look as one path; where they are small only those that warn keep their bars. */
function symbols(look: HoleLook, spots: readonly Spot[], r: number): string {
  const barred = look === 'never' || look === 'doubt' || r > 2;
  return spots.map(({ x, y }) => `${ring(x, y, r)} ${barred ? insideOf(look, x, y, r) : ''}`).join(' ');
}

/** What the letters of the rows stand for. */
function RowKey() {
  const model = useApp((s) => s.model);
  const rows = rowKey(model);
  if (rows.length === 0) return null;
  return (
    <p className="small">
      {rows.map(({ letters, where }, i) => (
        <span key={letters}>
          {i > 0 && '; '}
          <b>{letters}</b> {where}
        </span>
      ))}
      .
    </p>
  );
}

interface Counted {
  readonly look: HoleLook;
  readonly word: string;
  readonly spots: readonly Spot[];
}

/** How many holes of each look. */
function Counts({ counted }: { counted: readonly Counted[] }) {
  return (
    <figcaption className="hole-counts">
      {counted.map(({ look, word, spots }) => (
        <span key={look}>
          <svg width="18" height="18" aria-hidden="true">
            <HoleSymbol look={look} x={9} y={9} r={6.5} />
          </svg>{' '}
          {spots.length} {word}
        </span>
      ))}
    </figcaption>
  );
}

/** A tap goes to the station nearest to it. */
function chooseNearest(e: PointerEvent<SVGSVGElement>, spots: readonly Spot[]): void {
  const box = e.currentTarget.getBoundingClientRect();
  const x = ((e.clientX - box.left) / box.width) * WIDE;
  const off = (s: Spot): number => Math.abs(s.x - x);
  const [first, ...rest] = spots;
  if (!first) return;
  const near = rest.reduce((best, s) => (off(s) < off(best) ? s : best), first);
  useApp.getState().choose(near.answer.joint.station);
}

interface Drawn {
  readonly strip: Strip;
  readonly counted: readonly Counted[];
  readonly label: string;
}

function Drawing({ strip: { spots, r, rearAt, height }, counted, label }: Drawn) {
  const station = useApp((s) => s.station);
  const chosen = spots.find((s) => s.answer.joint.station === station);
  return (
    <svg
      className="picture pick"
      viewBox={`0 0 ${WIDE} ${height}`}
      onPointerDown={(e) => chooseNearest(e, spots)}
      role="img"
      aria-label={label}
    >
      <text x="2" y="12">
        front spar
      </text>
      <text x="2" y={rearAt + 1}>
        rear spar
      </text>
      {chosen && <rect x={chosen.x - r - 4} y={15} width={2 * r + 8} height={height - 16} className="drill-chosen" />}
      {counted.map(({ look, spots: own }) => (
        <g key={look} className={`hole-symbol ${look}${r < 3 ? ' fine' : ''}`}>
          <path d={symbols(look, own, r)} />
        </g>
      ))}
    </svg>
  );
}

/** The holes of each look that there are, with the look's word. */
function countedBy(spots: readonly Spot[], present: boolean): Counted[] {
  const own = (look: HoleLook): Spot[] => spots.filter((s) => holeLook(s.answer) === look);
  return LOOKS.map((look) => ({ look, word: lookWord(look, present), spots: own(look) })).filter(
    (c) => c.spots.length > 0,
  );
}

const inWords = (answers: readonly Counted[]): string =>
  answers.map(({ word, spots }) => `${spots.length} ${word}`).join(', ');

/** All holes along the span: front rows above, rear rows below; a tap goes to the nearest station. */
export function HoleStrip() {
  const model = useApp((s) => s.model);
  const { answers, stage, present } = useHoles();
  if (answers.length === 0) return null;
  const places = skeletonOf(model).bays.map(({ station }) => [station.id, station.y] as const);
  const strip = layStrip(answers, new Map(places));
  const counted = countedBy(strip.spots, present);
  const when = stage ? `, ${stage.name}` : '';
  return (
    <figure className="drill-strip">
      <Counts counted={counted} />
      <Drawing strip={strip} counted={counted} label={`Holes along the span${when}: ${inWords(counted)}`} />
      <RowKey />
    </figure>
  );
}
