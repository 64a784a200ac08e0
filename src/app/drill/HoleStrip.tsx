import type { PointerEvent } from 'react';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { rowKey } from '../../drilling/rowKey.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { type HoleLook, HoleSymbol, holeLook, insideOf, LOOKS, lookWord } from '../widgets/HoleSymbol.tsx';
import { useHoles } from './useHoles.ts';

const W = 392;
const SIDE = 18;

/** Where each hole stands on the strip: its station along, front joints over rear ones, one under the other. */
interface Spot {
  readonly answer: HoleAnswer;
  readonly x: number;
  readonly y: number;
}

interface Laid {
  readonly spots: readonly Spot[];
  readonly r: number;
  readonly rearAt: number;
  readonly height: number;
}

function lay(answers: readonly HoleAnswer[], ys: ReadonlyMap<string, number>): Laid {
  const all = [...ys.values()];
  const [y0, y1] = [Math.min(...all), Math.max(...all)];
  const r = ys.size > 40 ? 1.7 : ys.size > 16 ? 2.6 : 5.5;
  const step = 2 * r + (r < 3 ? 1.2 : 3);
  const used = new Map<string, number>();
  const places = answers.map((answer) => {
    const key = `${answer.joint.station} ${answer.joint.end}`;
    const row = used.get(key) ?? 0;
    used.set(key, row + 1);
    return {
      answer,
      x: SIDE + (((ys.get(answer.joint.station) ?? 0) - y0) / Math.max(1, y1 - y0)) * (W - 2 * SIDE),
      row,
    };
  });
  const deep = (end: 'front' | 'rear'): number =>
    Math.max(0, ...[...used].filter(([k]) => k.endsWith(` ${end}`)).map(([, n]) => n));
  const rearAt = 22 + deep('front') * step + 12;
  return {
    spots: places.map(({ answer, x, row }) => ({
      answer,
      x,
      y: (answer.joint.end === 'front' ? 22 : rearAt + 10) + row * step,
    })),
    r,
    rearAt,
    height: rearAt + 10 + deep('rear') * step + 4,
  };
}

const ring = (x: number, y: number, r: number): string =>
  `M${x - r} ${y} a${r} ${r} 0 1 0 ${2 * r} 0 a${r} ${r} 0 1 0 ${-2 * r} 0`;

/** What the letters of the rows stand for. */
function RowKey() {
  const model = useApp((s) => s.model);
  const rows = rowKey(model);
  return rows.length > 0 ? (
    <p className="small">
      {rows.map(({ letters, where }, i) => (
        <span key={letters}>
          {i > 0 && '; '}
          <b>{letters}</b> {where}
        </span>
      ))}
      .
    </p>
  ) : null;
}

/** All holes along the span: front rows above, rear rows below; a tap goes to the nearest station. */
export function HoleStrip() {
  const model = useApp((s) => s.model);
  const station = useApp((s) => s.station);
  const choose = useApp((s) => s.choose);
  const { answers, stage, present } = useHoles();
  const { bays } = skeletonOf(model);
  if (answers.length === 0) return null;
  const { spots, r, rearAt, height } = lay(answers, new Map(bays.map((b) => [b.station.id, b.station.y])));
  const byLook = new Map<HoleLook, Spot[]>(LOOKS.map((look) => [look, []]));
  for (const s of spots) byLook.get(holeLook(s.answer))!.push(s);
  const counts = LOOKS.map((look) => [look, byLook.get(look)!.length] as const).filter(([, n]) => n > 0);
  const pick = (e: PointerEvent<SVGSVGElement>) => {
    const box = e.currentTarget.getBoundingClientRect();
    const x = ((e.clientX - box.left) / box.width) * W;
    const near = spots.reduce<Spot | undefined>(
      (best, s) => (!best || Math.abs(s.x - x) < Math.abs(best.x - x) ? s : best),
      undefined,
    );
    if (near) choose(near.answer.joint.station);
  };
  const chosen = spots.find((s) => s.answer.joint.station === station);
  return (
    <figure className="drill-strip">
      <figcaption className="hole-counts">
        {counts.map(([look, n]) => (
          <span key={look}>
            <svg width="18" height="18" aria-hidden="true">
              <HoleSymbol look={look} x={9} y={9} r={6.5} />
            </svg>{' '}
            {n} {lookWord(look, present)}
          </span>
        ))}
      </figcaption>
      <svg
        className="picture pick"
        viewBox={`0 0 ${W} ${height}`}
        onPointerDown={pick}
        role="img"
        aria-label={`Holes along the span${stage ? `, ${stage.name}` : ''}: ${counts.map(([look, n]) => `${n} ${lookWord(look, present)}`).join(', ')}`}
      >
        <text x="2" y="12">
          front spar
        </text>
        <text x="2" y={rearAt + 1}>
          rear spar
        </text>
        {chosen && <rect x={chosen.x - r - 4} y={15} width={2 * r + 8} height={height - 16} className="drill-chosen" />}
        {LOOKS.map((look) => (
          <g key={look} className={`hole-symbol ${look}${r < 3 ? ' fine' : ''}`}>
            <path
              d={byLook
                .get(look)!
                .map(
                  ({ x, y }) =>
                    `${ring(x, y, r)} ${look === 'never' || look === 'doubt' || r > 2 ? insideOf(look, x, y, r) : ''}`,
                )
                .join(' ')}
              className={look === 'done' ? 'full' : ''}
            />
          </g>
        ))}
      </svg>
      <RowKey />
    </figure>
  );
}
