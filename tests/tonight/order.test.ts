import { describe, expect, test } from 'vitest';
import type { HoleAnswer } from '../../src/drilling/hole.ts';
import { FREE, type Remedy } from '../../src/remedies/remedy.ts';
import { type Act, type Draft, draft } from '../../src/tonight/act.ts';
import {
  type Before,
  byState,
  causesFirst,
  disputedFirst,
  inOrder,
  metalOnce,
  onlyNow,
  readingFirst,
  withinHours,
} from '../../src/tonight/order.ts';

/* The rules of order, each by itself, on acts made up for it. */

const act = (key: string, more: Partial<Draft> = {}): Draft =>
  draft({ key, kind: 'read', phase: 'survey', what: key, why: '', brief: key, once: key, minutes: 10, ...more });
const nowhere = (): number => 0;
const keys = (acts: readonly Draft[]): string[] => acts.map((a) => a.key);

const remedy = (cost: Partial<Remedy['cost']>): Remedy => ({
  id: 'r',
  kind: 'remake',
  name: 'r',
  station: 'S1',
  part: 'M1',
  edit: { name: 'r', apply: (m) => m },
  cost: { ...FREE, ...cost },
  askDesigner: false,
  layers: false,
});

describe('what is disputed first', () => {
  test('it comes before every other act, also before a cause', () => {
    const all = [act('cause', { phase: 'cause', kind: 'make' }), act('again', { phase: 'disputed' })];
    expect(disputedFirst(all)).toEqual([['again', 'cause']]);
    expect(keys(inOrder(all, disputedFirst(all), nowhere))).toEqual(['again', 'cause']);
  });
});

describe('causes before what they cause', () => {
  test('an act comes after what it rests on, whatever their states', () => {
    const all = [act('early', { phase: 'cause', rests: ['late'] }), act('late', { phase: 'nose' })];
    expect(keys(inOrder(all, causesFirst(all), nowhere))).toEqual(['late', 'early']);
  });
  test('what is not in the list holds nobody up', () => {
    expect(causesFirst([act('a', { rests: ['gone'] })])).toEqual([]);
  });
});

describe('reading before metal', () => {
  test('the reading that decides a piece comes before it, others keep their state', () => {
    const all = [act('metal', { phase: 'metal', kind: 'make' }), act('reading', { phase: 'survey' })];
    const pairs: Before[] = [['reading', 'metal']];
    expect(keys(inOrder(all, readingFirst(all, pairs), nowhere))).toEqual(['reading', 'metal']);
    expect(keys(inOrder(all, readingFirst(all, []), nowhere))).toEqual(['metal', 'reading']);
    expect(readingFirst(all, [['gone', 'metal']])).toEqual([]);
  });
});

describe('loose, standing, clamped, drilled', () => {
  test('acts come in the order of the states, in one state from the root out', () => {
    const along = (s: string | undefined): number => (s === 'S1' ? 1 : 2);
    const all = [
      act('drill', { phase: 'drill' }),
      act('square', { phase: 'square' }),
      act('far', { phase: 'metal', stations: ['S2'] }),
      act('near', { phase: 'metal', stations: ['S1'] }),
    ];
    expect(keys([...all].sort((a, b) => byState(a, b, along)))).toEqual(['near', 'far', 'square', 'drill']);
  });
});

describe('nothing is drilled before its gate says yes', () => {
  test('a hole that waits, or whose gate does not say yes, is left out', () => {
    const hole = (id: string, state: HoleAnswer['state'], gate: HoleAnswer['gate']): HoleAnswer =>
      ({ id, state, gate }) as HoleAnswer;
    const holes = [hole('a', 'now', 'yes'), hole('b', 'now', 'unsettled'), hole('c', 'not yet', 'yes')];
    expect(onlyNow(holes).map((h) => h.id)).toEqual(['a']);
  });
});

describe('metal once', () => {
  test('a rib that is made again is not shimmed too: one act answers both', () => {
    const shim = act('shim', { kind: 'make', parts: ['M1'], settles: ['gap'], remedies: [remedy({ pieces: 1 })] });
    const again = act('again', { kind: 'make', parts: ['M1'], settles: ['length'], remedies: [remedy({ remade: 1 })] });
    const [one, ...more] = metalOnce([shim, again]);
    expect(more).toEqual([]);
    expect(one?.key).toBe('again');
    expect([...(one?.settles ?? [])].sort()).toEqual(['gap', 'length']);
  });
  test('acts on two parts stay two, and a reading is no metal', () => {
    const all = [act('a', { kind: 'make', parts: ['M1'] }), act('b', { kind: 'make', parts: ['M2'] })];
    expect(metalOnce([...all, act('read', { parts: ['M1'] })])).toHaveLength(3);
  });
});

describe('an evening has hours', () => {
  const acts = inOrder([act('a'), act('b'), act('c')], [], nowhere);
  const numbers = (list: readonly Act[]): number[] => list.map((a) => a.n);
  test('it is cut where it no longer fits: of three acts of ten minutes a third of an hour takes two', () => {
    const { tonight, later } = withinHours(acts, 1 / 3);
    expect([numbers(tonight), numbers(later)]).toEqual([[1, 2], [3]]);
  });
  test('the first act is never cut, and with no hours nothing is', () => {
    expect(numbers(withinHours(acts, 0.01).tonight)).toEqual([1]);
    expect(withinHours(acts, undefined).later).toEqual([]);
  });
});
