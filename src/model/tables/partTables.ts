import type { Bracket, Doubler, Model, Profile, Rib, RibEnd } from '../schema.ts';
import type { CellValue, Changes, Column, Row, Table } from './tables.ts';

/* Parts as sheets: a row a part, a column a size of its drawing. Ribs by kind, doublers and packers, brackets. */

export const sheetChoices = (m: Model): readonly (readonly [string, string])[] =>
  m.sheets.map((s) => [s.id, s.id] as const);

type Path = readonly string[];
const at = (thing: unknown, path: Path): unknown =>
  path.reduce<unknown>(
    (v, k) => (v !== null && typeof v === 'object' ? (v as Record<string, unknown>)[k] : undefined),
    thing,
  );
function withAt<T>(thing: T, path: Path, value: unknown): T {
  const [head, ...rest] = path;
  if (head === undefined) return value as T;
  const group = thing as Record<string, unknown>;
  return { ...group, [head]: withAt(group[head], rest, value) } as T;
}

type Group = 'ribs' | 'doublers' | 'brackets';

/** Reading and writing one field of the parts of a group, by the part's name. */
function field(group: Group, path: Path): Pick<Column, 'read' | 'write'> {
  return {
    read: (m, row) => {
      const v = at(
        m[group].find((p) => p.id === row),
        path,
      );
      return typeof v === 'number' || typeof v === 'string' ? v : undefined;
    },
    write: (m, changes: Changes) => ({
      ...m,
      [group]: m[group].map((p: Rib | Doubler | Bracket) =>
        changes.has(p.id) && at(p, path) !== undefined ? withAt(p, path, changes.get(p.id)) : p,
      ),
    }),
  };
}

type Say = Pick<Column, 'what' | 'where'> & Partial<Pick<Column, 'jaws'>>;
const length = (group: Group, path: string, head: string, name: string, say: Say, band?: string): Column => ({
  id: path,
  head,
  name,
  kind: 'length',
  size: (row) => `${row}.${path}`,
  ...(band === undefined ? {} : { band }),
  ...say,
  ...field(group, path.split('.')),
});
const choice = (
  group: Group,
  path: string,
  head: string,
  name: string,
  choices: NonNullable<Column['choices']>,
  say: Say,
  band?: string,
): Column => ({
  id: path,
  head,
  name,
  kind: 'choice',
  choices,
  ...(band === undefined ? {} : { band }),
  ...say,
  ...field(group, path.split('.')),
});

const SHEET: Say = {
  what: 'The sheet it is bent from.',
  where: 'The part’s title, or the material list.',
  jaws: 'thickness',
};
const ENDS: Say = {
  what: 'Nests inside the caps, or butts on the flat side of the web. A rib nests only where the channel opens toward it.',
  where: 'The section at this rib.',
};

/** Columns of one rib end. */
function endColumns(end: 'front' | 'rear' | 'tail'): Column[] {
  const band = `${end} end`;
  const col = (what: keyof RibEnd, head: string, name: string, say: Say) =>
    length('ribs', `${end}.${what}`, head, `${end} ${name}`, say, band);
  const reliefs: Column[] =
    end === 'tail'
      ? []
      : (['diameter', 'fromEnd'] as const).map(
          (what): Column => ({
            id: `${end}.relief.${what}`,
            head: what === 'diameter' ? 'relief' : 'relief at',
            name: `${end} relief hole ${what === 'diameter' ? 'size' : 'centre from the end'}`,
            kind: 'length',
            band,
            jaws: 'relief',
            ...(what === 'fromEnd' ? { size: (row: string) => `${row}.${end}.relief` } : {}),
            what:
              what === 'diameter'
                ? 'The round hole where flange and end flange meet, so that the corner does not crack.'
                : 'Centre of the relief hole from the rib’s end; it must lie clear of the cap’s edge.',
            where: 'The corner detail of the rib.',
            ...field('ribs', [end, 'relief', what]),
          }),
        );
  return [
    choice(
      'ribs',
      `${end}.ends`,
      'ends',
      `${end} end`,
      () => [
        ['nests', 'nests'],
        ['butts', 'butts'],
      ],
      ENDS,
      band,
    ),
    col('height', 'height', 'end height', {
      what: 'Over the flanges at the bend line, joggle included.',
      where: 'The rib’s drawing, at that end.',
      jaws: 'height',
    }),
    col('joggle', 'joggle', 'joggle', {
      what: 'How far each flange is set in so that the cap lies over it.',
      where: 'The rib’s drawing; about the cap’s thickness and what lies between.',
      jaws: 'joggle',
    }),
    col('tab', 'flange', 'end flange', {
      what: 'End flange, rib web face to free edge.',
      where: 'The rib’s end view.',
      jaws: 'width',
    }),
    col('row', 'row', 'row', {
      what: 'Rivet row from the rib’s web face. What is left to the edge is the edge distance.',
      where: 'The rib’s end view.',
      jaws: 'row',
    }),
    ...reliefs,
  ];
}

