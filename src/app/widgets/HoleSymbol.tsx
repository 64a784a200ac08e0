import type { HoleAnswer } from '../../drilling/drill.ts';

/** A hole's look: its answer, and doubt where it may not clean up. */
export type HoleLook = 'now' | 'not-yet' | 'doubt' | 'never' | 'done';

export const LOOK_WORD: Record<HoleLook, string> = {
  now: 'drill now',
  'not-yet': 'not yet',
  doubt: 'in doubt',
  never: 'never at this size',
  done: 'done',
};
/** The word for a look; looking ahead nothing is drilled yet. */
export function lookWord(look: HoleLook, present: boolean): string {
  if (present) return LOOK_WORD[look];
  return look === 'now' ? 'may be drilled then' : look === 'done' ? 'done by then' : LOOK_WORD[look];
}

export const LOOKS: readonly HoleLook[] = ['never', 'doubt', 'now', 'not-yet', 'done'];

export function holeLook({ state, because }: Pick<HoleAnswer, 'state' | 'because'>): HoleLook {
  if (because === 'doubt') return 'doubt';
  return state === 'not yet' ? 'not-yet' : state;
}

/** Lines of a symbol inside its ring: a bar for not yet, two for doubt, a cross for never. */
export function insideOf(look: HoleLook, x: number, y: number, r: number): string {
  const s = r * 0.72;
  if (look === 'not-yet') return `M${x - r} ${y} H${x + r}`;
  if (look === 'doubt')
    return `M${x - r * 0.92} ${y - r * 0.38} H${x + r * 0.92} M${x - r * 0.92} ${y + r * 0.38} H${x + r * 0.92}`;
  return look === 'never' ? `M${x - s} ${y - s} L${x + s} ${y + s} M${x + s} ${y - s} L${x - s} ${y + s}` : '';
}

/** The symbol of a hole's answer: open circle now, barred not yet, two bars in doubt, crossed never, filled when done. */
export function HoleSymbol({ look, x, y, r }: { look: HoleLook; x: number; y: number; r: number }) {
  return (
    <g className={`hole-symbol ${look}`}>
      <circle cx={x} cy={y} r={r} />
      <path d={insideOf(look, x, y, r)} />
    </g>
  );
}
