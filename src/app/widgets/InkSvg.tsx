import type { Fill, Ink } from '../../sheets/paper/page.ts';
import { STROKES } from '../../sheets/paper/page.ts';
import './ink.css';

const FILLS: Readonly<Record<Fill, string>> = {
  none: 'none',
  paper: 'var(--paper)',
  light: 'var(--shade)',
  dark: 'color-mix(in srgb, var(--metal) 60%, var(--edge))',
  ink: 'var(--ink)',
};
const MM_PER_POINT = 25.4 / 72;

function strokeOf(stroke: keyof typeof STROKES | null | undefined) {
  if (!stroke) return {};
  const { width, dash } = STROKES[stroke];
  return {
    stroke: 'var(--ink)',
    strokeWidth: width,
    strokeDasharray: dash.join(' ') || undefined,
    strokeLinejoin: 'round' as const,
  };
}

/** One stroke of ink. */
function Stroke({ ink: i }: { ink: Ink }) {
  if (i.kind === 'path') return <path d={i.d} fill={FILLS[i.fill]} {...strokeOf(i.stroke)} />;
  if (i.kind === 'circle') return <circle cx={i.x} cy={i.y} r={i.r} fill={FILLS[i.fill]} {...strokeOf(i.stroke)} />;
  return (
    <text
      x={i.x}
      y={i.y}
      style={{ fontSize: i.size * MM_PER_POINT }}
      fontWeight={i.bold ? 700 : 400}
      textAnchor={i.align ?? 'start'}
    >
      {i.text}
    </text>
  );
}

interface Props {
  readonly ink: readonly Ink[];
  readonly width: number;
  readonly height: number;
  readonly label: string;
  readonly className?: string;
}

/** Ink of a sheet on the screen, in the screen's own colours: light or dark, outlines in ink. */
export function InkSvg({ ink, width, height, label, className = '' }: Props) {
  return (
    <svg className={`ink ${className}`} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
      {ink.map((i, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: ink has no name of its own, and its order within one picture never changes
        <Stroke key={at} ink={i} />
      ))}
    </svg>
  );
}
