import type { CSSProperties } from 'react';
import { markWords } from '../../../scene/marks.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { SceneLabel } from '../../../scene/shown.ts';
import { MarkShape } from '../../widgets/Mark.tsx';

interface Props {
  readonly label: SceneLabel;
  readonly chosen: boolean;
  readonly light: Light;
  onPick(label: SceneLabel): void;
}

/** What a label says to the ear: its words, and its verdict or which way the flange points. */
function saidOf({ text, verdict, basis = 'measured', points }: SceneLabel): string {
  if (verdict) return `${text}, ${markWords(verdict, basis)}`;
  return points ? `${text}, flange to the ${points[1] > 0 ? 'right' : 'left'}` : text;
}

function styleOf({ verdict }: SceneLabel, chosen: boolean, light: Light): CSSProperties {
  const tones = PALETTE[light];
  return {
    position: 'absolute',
    left: 0,
    top: 0,
    visibility: 'hidden',
    pointerEvents: 'auto',
    cursor: 'pointer',
    display: 'flex',
    alignItems: 'center',
    gap: 6,
    whiteSpace: 'nowrap',
    padding: verdict ? '3px 8px 3px 5px' : '2px 6px',
    margin: 0,
    minHeight: 24,
    borderRadius: 2,
    font: `${verdict ? 500 : 400} 14px/18px system-ui, sans-serif`,
    fontVariantNumeric: 'tabular-nums',
    color: tones.ink,
    background: tones.paper,
    border: chosen ? `2px solid ${tones.ink}` : `1px solid ${tones.edge}`,
  };
}

/** A label, to be tapped; it is laid where it goes on every frame. */
export function LabelButton({ label, chosen, light, onPick }: Props) {
  return (
    <button
      type="button"
      data-id={label.id}
      aria-label={saidOf(label)}
      onClick={() => onPick(label)}
      style={styleOf(label, chosen, light)}
    >
      <VerdictMark label={label} light={light} />
      {label.text}
      {label.points && <FlangeArrow color={PALETTE[light].ink} />}
    </button>
  );
}

/**
 * Which way a flange points: an arrow across the screen, a dot towards the viewer, a cross away; one of them is
 * shown.
 */
function FlangeArrow({ color }: { color: string }) {
  return (
    <svg
      data-arrow=""
      width={18}
      height={18}
      viewBox="0 0 18 18"
      fill="none"
      stroke={color}
      strokeWidth={1.6}
      aria-hidden="true"
      style={{ flex: 'none', margin: '-2px -3px -2px -1px' }}
    >
      <path d="M2.5 9H14M10.5 5L14.5 9L10.5 13" />
      <path d="M9 3.5a5.5 5.5 0 1 0 0 11a5.5 5.5 0 1 0 0-11M9 8a1 1 0 1 0 0 2a1 1 0 1 0 0-2" />
      <path d="M9 3.5a5.5 5.5 0 1 0 0 11a5.5 5.5 0 1 0 0-11M5.2 5.2L12.8 12.8M12.8 5.2L5.2 12.8" />
    </svg>
  );
}

function VerdictMark({ label: { verdict, basis = 'measured' }, light }: Pick<Props, 'label' | 'light'>) {
  if (!verdict) return null;
  const { paper, [verdict]: tone } = PALETTE[light];
  return (
    <svg width={14} height={14} viewBox="0 0 14 14" aria-hidden="true" style={{ flex: 'none' }}>
      <MarkShape verdict={verdict} basis={basis} inks={{ tone, paper }} />
    </svg>
  );
}
