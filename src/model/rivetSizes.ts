import { NEAR } from '../units/near.ts';
import type { Joint, Model, Rivet } from './schema.ts';

/*
 * Common rivet sizes with the holes they are put in. Diameters by 32nds; final drills of common practice for blind
 * rivets (#41, #30, #21, #11), pilots one or two sizes under. Government handbooks give the same drills; here they
 * are from memory.
 */

const inch = (v: number): number => Math.round(v * 254000) / 10000;

export interface RivetSize {
  /** Nominal diameter, mm. */
  readonly diameter: number;
  readonly pilot: number;
  readonly final: number;
}

/** 3/32, 1/8, 5/32 and 3/16 in. */
export const RIVET_SIZES: readonly RivetSize[] = [
  { diameter: inch(3 / 32), pilot: inch(0.067), final: inch(0.096) },
  { diameter: inch(1 / 8), pilot: inch(0.098), final: inch(0.1285) },
  { diameter: inch(5 / 32), pilot: inch(0.1285), final: inch(0.159) },
  { diameter: inch(3 / 16), pilot: inch(0.1285), final: inch(0.191) },
];

/** The size nearest a diameter, and the next larger one, which the largest has not. */
export function rivetSize(diameter: number): { readonly size: RivetSize; readonly next: RivetSize | undefined } {
  const off = (s: RivetSize): number => Math.abs(s.diameter - diameter);
  const size = RIVET_SIZES.reduce((best, s) => (off(s) < off(best) ? s : best));
  return { size, next: RIVET_SIZES[RIVET_SIZES.indexOf(size) + 1] };
}

/**
 * The marked range of a blind rivet's kth length: sixteenths of an inch, in thousandths (TM 9-2320-387-24-2: 1/16 in
 * wide). The second is 0.063 to 0.125 in.
 */
export function gripRange(k: number): [number, number] {
  const top = (n: number): number => Math.floor(n * 62.5 + NEAR) / 1000;
  return [k === 0 ? 0.508 : inch(top(k) + 0.001), inch(top(k + 1))];
}

/**
 * The rivet for a stack: one on hand whose range holds it, else the length whose range does. A stack of 2.72 mm takes
 * 0.063 to 0.125 in.
 */
export function rivetFor(stack: number, diameter: number, onHand: readonly Rivet[] = []): Rivet {
  const holds = onHand.find(
    (r) =>
      r.kind === 'blind' &&
      r.grip &&
      Math.abs(r.diameter - diameter) < 0.01 &&
      r.grip[0] <= stack &&
      stack <= r.grip[1],
  );
  if (holds) return holds;
  const ks = Array.from({ length: 40 }, (_, i) => i);
  const k = ks.find((n) => stack <= gripRange(n)[1]) ?? 39;
  // A stack that falls in the thousandth between two ranges takes the longer one.
  const [low, high] = gripRange(k);
  return { kind: 'blind', diameter, grip: stack < low ? [Math.min(low, stack), high] : [low, high] };
}

/** Pilot, final and next larger size of a joint with rivets of a diameter. */
export function drillsFor(diameter: number): Pick<Joint, 'pilot' | 'final' | 'next'> {
  const { size, next } = rivetSize(diameter);
  return {
    pilot: size.pilot,
    final: size.final,
    ...(next ? { next: { rivet: next.diameter, drill: next.final } } : {}),
  };
}

/** The rivets a start puts on hand: three lengths of the size in use, one of the next. */
export function rivetsOnHand(diameter: number): Model['stock']['rivets'] {
  const next = rivetSize(diameter).next;
  return [
    ...[0, 1, 2].map((k): Rivet => ({ kind: 'blind', diameter, grip: gripRange(k) })),
    ...(next ? [{ kind: 'blind', diameter: next.diameter, grip: gripRange(1) } as const] : []),
  ];
}
