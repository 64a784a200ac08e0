import type { Verdict } from '../../checks/finding.ts';

const WORD: Record<Verdict, string> = { fits: 'fits', watch: 'watch', act: 'act', unsettled: 'unsettled' };

/** The word of a verdict, for labels and screen readers. */
export function verdictWord(v: Verdict): string {
  return WORD[v];
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

/** The strokes of a verdict's mark inside a point of a picture, so that points are told apart in one ink: a slash, a cross, upright lines, none where it fits. */
export function PointMark({ verdict, x, y }: { verdict: Verdict; x: number; y: number }) {
  const d =
    verdict === 'watch'
      ? 'M-2.6 2.6 L2.6 -2.6'
      : verdict === 'act'
        ? 'M-2.6 -2.6 L2.6 2.6 M2.6 -2.6 L-2.6 2.6'
        : verdict === 'unsettled'
          ? 'M-1.6 -3 V3 M1.6 -3 V3'
          : '';
  return d === '' ? null : <path d={d} transform={`translate(${x} ${y})`} className="pt-mark" />;
}

/** The same mark as a 14 by 14 group, for use inside another drawing. */
export function MarkShape({ verdict, drawing = false }: { verdict: Verdict; drawing?: boolean }) {
  const box = (
    <rect
      x="1"
      y="1"
      width="12"
      height="12"
      fill={drawing ? 'none' : 'var(--tone)'}
      stroke="var(--tone)"
      strokeWidth="1.5"
      strokeDasharray={drawing ? '2.5 1.8' : undefined}
    />
  );
  const line = { stroke: drawing ? 'var(--tone)' : 'var(--paper)', strokeWidth: 1.7, fill: 'none' };
  if (verdict === 'fits')
    return (
      <circle
        cx="7"
        cy="7"
        r="4.2"
        fill={drawing ? 'none' : 'var(--tone)'}
        stroke="var(--tone)"
        strokeWidth="1.5"
        strokeDasharray={drawing ? '2.5 1.8' : undefined}
      />
    );
  if (verdict === 'watch')
    return (
      <g>
        {box}
        <path d="M2.5 8.5 L8.5 2.5 M5.5 11.5 L11.5 5.5" {...line} />
      </g>
    );
  if (verdict === 'act')
    return (
      <g>
        {box}
        <path d="M4 4 L10 10 M10 4 L4 10" {...line} strokeWidth={2} />
      </g>
    );
  return (
    <g>
      {box}
      <path d="M4.6 2 V12 M7 2 V12 M9.4 2 V12" {...line} strokeWidth={1.1} />
    </g>
  );
}
