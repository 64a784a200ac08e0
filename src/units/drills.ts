import { inches, millimetres } from './convert.ts';
import { NEAR } from './near.ts';

/* Drills by number and letter, and sizes by their 64ths of an inch. */

/**
 * Thousandths-and-tenths of an inch; number drills 10 to 52 and letters as read in two agreeing lists (ASME B94.11M).
 */
const NUMBER_DRILLS = [
  0.1935, 0.191, 0.189, 0.185, 0.182, 0.18, 0.177, 0.173, 0.1695, 0.166, 0.161, 0.159, 0.157, 0.154, 0.152, 0.1495,
  0.147, 0.144, 0.1405, 0.136, 0.1285, 0.12, 0.116, 0.113, 0.111, 0.11, 0.1065, 0.104, 0.1015, 0.0995, 0.098, 0.096,
  0.0935, 0.089, 0.086, 0.082, 0.081, 0.0785, 0.076, 0.073, 0.07, 0.067, 0.0635,
] as const;
const LETTER_DRILLS = [
  0.234, 0.238, 0.242, 0.246, 0.25, 0.257, 0.261, 0.266, 0.272, 0.277, 0.281, 0.29, 0.295, 0.302, 0.316, 0.323, 0.332,
  0.339, 0.348, 0.358, 0.368, 0.377, 0.386, 0.397, 0.404, 0.413,
] as const;
const FIRST_NUMBER = 10;

/** A twist drill of the number or letter series; the name reads back through `parseLength`. */
export interface Drill {
  readonly name: string;
  readonly mm: number;
}

/** Smallest first. */
export const DRILLS: readonly Drill[] = [
  ...NUMBER_DRILLS.map((inch, i) => ({ name: `#${FIRST_NUMBER + i}`, mm: millimetres(inch) })),
  ...LETTER_DRILLS.map((inch, i) => ({ name: `#${'ABCDEFGHIJKLMNOPQRSTUVWXYZ'.charAt(i)}`, mm: millimetres(inch) })),
].sort((a, b) => a.mm - b.mm);

/** How far a size may lie from a drill or a 64th, in mm, and still be called by its name. */
const SAME_NAME = 0.01;
const LONGEST_GAP = 0.5;

/**
 * The number or letter drill a hole of this size was surely made with: `drillName(3.264)` is `#30`.
 * Undefined when no listed drill lies within 0.01 mm.
 */
export function drillName(mm: number): string | undefined {
  let best: Drill | undefined;
  for (const drill of DRILLS) if (best === undefined || Math.abs(drill.mm - mm) < Math.abs(best.mm - mm)) best = drill;
  return best !== undefined && Math.abs(best.mm - mm) <= SAME_NAME ? best.name : undefined;
}

/**
 * The smallest listed drill that is not under the size, in mm: 5/32 in (3.96875 mm) gives `#22`, 3.9878 mm.
 * The list holds 10 to 52 and A to Z. Below #52, between #10 and A (drills 9 to 1 are not listed) and above Z it
 * answers undefined instead of a drill that is not the next one up.
 */
export function nearestDrillAtLeast(mm: number): Drill | undefined {
  const next = DRILLS.findIndex((drill) => drill.mm >= mm - NEAR);
  const drill = DRILLS[next];
  if (drill === undefined) return undefined;
  const before = DRILLS[next - 1];
  const gap = before === undefined ? Infinity : drill.mm - before.mm;
  return gap > LONGEST_GAP && drill.mm - mm > SAME_NAME ? undefined : drill;
}

/** The size as a fraction of an inch in 64ths, when within 0.01 mm: 3.175 gives `1/8 in`, 28.575 gives `1 1/8 in`. */
export function fractionName(mm: number): string | undefined {
  const sixtyFourths = Math.round(inches(mm) * 64);
  if (!(sixtyFourths > 0) || Math.abs(millimetres(sixtyFourths / 64) - mm) > SAME_NAME) return undefined;
  const whole = Math.floor(sixtyFourths / 64);
  let top = sixtyFourths % 64;
  let bottom = 64;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  return `${[...(whole > 0 ? [whole] : []), ...(top > 0 ? [`${top}/${bottom}`] : [])].join(' ')} in`;
}
