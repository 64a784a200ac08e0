import type { Fill, Ink } from '../../sheets/paper/page.ts';
import { STROKES } from '../../sheets/paper/page.ts';

const FILLS: Readonly<Record<Fill, string>> = {
  none: 'none',
  paper: 'var(--paper)',
  light: 'var(--shade)',
  dark: 'color-mix(in srgb, var(--metal) 60%, var(--edge))',
  ink: 'var(--ink)',
};
const MM_PER_POINT = 25.4 / 72;

/** Ink of a sheet on the screen, in the screen's own colours: light or dark, outlines in ink. */
export function InkSvg({
  ink,
  width,
  height,
  label,
  className = '',
}: {
  ink: readonly Ink[];
  width: number;
  height: number;
  label: string;
  className?: string;
}) {
  return (
    <svg className={`ink ${className}`} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
      {ink.map((i, at) => {
        const stroke =
          i.kind !== 'text' && i.stroke
            ? {
                stroke: 'var(--ink)',
                strokeWidth: STROKES[i.stroke].width,
                strokeDasharray: STROKES[i.stroke].dash.join(' ') || undefined,
                strokeLinejoin: 'round' as const,
              }
            : {};
        // The order of ink never changes within one picture.
        if (i.kind === 'path') return <path key={at} d={i.d} fill={FILLS[i.fill]} {...stroke} />;
        if (i.kind === 'circle') return <circle key={at} cx={i.x} cy={i.y} r={i.r} fill={FILLS[i.fill]} {...stroke} />;
        return (
          <text
            key={at}
            x={i.x}
            y={i.y}
            style={{ fontSize: i.size * MM_PER_POINT }}
            fontWeight={i.bold ? 700 : 400}
            textAnchor={i.align ?? 'start'}
          >
            {i.text}
          </text>
        );
      })}
    </svg>
  );
}
