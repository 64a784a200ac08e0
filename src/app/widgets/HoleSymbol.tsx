import type { HoleAnswer } from '../../drilling/hole.ts';
import './holeSymbol.css';

/** A hole's look: its answer, and doubt where it may not clean up. */
export type HoleLook = 'now' | 'not-yet' | 'not-asked' | 'doubt' | 'never' | 'done';

const LOOK_WORD: Record<HoleLook, string> = {
  now: 'drill now',
  'not-yet': 'not yet',
  'not-asked': 'not asked',
  doubt: 'in doubt',
  never: 'never at this size',
  done: 'done',
};
/** The word for a look; looking ahead nothing is drilled yet. */
export function lookWord(look: HoleLook, present: boolean): string {
  return !present && look === 'done' ? 'done by then' : LOOK_WORD[look];
}

export const LOOKS: readonly HoleLook[] = ['never', 'doubt', 'not-asked', 'now', 'not-yet', 'done'];

const LOOK: Readonly<Record<HoleAnswer['state'], HoleLook>> = {
  now: 'now',
  'not yet': 'not-yet',
  'not asked': 'not-asked',
  'in doubt': 'doubt',
  never: 'never',
  done: 'done',
};

export const holeLook = ({ state }: Pick<HoleAnswer, 'state'>): HoleLook => LOOK[state];

/** Lines of a symbol inside its ring: a bar for not yet, two for doubt, a cross for never. */
export function insideOf(look: HoleLook, x: number, y: number, r: number): string {
  const s = r * 0.72;
  if (look === 'not-yet') return `M${x - r} ${y} H${x + r}`;
  if (look === 'doubt')
    return `M${x - r * 0.92} ${y - r * 0.38} H${x + r * 0.92} M${x - r * 0.92} ${y + r * 0.38} H${x + r * 0.92}`;
  return look === 'never' ? `M${x - s} ${y - s} L${x + s} ${y + s} M${x + s} ${y - s} L${x - s} ${y + s}` : '';
}

/**
 * The symbol of a hole's answer: open circle now, barred not yet, dashed where nobody looked, two bars in doubt,
 * crossed never, filled when done.
 */
export function HoleSymbol({ look, x, y, r }: { look: HoleLook; x: number; y: number; r: number }) {
  return (
    <g className={`hole-symbol ${look}`}>
      <circle cx={x} cy={y} r={r} />
      <path d={insideOf(look, x, y, r)} />
    </g>
  );
}
