import { doubtsOff, type Expected, saidByOthers } from '../../chains/neighbours.ts';
import { formatAngle, formatLength } from '../../units.ts';
import { type Kind, QUANTITIES } from '../quantities.ts';
import type { Model, Reading } from '../schema.ts';
import type { SizeEntry } from '../sizeEntries.ts';
import { type InRow, inRow, type Laid } from './rows.ts';
import { slipAsked } from './slip.ts';

/*
 * Which readings are asked about? One that no drawing can be held against is held to its neighbours in its row.
 * Further off than five standard doubts of what they say it looks like a slip: it is kept, and nothing that rests on
 * it is believed until a person has said that it reads so, or has read it again.
 */

/** A reading that is asked about. */
export interface AskedReading {
  readonly reading: Reading;
  readonly entry: SizeEntry;
  /** What its neighbours say it is about, in its own unit. */
  readonly expected: number;
  /** The slip that would explain it, as a question: "a slipped decimal?" */
  readonly slip: string;
  /** What it reads and what is expected, as a fact. */
  readonly reads: string;
  /** The whole question: what it reads, what its neighbours say, what it may be. */
  readonly question: string;
}

/** What is expected of a reading, and who says so: the readings beside it, or what is usual of its kind. */
interface Said extends Expected {
  readonly by: 'neighbours' | 'usage';
}

/** A reading so many standard doubts off what its neighbours say is asked about: picked. */
const FAR = 5;

/** What is looked up of a panel to ask about its readings. */
export interface Readings {
  readonly model: Pick<Model, 'readings' | 'stations' | 'joints' | 'webToWeb' | 'survey' | 'units'>;
  readonly entries: ReadonlyMap<string, SizeEntry>;
  /** Standard uncertainty of a reading of a kind with its instrument. */
  readonly uOf: (kind: Kind, instrument: string) => number;
}

/**
 * Rows that are held to one another where one alone says too little depart so much more from smooth, mm: picked, half
 * a degree of twist on a chord of half a metre.
 */
const BETWEEN_ROWS = 4;

/**
 * What is expected of a reading by the others of its row; where too few were read, by the rows beside it, then by
 * what its kind is usually about.
 */
export function expectedOf(one: InRow, row: readonly InRow[], beside: readonly InRow[]): Said | undefined {
  const others = (list: readonly InRow[]): InRow[] => list.filter((o) => o !== one);
  const said =
    saidByOthers(one.at, others(row), one.usual.smooth) ?? saidByOthers(one.at, others(beside), BETWEEN_ROWS);
  if (said) return { ...said, by: 'neighbours' };
  return one.usual.about === undefined ? undefined : { value: 0, u: one.usual.about, by: 'usage' };
}

/** All readings that are held to others, by the rows that are held to one another. */
export function groupsOf({ model, entries, uOf }: Readings): ReadonlyMap<string, readonly InRow[]> {
  const laid: Laid = {
    model,
    stations: new Map(model.stations.map((s) => [s.id, s])),
    joints: new Map(model.joints.map((j) => [j.id, j])),
  };
  const groups = new Map<string, InRow[]>();
  for (const reading of model.readings) {
    const entry = reading.worked ? undefined : entries.get(reading.size);
    const one = entry && inRow(laid, entry, reading, uOf(entry.kind, reading.instrument));
    if (!one) continue;
    const group = groups.get(one.group);
    if (group) group.push(one);
    else groups.set(one.group, [one]);
  }
  return groups;
}

function worded(one: InRow, expected: Said, units: Model['units']): AskedReading {
  const { reading, entry } = one;
  const show = (v: number): string =>
    QUANTITIES[entry.kind].unit === 'deg' ? formatAngle((v * Math.PI) / 180) : formatLength(v, units);
  const about = expected.value + one.drawn;
  const isNear = (v: number): boolean => doubtsOff({ ...one, value: v - one.drawn }, expected) <= FAR;
  const slip = slipAsked(reading.value, isNear);
  const others =
    expected.by === 'neighbours' ? `its neighbours say about ${show(about)}` : `about ${show(about)} is usual`;
  const reads = `${entry.name} reads ${show(reading.value)} where ${others}`;
  return { reading, entry, expected: about, reads, question: `The ${reads}: ${slip}`, slip };
}

interface Off {
  readonly one: InRow;
  readonly expected: Said;
  readonly off: number;
}

/** So many to each side of a reading are looked at. */
const BESIDE = 8;

/** The rows of a group, each in the order it lies. */
function rowsIn(group: readonly InRow[]): InRow[][] {
  const rows = new Map<string, InRow[]>();
  for (const one of [...group].sort((a, b) => a.at - b.at)) {
    const row = rows.get(one.row);
    if (row) row.push(one);
    else rows.set(one.row, [one]);
  }
  return [...rows.values()];
}

/** The reading that is furthest off of those too far off; undefined where none is. */
function worstOf(group: readonly InRow[]): Off | undefined {
  let worst: Off | undefined;
  for (const row of rowsIn(group))
    for (const [i, one] of row.entries()) {
      const near = row.slice(Math.max(0, i - BESIDE), i + BESIDE + 1);
      const expected = one.reading.sure ? undefined : expectedOf(one, near, group);
      const off = expected ? doubtsOff(one, expected) : 0;
      if (expected && off > (worst?.off ?? FAR)) worst = { one, expected, off };
    }
  return worst;
}

/**
 * Those of a group that are asked about. The worst is set aside before the others are looked at again, so that it
 * spoils none of them.
 */
function askedIn(group: readonly InRow[], units: Model['units']): AskedReading[] {
  const asked: AskedReading[] = [];
  let left = group;
  for (let worst = worstOf(left); worst; worst = worstOf(left)) {
    const { one, expected } = worst;
    asked.push(worded(one, expected, units));
    left = left.filter((o) => o !== one);
  }
  return asked;
}

/** Every reading of a panel that is asked about. */
export function askedReadings(readings: Readings): ReadonlyMap<Reading, AskedReading> {
  const all = [...groupsOf(readings).values()].flatMap((group) => askedIn(group, readings.model.units));
  return new Map(all.map((a) => [a.reading, a]));
}
