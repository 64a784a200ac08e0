import { show } from '../../checks/describe.ts';
import type { EdgeLine } from '../../checks/holes/nextSize.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { useApp } from '../state/store.ts';

const W = 392;
const ROW = 30;
const TOP = 22;
const LEFT = 96;
const RIGHT = 62;

interface Mark {
  readonly name: string;
  /** From the hole's axis, mm. */
  readonly at: number;
  readonly next: boolean;
}

/** Where 2 D falls, at final and at the next size. */
function marksOf({ joint }: HoleAnswer): readonly Mark[] {
  const final = { name: '2 D', at: 2 * joint.rivet.diameter, next: false };
  return joint.next ? [final, { name: 'next', at: 2 * joint.next.rivet, next: true }] : [final];
}

interface Scale {
  /** Half the rivet's head, mm. */
  readonly head: number;
  /** How far the drawing reaches to either side of the axis, mm. */
  readonly far: number;
  readonly back: number;
  /** Pixels a millimetre. */
  readonly s: number;
  /** From millimetres off the axis to the drawing. */
  toX(mm: number): number;
}

function scaleOf({ edges, joint }: HoleAnswer, marks: readonly Mark[]): Scale {
  const { diameter } = joint.rivet;
  const head = (joint.rivet.head ?? 2 * diameter) / 2;
  const reaches = edges.map((e) => Math.min(e.atAxis, 5 * diameter));
  const bends = edges.map((e) => Math.min((e.bend ?? 0) + head, 3 * diameter));
  const far = 1.08 * Math.max(...reaches, ...marks.map((m) => m.at));
  const back = 1.05 * Math.max(head, ...bends);
  const s = (W - LEFT - RIGHT) / (far + back);
  return { head, far, back, s, toX: (mm) => LEFT + (back + mm) * s };
}

/** One layer: its sheet from the bend to the free edge, the head on it and the hole in it. */
function Layer({ edge: e, y, scale, final }: { edge: EdgeLine; y: number; scale: Scale; final: number }) {
  const { head, far, back, s, toX } = scale;
  const bend = e.bend === undefined ? Number.NEGATIVE_INFINITY : -(e.bend + head);
  const left = toX(Math.max(bend, -back));
  const right = toX(Math.min(e.atAxis, far));
  const onward = e.atAxis > far ? ' on' : '';
  const short = e.final < 2 - 1e-9 ? ' short' : '';
  return (
    <g>
      <text x="0" y={y + 5}>
        {e.part}
      </text>
      <path
        d={`M${left} ${y - 7} H${right} V${y + 7} H${left}${bend > -back ? ' Z' : ''}`}
        className={`drill-sheet${onward}${short}`}
      />
      <path d={`M${toX(-head)} ${y} H${toX(head)}`} className="drill-head" />
      <circle cx={toX(0)} cy={y} r={Math.min(6.5, (final / 2) * s)} className="drill-hole" />
      <text x={W} y={y + 5} textAnchor="end" className="num">
        {e.final.toFixed(2)} D
      </text>
    </g>
  );
}

/**
 * The room round a hole, layer by layer and to scale: from the bend on the left to the free edge on the right, the
 * hole and its rivet's head in the middle, and where 2 D falls at final and at the next size.
 */
export function EdgePicture({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const { edges, joint } = answer;
  if (edges.length === 0) return null;
  const marks = marksOf(answer);
  const scale = scaleOf(answer, marks);
  const tall = TOP + edges.length * ROW + 4;
  const inWords = edges.map((e) => `${e.part}: ${show(model, e.atAxis)} to the edge, ${e.final.toFixed(2)} D`);
  return (
    <svg className="picture drill-edges" viewBox={`0 0 ${W} ${tall}`} role="img" aria-label={inWords.join('; ')}>
      {marks.map((m) => (
        <g key={m.name}>
          <path d={`M${scale.toX(m.at)} 18 V${tall - 4}`} className={`drill-limit${m.next ? ' next' : ''}`} />
          <text x={scale.toX(m.at)} y="13" textAnchor={m.next ? 'start' : 'end'}>
            {m.name}
          </text>
        </g>
      ))}
      {edges.map((e, i) => (
        <Layer key={e.part} edge={e} y={TOP + i * ROW + ROW / 2} scale={scale} final={joint.final} />
      ))}
    </svg>
  );
}