const ABOUT: readonly Column[] = [
  choice('ribs', 'sheet', 'sheet', 'sheet', sheetChoices, SHEET),
  {
    id: 'station',
    head: 'at',
    name: 'station',
    kind: 'choice',
    choices: (m) => m.stations.map((s) => [s.id, s.id] as const),
    what: 'Where it stands.',
    where: 'The plan view.',
    ...field('ribs', ['station']),
  },
];
const BODY: readonly Column[] = [
  length('ribs', 'flange', 'contour flange', 'contour flange', {
    what: 'Flange along the contour, web face to free edge.',
    where: 'The rib’s section.',
    jaws: 'width',
  }),
  length('ribs', 'radius', 'bend', 'inside bend radius', {
    what: 'Inside radius of its bends.',
    where: 'A note on the rib’s drawing.',
    jaws: 'radius',
  }),
  choice(
    'ribs',
    'turns',
    'turned',
    'way its flanges turn',
    () => [
      ['inboard', 'inboard'],
      ['outboard', 'outboard'],
    ],
    { what: 'Which way its flanges point.', where: 'The plan view: the side the flanges are drawn on.' },
  ),
];
const section = (shape: Profile | undefined): string | undefined =>
  shape === undefined ? undefined : shape.kind === 'naca4' ? shape.name : shape.kind;
const contour: Column = {
  id: 'contour',
  head: 'between the spars',
  name: 'shape between the spars',
  kind: 'text',
  what: 'How the contour runs behind the front spar: straight, or along a section. Changed under Shapes.',
  where: 'The rib’s drawing.',
  read: (m, row) => {
    const r = m.ribs.find((x) => x.id === row);
    return r && r.kind !== 'nose' ? (section(r.contour) ?? 'straight') : undefined;
  },
};

/** What a rib begins with when flutes are first asked for, mm. */
const FLUTE = { width: 10, depth: 1.5 };
function flutes(what: 'each' | 'width' | 'depth', head: string, name: string, say: string): Column {
  return {
    id: `flutes.${what}`,
    head,
    name,
    kind: what === 'each' ? 'count' : 'length',
    band: 'flutes',
    what: say,
    where: 'A note on the rib’s drawing; often left to the builder.',
    read: (m, row) => {
      const r = m.ribs.find((x) => x.id === row);
      return what === 'each' ? (r?.flutes?.each ?? 0) : r?.flutes?.[what];
    },
    write: (m, changes) => ({
      ...m,
      ribs: m.ribs.map((r): Rib => {
        const value = changes.get(r.id);
        if (typeof value !== 'number' || (what !== 'each' && !r.flutes)) return r;
        const { flutes: had, ...rest } = r;
        return what === 'each' && value === 0
          ? (rest as Rib)
          : ({ ...rest, flutes: { ...FLUTE, each: 1, ...had, [what]: value } } as Rib);
      }),
    }),
  };
}
const FLUTES: readonly Column[] = [
  flutes(
    'each',
    'each',
    'flutes in each flange',
    'Shallow grooves pressed into each flange, evenly along it, that take up what a curved flange has to spare. 0 for none.',
  ),
  flutes('width', 'width', 'width of a flute', 'Along the flange.'),
  flutes('depth', 'depth', 'depth of a flute', 'Into the rib, at the flange’s edge; nothing at the bend.'),
];
const profile: Column = {
  id: 'profile',
  head: 'shape',
  name: 'shape of the nose',
  kind: 'text',
  what: 'The outside of the nose, cut by the front spar: ellipse, or a four-digit section by its name. Pasted coordinates are kept under Shapes.',
  where: 'The rib’s drawing, or the section named on the plan.',
  read: (m, row) => {
    const r = m.ribs.find((x) => x.id === row);
    return r && r.kind !== 'main' ? section(r.profile) : undefined;
  },
};

