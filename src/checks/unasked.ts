import { meaningFaults } from '../model/file/faults.ts';
import type { Kind } from '../model/quantities.ts';
import type { Model, Reading } from '../model/schema.ts';
import { sizeBook } from '../model/sizes.ts';
import { checkAll } from './checkAll.ts';
import type { Finding } from './finding.ts';
import { type PanelSize, panelSizes, stepOf } from './panelSizes.ts';

/*
 * Asks: which sizes of a panel does no check rest on? A size is asked about where it stands in a finding's chain; any
 * other is tried: moved a little, up and down, does any finding change? So what is listed here is what the checks do
 * not see, whatever anybody believes of them.
 */

/** A size that nobody looks at. */
export interface Unasked {
  readonly size: string;
  readonly part: string;
  readonly why: string;
}

/**
 * Sizes that carry no fit, by table and column, each with its reason. The short list of what may be wrong and spoil
 * nothing that this program asks about; whatever else is listed stands there for want of a check, a joint or a
 * reading.
 */
const NO_FIT: Readonly<Record<string, string>> = {
  'lightening.fromFront': 'a lightening hole meets no other part; the file is refused where it leaves the web',
  'lightening.above': 'a lightening hole meets no other part; the file is refused where it leaves the web',
  'lightening.diameter': 'a lightening hole meets no other part; the file is refused where it leaves the web',
  'nose.tail.joggle': 'an end that butts has no cap to go under',
  'joints.pilot': 'a pilot is opened to its final size, and that is asked about',
};

/** Sizes that a check takes up as soon as something is read or drilled, by table and column: what it waits for. */
const WAITS: Readonly<Record<string, string>> = {
  'stations.washout': 'no twist was read yet to hold against it',
  'joints.final': 'no hole of its row is drilled yet',
};

/** What is said of a size that stands in no table of reasons. */
const NOBODY = 'no check rests on it here';

/** Kinds of reading that say directly what others say by their parts. */
const DIRECT: ReadonlySet<Kind> = new Set<Kind>(['protrusion', 'clear', 'gap', 'edge']);

/** A finding as far as a size can move it; its words may turn on more. */
const told = ({ id, value, low, high, verdict, limits }: Finding): string =>
  JSON.stringify([id, value, low, high, verdict, limits.fits, limits.act]);

/** Whether two lists of findings say the same. */
function isSame(a: readonly Finding[], b: readonly Finding[]): boolean {
  return a === b || (a.length === b.length && a.every((f, i) => f === b[i] || told(f) === told(b[i] as Finding)));
}

/** Sizes moved together, each by a little more than the one before, so that no two make up for each other. */
function together(model: Model, sizes: readonly PanelSize[], sign: 1 | -1): Model {
  return sizes.reduce((m, size, i) => size.moved(m, (sign * stepOf(size)) / (1 + i / 100)), model);
}

/**
 * Whether any finding changes where sizes are moved; where the file refuses them moved either way, somebody looks
 * too.
 */
function isNoticed(model: Model, sizes: readonly PanelSize[]): boolean {
  const before = checkAll(model);
  const panels = [together(model, sizes, 1), together(model, sizes, -1)];
  const possible = panels.filter((m) => meaningFaults(m).length === 0);
  return possible.length < 1 || possible.some((m) => !isSame(before, checkAll(m)));
}

/** Those of some sizes that no finding rests on: tried together, and by halves where somebody notices. */
function unnoticed(model: Model, sizes: readonly PanelSize[]): PanelSize[] {
  if (sizes.length === 0) return [];
  if (!isNoticed(model, sizes)) return [...sizes];
  if (sizes.length === 1) return [];
  const half = sizes.length >> 1;
  return [...unnoticed(model, sizes.slice(0, half)), ...unnoticed(model, sizes.slice(half))];
}

/** Keys of the sizes that findings rest on. */
function rested(model: Model): ReadonlySet<string> {
  const keys = checkAll(model).flatMap((f) => f.restsOn.filter((t) => t.c !== 0).map((t) => t.size.key));
  return new Set(keys);
}

/**
 * The reading that a size gives way to: what was read directly at its station, without which a check would rest on
 * it.
 */
function readInstead(model: Model, size: PanelSize): string | undefined {
  const { entryOf } = sizeBook(model);
  const { key } = size;
  const station = key === undefined ? undefined : entryOf(key)?.of.station;
  if (key === undefined || station === undefined) return undefined;
  const isDirect = (r: Reading): boolean => {
    const entry = entryOf(r.size);
    return entry?.of.station === station && DIRECT.has(entry.kind);
  };
  const direct = model.readings.filter(isDirect);
  const asked = direct.find((r) => rested({ ...model, readings: model.readings.filter((x) => x !== r) }).has(key));
  return asked && entryOf(asked.size)?.name;
}

function whyOf(model: Model, size: PanelSize): string {
  const said = NO_FIT[size.sort] ?? WAITS[size.sort];
  if (said !== undefined) return said;
  const instead = readInstead(model, size);
  return instead === undefined ? NOBODY : `the ${instead} was read, and that goes before it`;
}

/** Sizes of a panel that no check rests on, in the order of Build, each with its reason. */
export function unaskedOf(model: Model): readonly Unasked[] {
  const keys = rested(model);
  const inNoChain = panelSizes(model).filter(({ key }) => key === undefined || !keys.has(key));
  const sorts = [...new Set(inNoChain.map((s) => s.sort))];
  const blind = sorts.flatMap((sort) =>
    unnoticed(
      model,
      inNoChain.filter((s) => s.sort === sort),
    ),
  );
  return blind.map((s) => ({ size: s.size, part: s.part, why: whyOf(model, s) }));
}
