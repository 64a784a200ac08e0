import type { Along, Model, Rib, RibEnd, Spar } from '../../schema.ts';
import { type Fault, type Faults, inMm } from './fault.ts';

/* Metal of nothing: a length, a width or a height that no part can have. */

/** The least that any side of a part or of a room for one may be, mm: picked. */
const LEAST = 1;

/** One size of metal: the path to it, its name and what it is. */
type Body = readonly [path: string, name: string, value: number | undefined];

function* alongBodies(path: string, name: string, along: Along): Generator<Body> {
  if (typeof along === 'number') yield [path, name, along];
  else for (const [i, [, value]] of along.entries()) yield [`${path}[${i}]`, name, value];
}

function* sparBodies(name: string, spar: Spar): Generator<Body> {
  yield* alongBodies(`spars.${name}.depth`, `depth of the ${name} spar`, spar.depth);
  yield* alongBodies(`spars.${name}.capWidth`, `cap width of the ${name} spar`, spar.capWidth);
}

/** The ends of a rib, by name. */
export function endsOf(rib: Rib): Readonly<Record<string, RibEnd>> {
  if (rib.kind === 'main') return { front: rib.front, rear: rib.rear };
  return rib.kind === 'nose' ? { tail: rib.tail } : { rear: rib.rear };
}

function* ribBodies(rib: Rib, path: string): Generator<Body> {
  yield [`${path}.length`, `length of ${rib.id}`, rib.length];
  yield [`${path}.flange`, `flange of ${rib.id}`, rib.flange];
  for (const [word, end] of Object.entries(endsOf(rib))) {
    yield [`${path}.${word}.height`, `height of the ${word} end of ${rib.id}`, end.height];
    yield [`${path}.${word}.tab`, `${word} end flange of ${rib.id}`, end.tab];
  }
  if (rib.kind === 'tip') yield [`${path}.height`, `height of ${rib.id} at the front spar`, rib.height];
  if (rib.flutes) yield [`${path}.flutes.width`, `width of a flute of ${rib.id}`, rib.flutes.width];
}

function* pieceBodies({ doublers, brackets }: Model): Generator<Body> {
  for (const [i, d] of doublers.entries()) {
    yield [`doublers[${i}].width`, `width of ${d.id}`, d.width];
    yield [`doublers[${i}].height`, `height of ${d.id}`, d.height];
    yield [`doublers[${i}].leg`, `leg of ${d.id}`, d.leg];
  }
  for (const [i, b] of brackets.entries()) {
    yield [`brackets[${i}].width`, `width of ${b.id}`, b.width];
    yield [`brackets[${i}].height`, `height of ${b.id}`, b.height];
  }
}

function* bodiesOf(model: Model): Generator<Body> {
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    if (spar) yield* sparBodies(name, spar);
  }
  yield* alongBodies('webToWeb', 'room from web to web', model.webToWeb);
  for (const [i, rib] of model.ribs.entries()) yield* ribBodies(rib, `ribs[${i}]`);
  yield* pieceBodies(model);
}

const nothing = (path: string, name: string, value: number): Fault => ({
  path,
  sentence: `the ${name} is ${inMm(value)}; expected at least ${inMm(LEAST)}; write its size, or check the unit`,
});

/** Every side of a part has some length. */
export function* bodyFaults(model: Model): Faults {
  for (const [path, name, value] of bodiesOf(model))
    if (value !== undefined && value < LEAST) yield nothing(path, name, value);
}
