import { alongAt, alongWith } from '../along.ts';
import { rearHigherOf } from '../drawn.ts';
import type { Along, Model, Spar, SparName } from '../schema.ts';
import type { Changes, Column, Table } from './tables.ts';

/*
 * Stations as rows: running dimensions from one datum, and what the drawing says of spars, webs, nose and twist
 * there.
 */

const near = (a: number, b: number): boolean => Math.abs(a - b) < 1e-6;

/** A length along the span after some stations moved: what was drawn at a station goes with it. */
function alongMoved(a: Along, moves: ReadonlyMap<number, number>): Along {
  if (typeof a === 'number') return a;
  return a.map(([y, v]): [number, number] => [moves.get(y) ?? y, v]).sort((p, q) => p[0] - q[0]);
}

/**
 * Stations moved along the span all at once; what is drawn at them goes along, and a spar or strip that ended there.
 */
export function moveStations(m: Model, to: ReadonlyMap<string, number>): Model {
  const moves = new Map(
    m.stations.flatMap((s): [number, number][] => {
      const y = to.get(s.id);
      return y === undefined || y === s.y ? [] : [[s.y, y]];
    }),
  );
  if (moves.size === 0) return m;
  const end = (y: number): number => [...moves].find(([from]) => near(from, y))?.[1] ?? y;
  const spar = (s: Spar): Spar => ({
    ...s,
    depth: alongMoved(s.depth, moves),
    capWidth: alongMoved(s.capWidth, moves),
    from: end(s.from),
    to: end(s.to),
    strips: s.strips.map((p) => ({
      ...p,
      from: near(p.from, s.from) ? end(p.from) : p.from,
      to: near(p.to, s.to) ? end(p.to) : p.to,
    })),
    webDoublers: s.webDoublers.map((p) => ({
      ...p,
      from: near(p.from, s.from) ? end(p.from) : p.from,
      to: near(p.to, s.to) ? end(p.to) : p.to,
    })),
  });
  return {
    ...m,
    stations: m.stations.map((s) => ({ ...s, y: moves.get(s.y) ?? s.y })),
    spars: { front: spar(m.spars.front), ...(m.spars.rear ? { rear: spar(m.spars.rear) } : {}) },
    webToWeb: alongMoved(m.webToWeb, moves),
    survey: { ...m.survey, rearHigher: alongMoved(m.survey.rearHigher, moves) },
  };
}

const numbers = (c: Changes): ReadonlyMap<string, number> =>
  new Map([...c].filter((x): x is [string, number] => typeof x[1] === 'number'));

/**
 * Whether the survey's height between the rear edges is the plain half difference of depths, which then follows the
 * spars.
 */
const followsDepth = (m: Model): boolean =>
  m.stations.every((s) => near(alongAt(m.survey.rearHigher, s.y), alongAt(rearHigherOf(m), s.y)));

function sparAlong(name: SparName, what: 'depth' | 'capWidth'): Pick<Column, 'read' | 'write'> {
  return {
    read: (m, row) => {
      const [spar, s] = [m.spars[name], m.stations.find((x) => x.id === row)];
      return spar && s ? alongAt(spar[what], s.y) : undefined;
    },
    write: (m, changes) => {
      const spar = m.spars[name];
      if (!spar) return m;
      const next: Model = {
        ...m,
        spars: { ...m.spars, [name]: { ...spar, [what]: alongWith(spar[what], m.stations, numbers(changes)) } },
      };
      return what === 'depth' && followsDepth(m)
        ? { ...next, survey: { ...next.survey, rearHigher: rearHigherOf(next) } }
        : next;
    },
  };
}

const own = (key: 'nose' | 'washout'): Pick<Column, 'read' | 'write'> => ({
  read: (m, row) => m.stations.find((s) => s.id === row)?.[key],
  write: (m, changes) => {
    const to = numbers(changes);
    const stations = m.stations.map((s) => {
      const value = to.get(s.id);
      return value === undefined ? s : { ...s, [key]: value };
    });
    return { ...m, stations };
  },
});

