import type { RefObject } from 'react';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { Eye } from '../onScreen.ts';

const WIDE = 310;
/** Kept clear of the canvas' edge and of the knob, px. */
const [EDGE, APART] = [4, 6];

/** Puts the words beside a knob, on the canvas. */
export function layWords(
  box: HTMLElement | null,
  knob: { readonly left: number; readonly top: number; readonly size: number },
  { size }: Eye,
): void {
  if (!box) return;
  const left = Math.min(knob.left + knob.size + APART, size.width - WIDE - 10);
  const top = Math.max(EDGE, Math.min(knob.top - 60, size.height - box.offsetHeight - EDGE));
  box.style.transform = `translate(${Math.round(left)}px, ${Math.round(top)}px)`;
}

/** What changes while a rib is held, read beside it. */
export function HeldWords({ box, light, lines }: Props) {
  const tones = PALETTE[light];
  return (
    <div
      ref={box}
      role="status"
      style={{
        position: 'absolute',
        left: 0,
        top: 0,
        width: WIDE,
        pointerEvents: 'none',
        userSelect: 'none',
        background: tones.paper,
        color: tones.ink,
        border: `1px solid ${tones.ink}`,
        padding: '6px 10px',
        font: '500 15px/1.4 system-ui, sans-serif',
        fontVariantNumeric: 'tabular-nums',
      }}
    >
      {lines.map((line) => (
        <div key={line}>{line}</div>
      ))}
      <div style={{ opacity: 0.75 }}>Let go to put it here; Esc leaves it.</div>
    </div>
  );
}

interface Props {
  readonly box: RefObject<HTMLDivElement | null>;
  readonly light: Light;
  readonly lines: readonly string[];
}
