import type { Finding } from '../../checks/finding.ts';
import { forcedShape, type SkinStrip } from '../../checks/fit/forcedFit.ts';
import { fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { pathThrough } from '../widgets/alongSpan.ts';
import { PickPoint } from '../widgets/PickPoint.tsx';

const W = 392;
const H = 168;
const TOP = 34;
const BOTTOM = 44;
/** With more noses than this, only those that may buckle have their numbers. */
const MANY = 14;

/** Share of the buckling stress from which ripples are drawn, and from which a buckle is likely. */
const POSSIBLE = 0.5;
const LIKELY = 1;

type Spot = readonly [x: number, y: number];

/** Ripples along a line: a little wave about each of its points, higher towards its middle. */
function ripples(points: readonly Spot[], height: number): string {
  const n = points.length - 1;
  const wave = (i: number): number => (i % 2 ? -1 : 1) * height * Math.sin((Math.PI * i) / n);
  return pathThrough(points.map(([x, y], i) => [x, y + wave(i)] as const));
}

/** What may happen at one nose, in words. */
function fate(ratio: number): string {
  if (ratio > LIKELY) return 'buckle likely';
  return ratio > POSSIBLE ? 'may buckle' : '';
}

/** The bending at a nose over what buckles the flat side. */
const ratioOf = ({ stress, flat }: SkinStrip): number => Math.abs(stress / flat);

/** The most strained nose in words. */
function worstWords(most: number, mark: string): string {
  if (most > LIKELY) return `A buckle is likely at ${mark}`;
  if (most > POSSIBLE) return `A buckle is possible at ${mark}`;
  return `Bending alone would buckle it nowhere; ${mark} strains it most`;
}

interface NoseProps {
  readonly mark: string;
  /** Where its skin lies. */
  readonly at: Spot;
  /** The skin close to it. */
  readonly reach: readonly Spot[];
  /** Undefined at the ends, where nothing bends it. */
  readonly ratio: number | undefined;
  readonly crowded: boolean;
}

/** A nose under the skin: its post, its number and, where the skin may buckle, ripples and their word. */
function NosePost({ mark, at: [x, y], reach, ratio, crowded }: NoseProps) {
  const warns = ratio !== undefined && ratio > POSSIBLE;
  const written = warns || !crowded;
  return (
    <>
      <path d={`M${x} ${y + 2} V${H - BOTTOM + 12}`} className="nose-post" />
      {warns && (
        <>
          <path d={ripples(reach, ratio > LIKELY ? 9 : 5)} className="skin-ripple" />
          <text x={Math.min(Math.max(x, 46), W - 46)} y={y - 14} textAnchor="middle" className="callout">
            {fate(ratio)}
          </text>
        </>
      )}
      {ratio !== undefined && written && (
        <text x={x} y={H - 18} textAnchor="middle" className={warns ? 'num' : 'tiny'}>
          {ratio.toFixed(2)}
        </text>
      )}
      {written && (
        <text x={x} y={H - 4} textAnchor="middle" className="tiny">
          {mark}
        </text>
      )}
    </>
  );
}

/**
 * The nose skin seen from above as it would lie if pulled onto every nose: the line it takes between them, enlarged,
 * with ripples where its bending nears what buckles it. An estimate of where to look, and always called one.
 */
export function SkinLine({ findings }: { findings: readonly Finding[] }) {
  const model = useApp((s) => s.model);
  const skeleton = skeletonOf(model);
  const { points = [], strips = [] } = forcedShape(skeleton) ?? {};
  const [start, end] = [points[0], points.at(-1)];
  const [worst] = [...strips].sort((a, b) => ratioOf(b) - ratioOf(a));
  if (!start || !end || !worst) return null;
  const offs = points.map((p) => p.v);
  const [low, high] = [Math.min(-0.15, ...offs), Math.max(0.15, ...offs)];
  const scale = Math.min(60, (H - TOP - BOTTOM) / (high - low));
  const times = Math.round((scale * (end.y - start.y)) / (W - 44));
  const across = (y: number): number => 22 + ((y - start.y) / (end.y - start.y)) * (W - 44);
  const down = (v: number): number => TOP + (high - v) * scale;
  const line = points.map((p): Spot => [across(p.y), down(p.v)]);
  const noses = nosesOf(skeleton, 'straight');
  const most = ratioOf(worst);
  const { mark } = worst.nose;
  return (
    <figure className="skin-pull">
      <figcaption>
        An estimate: the nose skin as it would lie pulled onto every nose, from above, departures ×{times}, forward up.
        Numbers: its bending over what buckles its flat side.
      </figcaption>
      <svg
        className="picture"
        viewBox={`0 0 ${W} ${H}`}
        role="img"
        aria-label={`An estimate of the nose skin pulled onto the noses, enlarged ${times} times; most strained at ${mark}, ${most.toFixed(2)} of what buckles it`}
      >
        <line x1="10" x2={W - 10} y1={down(0)} y2={down(0)} className="hair" />
        <path d={pathThrough(line)} className="skin-line" />
        {noses.map((n) => {
          const { id, y } = n.bay.station;
          const strip = strips.find((s) => s.nose.bay.station.id === id);
          const x = across(y);
          return (
            <PickPoint
              key={id}
              station={id}
              finding={findings.find((g) => g.check === 'forced-fit' && g.station === id)}
            >
              <NosePost
                mark={n.mark}
                at={[x, down(fromNominal(n))]}
                reach={line.filter(([px]) => Math.abs(px - x) <= 17)}
                ratio={strip && ratioOf(strip)}
                crowded={noses.length > MANY}
              />
            </PickPoint>
          );
        })}
      </svg>
      <p className="small">
        {worstWords(most, mark)}, an estimate: {most.toFixed(2)} of what buckles perfect flat sheet. A real skin goes
        sooner.
      </p>
    </figure>
  );
}
