import type { Verdict } from '../../checks/finding.ts';

/** The word of a verdict, for labels and screen readers. */
export function verdictWord(v: Verdict): string {
  return v;
}

/**
 * The mark of a verdict: dot, slashes, crosses, hatch; told apart by shape, not by colour alone.
 * A verdict that rests on the drawing only is an open outline.
 */
export function Mark({ verdict, drawing = false, size = 14 }: { verdict: Verdict; drawing?: boolean; size?: number }) {
  return (
    <svg className={`mark ${verdict}`} width={size} height={size} viewBox="0 0 14 14" aria-hidden="true">
      <MarkShape verdict={verdict} drawing={drawing} />
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

/** Inside the mark's box: slashes, crosses, hatch; a dot has no box. */
const IN_BOX: Readonly<Record<Exclude<Verdict, 'fits'>, { readonly d: string; readonly strokeWidth: number }>> = {
  watch: { d: 'M2.5 8.5 L8.5 2.5 M5.5 11.5 L11.5 5.5', strokeWidth: 1.7 },
  act: { d: 'M4 4 L10 10 M10 4 L4 10', strokeWidth: 2 },
  unsettled: { d: 'M4.6 2 V12 M7 2 V12 M9.4 2 V12', strokeWidth: 1.1 },
};

/** The same mark as a 14 by 14 group, for use inside another drawing. */
export function MarkShape({ verdict, drawing = false }: { verdict: Verdict; drawing?: boolean }) {
  const outline = {
    fill: drawing ? 'none' : 'var(--tone)',
    stroke: 'var(--tone)',
    strokeWidth: 1.5,
    strokeDasharray: drawing ? '2.5 1.8' : undefined,
  };
  if (verdict === 'fits') return <circle cx="7" cy="7" r="4.2" {...outline} />;
  return (
    <g>
      <rect x="1" y="1" width="12" height="12" {...outline} />
      <path {...IN_BOX[verdict]} fill="none" stroke={drawing ? 'var(--tone)' : 'var(--paper)'} />
    </g>
  );
}