const COLUMNS: readonly Column[] = [
  {
    id: 'y',
    head: 'place',
    name: 'place',
    kind: 'length',
    what: 'Where the rib’s web stands along the span. Mark every one from the same datum with one pull of the tape: marks chained from rib to rib add up their errors.',
    where: 'The running dimensions of the plan view.',
    read: (m, row) => m.stations.find((s) => s.id === row)?.y,
    write: (m, changes) => moveStations(m, numbers(changes)),
  },
  {
    id: 'step',
    head: 'from the last',
    name: 'distance from the station before',
    kind: 'length',
    what: 'Only to compare with a drawing that gives it rib to rib. It is not marked from.',
    where: 'Rib to rib on the plan view.',
    read: (m, row) => {
      const i = m.stations.findIndex((s) => s.id === row);
      const [here, before] = [m.stations[i], m.stations[i - 1]];
      return here && before ? here.y - before.y : undefined;
    },
  },
  {
    id: 'front.depth',
    band: 'front spar',
    head: 'depth',
    name: 'front spar depth',
    kind: 'length',
    jaws: 'depth',
    size: (r) => `front.depth@${r}`,
    what: 'Over the caps, at the web.',
    where: 'The spar’s own drawing, or the section at this rib.',
    ...sparAlong('front', 'depth'),
  },
  {
    id: 'front.cap',
    band: 'front spar',
    head: 'cap',
    name: 'front cap width',
    kind: 'length',
    jaws: 'cap',
    size: (r) => `front.cap@${r}`,
    what: 'Web face to free edge of a cap.',
    where: 'The spar’s section.',
    ...sparAlong('front', 'capWidth'),
  },
  {
    id: 'rear.depth',
    band: 'rear spar',
    head: 'depth',
    name: 'rear spar depth',
    kind: 'length',
    jaws: 'depth',
    size: (r) => `rear.depth@${r}`,
    what: 'Over the caps, at the web.',
    where: 'The spar’s own drawing, or the section at this rib.',
    ...sparAlong('rear', 'depth'),
  },
  {
    id: 'rear.cap',
    band: 'rear spar',
    head: 'cap',
    name: 'rear cap width',
    kind: 'length',
    jaws: 'cap',
    size: (r) => `rear.cap@${r}`,
    what: 'Web face to free edge of a cap.',
    where: 'The spar’s section.',
    ...sparAlong('rear', 'capWidth'),
  },
  {
    id: 'webs',
    head: 'web to web',
    name: 'web to web',
    kind: 'length',
    jaws: 'webToWeb',
    size: (r) => `webs@${r}`,
    what: 'Forward face of the front web to forward face of the rear web.',
    where: 'The plan view, or the rib drawing with the sheets added.',
    read: (m, row) => {
      const s = m.stations.find((x) => x.id === row);
      return s && alongAt(m.webToWeb, s.y);
    },
    write: (m, changes) => ({ ...m, webToWeb: alongWith(m.webToWeb, m.stations, numbers(changes)) }),
  },
  {
    id: 'nose',
    head: 'nose',
    name: 'nose protrusion',
    kind: 'length',
    jaws: 'protrusion',
    size: (r) => `nose@${r}`,
    what: 'How far the nose stands ahead of the front web.',
    where: 'The nose rib’s drawing, or the plan view.',
    ...own('nose'),
  },
  {
    id: 'washout',
    head: 'twist',
    name: 'drawing twist',
    kind: 'angle',
    jaws: 'level',
    size: (r) => `level@${r}`,
    what: 'Degrees against the root, nose up plus. Washout is minus.',
    where: 'The rigging notes or the station table.',
    ...own('washout'),
  },
];

export const STATIONS: Table = {
  id: 'stations',
  name: 'the stations',
  rows: (m) => m.stations.map((s) => ({ id: s.id, name: s.id, station: s.id, y: s.y })),
  columns: (m) =>
    m.spars.rear
      ? COLUMNS
      : COLUMNS.filter((c) => !c.id.startsWith('rear.')).map((c) =>
          c.id === 'webs'
            ? {
                ...c,
                head: 'web to rear',
                name: 'web to the ribs’ rear ends',
                what: 'Forward face of the web to the rear ends of the ribs.',
              }
            : c,
        ),
};
