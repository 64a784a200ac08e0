import type { Told } from '../../chains/neighbours.ts';
import { alongAt } from '../along.ts';
import type { Kind } from '../quantities.ts';
import { UPRIGHT } from '../quantities.ts';
import type { Joint, Model, Reading, Station } from '../schema.ts';
import type { SizeEntry } from '../sizeEntries.ts';

/*
 * Readings of like things that lie in a row: along the span from station to station, or from hole to hole. No drawing
 * gives their values, but each is held to the others.
 */

/** What is usual of a kind of reading that no drawing gives. */
interface Usual {
  /** How far an honest row departs from smooth, one standard deviation, beside the instrument's: picked. */
  readonly smooth: number;
  /**
   * How far from what is aimed at the kind lies where there is no row to hold it to, one standard deviation: picked;
   * none where nothing is aimed at.
   */
  readonly about?: number;
}

const USUAL: Partial<Readonly<Record<Kind, Usual>>> = {
  bench: { smooth: 0.5, about: 4 },
  heightOver: { smooth: 1 },
  level: { smooth: 0.4, about: 1.2 },
  plumb: { smooth: 2, about: 6 },
  bow: { smooth: 0.7, about: 4 },
  camber: { smooth: 1, about: 4 },
  lean: { smooth: 1.2, about: 2.5 },
  skew: { smooth: 1.5, about: 3 },
  droop: { smooth: 0.25, about: 0.8 },
  open: { smooth: 0.25, about: 0.8 },
  bias: { smooth: 0.4, about: 1 },
  offset: { smooth: 0.35 },
  edge: { smooth: 0.5 },
};

/**
 * Holes of a row may be off by so much of their pitch before one is taken for another, one standard deviation: a
 * tenth, picked.
 */
const OF_PITCH = 0.1;

/** What readings are laid into rows with, looked up once. */
export interface Laid {
  readonly model: Pick<Model, 'webToWeb' | 'survey'>;
  readonly stations: ReadonlyMap<string, Station>;
  readonly joints: ReadonlyMap<string, Joint>;
}

/** One reading in its row. */
export interface InRow extends Told {
  readonly row: string;
  /** The rows it is held to where its own says too little: heights of both spars; its own row alone for all others. */
  readonly group: string;
  readonly reading: Reading;
  readonly entry: SizeEntry;
  /** What was taken off the reading so that its row is smooth: how the drawing turns and raises it there. */
  readonly drawn: number;
  readonly usual: Usual;
}

/** How a drawing has the size there: washed out, or the rear spar higher; 0 where it says nothing. */
function drawnAt({ model }: Laid, { kind, of }: SizeEntry, station: Station, reading: Reading): number {
  const turned = (station.washout * Math.PI) / 180;
  if (kind === 'level') return station.washout;
  if (kind === 'plumb') return Math.tan(turned) * (reading.over ?? UPRIGHT);
  if (kind !== 'heightOver' || of.spar !== 'rear') return 0;
  return alongAt(model.survey.rearHigher, station.y) - Math.sin(turned) * alongAt(model.webToWeb, station.y);
}

/** Least distance from one hole of a joint to the next, mm; undefined with one hole. */
function pitchOf({ holes }: Joint): number | undefined {
  const [first, ...rest] = holes.flatMap((a, i) =>
    holes.slice(i + 1).map((b) => Math.hypot(a.along - b.along, a.up - b.up)),
  );
  return first === undefined ? undefined : Math.min(first, ...rest);
}

/** A reading of a hole in its row of holes. */
function amongHoles({ joints }: Laid, entry: SizeEntry, reading: Reading, u: number): InRow | undefined {
  const { of, kind } = entry;
  const joint = of.joint === undefined ? undefined : joints.get(of.joint);
  const hole = joint?.holes.find((h) => h.id === of.hole);
  const usual = USUAL[kind];
  if (!joint || !hole || !usual) return undefined;
  const isAcross = joint.on === 'top' || joint.on === 'bottom';
  const pitch = kind === 'offset' ? pitchOf(joint) : undefined;
  const row = `${joint.id} ${of.layer} ${of.axis ?? kind}`;
  return {
    row,
    group: row,
    at: isAcross ? hole.along : hole.up,
    value: reading.value,
    u,
    reading,
    entry,
    drawn: 0,
    usual: pitch === undefined || pitch === 0 ? usual : { ...usual, about: OF_PITCH * pitch },
  };
}

/** A reading in the row it belongs to; undefined where a drawing gives its value, or it lies in none. */
export function inRow(laid: Laid, entry: SizeEntry, reading: Reading, u: number): InRow | undefined {
  const { kind, of } = entry;
  const usual = USUAL[kind];
  if (entry.nominal !== undefined || !usual) return undefined;
  if (of.joint !== undefined) return amongHoles(laid, entry, reading, u);
  const station = of.station === undefined ? undefined : laid.stations.get(of.station);
  if (!station) return undefined;
  const drawn = drawnAt(laid, entry, station, reading);
  const row = [kind, of.spar, of.end, kind === 'plumb' ? reading.over : undefined].join(' ');
  const group = kind === 'heightOver' ? kind : row;
  return { row, group, at: station.y, value: reading.value - drawn, u, reading, entry, drawn, usual };
}