function rows(m: Model, kind: Rib['kind']): Row[] {
  const places = new Map(m.stations.map((s) => [s.id, s.y]));
  return m.ribs
    .filter((r) => r.kind === kind)
    .map((r) => ({ id: r.id, name: r.id, station: r.station, y: places.get(r.station) ?? 0, part: r.id }))
    .sort((a, b) => a.y - b.y);
}

const LENGTHS: Record<Rib['kind'], Say> = {
  main: { what: 'Over the end flanges along the chord line.', where: 'The rib’s drawing.', jaws: 'length' },
  nose: { what: 'Tail flange face to nose point.', where: 'The nose rib’s drawing.', jaws: 'noseLength' },
  tip: { what: 'Rear end to nose point, in one piece.', where: 'The tip rib’s drawing.', jaws: 'tipLength' },
};

export const MAIN_RIBS: Table = {
  id: 'main',
  name: 'the main ribs',
  rows: (m) => rows(m, 'main'),
  columns: (m) => [
    ...ABOUT,
    length('ribs', 'length', 'length', 'length', LENGTHS.main),
    ...endColumns('front'),
    ...(m.spars.rear ? endColumns('rear') : []),
    contour,
    ...BODY,
    ...FLUTES,
  ],
};
export const NOSE_RIBS: Table = {
  id: 'nose',
  name: 'the nose ribs',
  rows: (m) => rows(m, 'nose'),
  columns: () => [
    ...ABOUT,
    length('ribs', 'length', 'length', 'length', LENGTHS.nose),
    ...endColumns('tail'),
    profile,
    ...BODY,
    ...FLUTES,
  ],
};
export const TIP_RIBS: Table = {
  id: 'tip',
  name: 'the tip ribs',
  rows: (m) => rows(m, 'tip'),
  columns: (m) => [
    ...ABOUT,
    length('ribs', 'length', 'length', 'length', LENGTHS.tip),
    length('ribs', 'height', 'at the front spar', 'contour height at the front spar', {
      what: 'Height of its contour where it passes the front spar.',
      where: 'The tip rib’s drawing.',
    }),
    choice(
      'ribs',
      'registered',
      'held by',
      'way it is held',
      () => [
        ['rear', 'its rear end'],
        ['front', 'a clip in front'],
      ],
      {
        what: 'Held fore and aft by its rear end on the rear web, or by a clip on the front spar. It decides which sizes move its nose.',
        where: 'Which face the tip rib is dimensioned from.',
      },
    ),
    length('ribs', 'clip.forward', 'clip hole', 'clip hole ahead of the web', {
      what: 'Clip’s hole ahead of the front web.',
      where: 'The clip’s drawing.',
    }),
    length('ribs', 'clip.noseToHole', 'nose to hole', 'nose to clip hole', {
      what: 'Nose point to the hole for the clip.',
      where: 'The tip rib’s drawing.',
      jaws: 'noseLength',
    }),
    ...(m.spars.rear ? endColumns('rear') : []),
    profile,
    contour,
    ...BODY,
    ...FLUTES,
  ],
};

const inForce = (m: Model, station: string): number => m.stations.find((s) => s.id === station)?.y ?? 0;
const optional = (path: keyof Doubler, head: string, name: string, say: Say): Column => ({
  id: path,
  head,
  name,
  kind: 'length',
  size: (row) => `${row}.${path}`,
  ...say,
  read: (m, row) => {
    const v = m.doublers.find((d) => d.id === row)?.[path];
    return typeof v === 'number' ? v : undefined;
  },
  write: (m, changes) => ({
    ...m,
    doublers: m.doublers.map((d) => (changes.has(d.id) ? { ...d, [path]: changes.get(d.id) as number } : d)),
  }),
});

