import type { BasisWord } from '../../checks/basis.ts';
import type { Verdict } from '../../checks/finding.ts';
import { fillOf, markStrokes } from '../../scene/marks.ts';

/** The word of a verdict, for labels and screen readers. */
export function verdictWord(v: Verdict): string {
  return v;
}

/** The colours of a mark: the verdict's, and what it lies on. */
interface Inks {
  readonly tone: string;
  readonly paper: string;
}

const INKS: Inks = { tone: 'var(--tone)', paper: 'var(--paper)' };

interface MarkProps {
  readonly verdict: Verdict;
  /** What the verdict rests on; measured unless told. */
  readonly basis?: BasisWord;
}

/** The mark of a verdict: dot, slashes, crosses, hatch; full, with a gap, ruled or open by what it rests on. */
export function Mark({ verdict, basis = 'measured', size = 14 }: MarkProps & { size?: number }) {
  return (
    <svg className={`mark ${verdict}`} width={size} height={size} viewBox="0 0 14 14" aria-hidden="true">
      <MarkShape verdict={verdict} basis={basis} />
    </svg>
  );
}

/** Inside a point of a picture: a slash, a cross, upright lines, none where it fits. */
const IN_POINT: Readonly<Record<Verdict, string>> = {
  fits: '',
  watch: 'M-2.6 2.6 L2.6 -2.6',
  act: 'M-2.6 -2.6 L2.6 2.6 M2.6 -2.6 L-2.6 2.6',
  unsettled: 'M-1.6 -3 V3 M1.6 -3 V3',
};

/** The strokes of a verdict's mark inside a point of a picture, so that points are told apart in one ink. */
export function PointMark({ verdict, x, y }: { verdict: Verdict; x: number; y: number }) {
  const d = IN_POINT[verdict];
  return d === '' ? null : <path d={d} transform={`translate(${x} ${y})`} className="pt-mark" />;
}

/** The same mark as a 14 by 14 group, for use inside another drawing. */
export function MarkShape({ verdict, basis = 'measured', inks = INKS }: MarkProps & { inks?: Inks }) {
  const fill = fillOf(basis);
  return (
    <g data-mark={`${verdict} ${fill}`}>
      {markStrokes(verdict, fill).map((s) => (
        <path
          key={`${s.d} ${s.stroke ?? ''}`}
          d={s.d}
          fill={s.fill ? inks[s.fill] : 'none'}
          stroke={s.stroke ? inks[s.stroke] : 'none'}
          strokeWidth={s.width}
          strokeDasharray={s.dashes}
        />
      ))}
    </g>
  );
}
