import * as z from 'zod';
import { parseLength } from '../../units/read.ts';

/*
 * What a value of a panel file may be: a length in mm, a place along the span, a name. Every refusal of a length is one
 * sentence: what was found, what is expected, what to do.
 */

// Never makes code from text, which a strict content policy forbids.
z.config({ jitless: true });

const DESCRIBE_LENGTH = { anyOf: [{ type: 'number' }, { type: 'string' }] };

function showFound(v: unknown): string {
  if (v === undefined) return 'nothing';
  if (typeof v === 'string') return `the text "${v.length > 40 ? `${v.slice(0, 40)}…` : v}"`;
  if (Array.isArray(v)) return 'a list';
  if (v !== null && typeof v === 'object') return 'a group of values';
  return String(v);
}

/** A length in mm, or the sentence that refuses it. */
type Read = { readonly value: number } | { readonly refused: string };

/** A number is millimetres; text is read with its unit. */
function inMillimetres(v: unknown, what: string): Read {
  if (typeof v === 'number') return { value: v };
  if (typeof v === 'string') {
    const read = parseLength(v);
    return read.ok ? { value: read.value } : { refused: read.sentence };
  }
  if (v === undefined) return { refused: `it is missing; expected ${what} in mm; add it` };
  return {
    refused: `found ${showFound(v)}; expected ${what} in mm; write a number or text such as "0.025 in"`,
  };
}

/** Why a length cannot be, or undefined. */
function refusal(v: unknown, value: number, what: string, low: number, high: number): string | undefined {
  if (!Number.isFinite(value)) return `found ${showFound(v)}; expected ${what} in mm; write an ordinary number`;
  if (value >= low && value <= high) return undefined;
  const hint =
    value < 0 && low >= 0
      ? 'it cannot be negative; check the sign'
      : 'check the unit: numbers are millimetres, inches need "in"';
  return `found ${value} mm; expected ${what} from ${low} to ${high} mm; ${hint}`;
}

/** A length in mm between two bounds; every refusal is one sentence. */
export function aLength(what: string, low: number, high: number) {
  return z
    .unknown()
    .transform((v, ctx): number => {
      const read = inMillimetres(v, what);
      const message = 'refused' in read ? read.refused : refusal(v, read.value, what, low, high);
      if ('value' in read && message === undefined) return read.value;
      ctx.addIssue({ code: 'custom', message });
      return z.NEVER;
    })
    .meta({ ...DESCRIBE_LENGTH, description: `${what}, mm` });
}

export const aThickness = aLength('a sheet thickness', 0.1, 6.5);
export const aSize = aLength('a size', 0, 6000);
export const aPlace = aLength('a place along the span', -500000, 500000);
export const anOffset = aLength('an offset', -500, 500);
/**
 * The smallest drill or rivet taken, mm: picked; the finest number drill, #80, is 0.34. A rivet's drill in bare
 * inches lies below.
 */
export const LEAST_DRILL = 0.3;
export const aDrill = aLength('a hole diameter', LEAST_DRILL, 60);
/** The diameter of a hole that may not be there yet. */
export const aHoleYet = aLength('a hole diameter', 0, 60);
export const aNumber = (what: string, low: number, high: number) =>
  z.number().min(low).max(high).meta({ description: what });

export const anId = z
  .string()
  .regex(/^[A-Za-z][A-Za-z0-9-]{0,23}$/)
  .meta({ description: 'a short name: a letter, then letters, digits or hyphens, 24 at most' });
export const aText = z.string().max(500);
const alongPoints = z
  .array(z.tuple([aPlace, aSize]))
  .min(1)
  .max(200);

/** One number for the whole span, or [place, value] pairs with straight lines between and constant beyond. */
export const anAlong = z
  .unknown()
  .transform((v, ctx): number | [number, number][] => {
    const read = (Array.isArray(v) ? alongPoints : aSize).safeParse(v);
    if (read.success) return read.data as number | [number, number][];
    for (const issue of read.error.issues)
      ctx.addIssue({ code: 'custom', message: issue.message, path: [...issue.path] });
    return z.NEVER;
  })
  .meta({
    anyOf: [...DESCRIBE_LENGTH.anyOf, { type: 'array', items: { type: 'array', minItems: 2, maxItems: 2 } }],
    description: 'one length for the whole span, or [place along the span, length] pairs, straight between them; mm',
  });