export const DOUBLERS: Table = {
  id: 'doublers',
  name: 'the doublers and packers',
  rows: (m) =>
    m.doublers.map((d) => {
      const station = m.ribs.find((r) => r.id === d.part)?.station ?? null;
      return { id: d.id, name: d.id, station, y: station === null ? 0 : inForce(m, station), part: d.id };
    }),
  columns: () => [
    choice(
      'doublers',
      'form',
      'form',
      'form',
      () => [
        ['channel', 'channel'],
        ['flat', 'flat'],
      ],
      {
        what: 'A channel covers web and both caps in one bent piece; a flat piece lies on one face.',
        where: 'The detail at the rib end.',
      },
    ),
    choice(
      'doublers',
      'on',
      'on',
      'face it lies on',
      () => [
        ['web', 'web'],
        ['top', 'top cap'],
        ['bottom', 'bottom cap'],
      ],
      { what: 'Where a flat piece lies; a channel says web.', where: 'The detail at the rib end.' },
    ),
    choice('doublers', 'sheet', 'sheet', 'sheet', sheetChoices, SHEET),
    {
      id: 'part',
      head: 'of',
      name: 'rib it belongs to',
      kind: 'choice',
      choices: (m) => m.ribs.map((r) => [r.id, r.id] as const),
      what: 'The rib it lies against.',
      where: 'The detail at the rib end.',
      ...field('doublers', ['part']),
    },
    choice(
      'doublers',
      'end',
      'at its',
      'rib end it is at',
      () => [
        ['front', 'front'],
        ['rear', 'rear'],
        ['tail', 'tail'],
      ],
      { what: 'At which end of that rib.', where: 'The detail at the rib end.' },
    ),
    optional('radius', 'bend', 'inside bend radius', {
      what: 'Inside radius of a channel’s bends. Its outside must not be sharper than the spar’s inside, or it rides on the bend.',
      where: 'The doubler’s drawing.',
      jaws: 'radius',
    }),
    optional('height', 'height', 'height', {
      what: 'Height of a flat piece on a web.',
      where: 'The doubler’s drawing.',
    }),
    optional('leg', 'leg', 'outside leg', { what: 'Outside leg of a channel.', where: 'The doubler’s drawing.' }),
    length('doublers', 'width', 'width', 'width', { what: 'Along the span.', where: 'The doubler’s drawing.' }),
    {
      id: 'designed',
      head: 'said by',
      name: 'origin',
      kind: 'choice',
      choices: () => [
        ['yes', 'the drawing'],
        ['no', 'a cure'],
      ],
      what: 'On the drawing, or added as a cure.',
      where: 'Only the drawing can say.',
      read: (m, row) => {
        const d = m.doublers.find((x) => x.id === row);
        return d && (d.designed ? 'yes' : 'no');
      },
      write: (m, changes: ReadonlyMap<string, CellValue>) => ({
        ...m,
        doublers: m.doublers.map((d) => (changes.has(d.id) ? { ...d, designed: changes.get(d.id) === 'yes' } : d)),
      }),
    },
  ],
};

export const BRACKETS: Table = {
  id: 'brackets',
  name: 'the brackets',
  rows: (m) =>
    m.brackets.map((b) => ({ id: b.id, name: b.id, station: b.station, y: inForce(m, b.station), part: b.id })),
  columns: () => [
    choice(
      'brackets',
      'spar',
      'on',
      'spar it sits on',
      (m) => [['front', 'front spar'], ...(m.spars.rear ? [['rear', 'rear spar'] as const] : [])],
      { what: 'The spar it is riveted to.', where: 'The plan view.' },
    ),
    choice('brackets', 'station', 'at', 'station', (m) => m.stations.map((s) => [s.id, s.id] as const), {
      what: 'Where it sits.',
      where: 'The plan view.',
    }),
    choice('brackets', 'sheet', 'sheet', 'sheet', sheetChoices, SHEET),
    length('brackets', 'width', 'width', 'width', { what: 'Along the span.', where: 'The bracket’s drawing.' }),
    length('brackets', 'height', 'height', 'height', {
      what: 'Up and down on the web.',
      where: 'The bracket’s drawing.',
    }),
    length('brackets', 'edge', 'edge', 'row to edge', {
      what: 'From the rivet row to the nearest free edge.',
      where: 'The bracket’s drawing.',
    }),
  ],
};
