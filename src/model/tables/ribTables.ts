import type { RibEndName } from '../ribEnd.ts';
import type { Model, Profile, Rib, RibEnd } from '../schema.ts';
import { BENT_FROM, choiceColumn, field, lengthColumn, type Say, sheetChoices } from './partColumns.ts';
import type { Column, Row, Table } from './tables.ts';

/* Ribs as sheets, by kind: a row a rib, a column a size of its drawing. */

const ENDS: Say = {
  what: 'Nests inside the caps, or butts on the flat side of the web. A rib nests only where the channel opens toward it.',
  where: 'The section at this rib.',
};

/** Columns of one rib end. */
function endColumns(end: RibEndName): Column[] {
  const band = `${end} end`;
  const col = (what: keyof RibEnd, head: string, name: string, say: Say) =>
    lengthColumn('ribs', `${end}.${what}`, head, `${end} ${name}`, say, band);
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
    choiceColumn(
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
  choiceColumn('ribs', 'sheet', 'sheet', 'sheet', sheetChoices, BENT_FROM),
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
  lengthColumn('ribs', 'flange', 'contour flange', 'contour flange', {
    what: 'Flange along the contour, web face to free edge.',
    where: 'The rib’s section.',
    jaws: 'width',
  }),
  lengthColumn('ribs', 'radius', 'bend', 'inside bend radius', {
    what: 'Inside radius of its bends.',
    where: 'A note on the rib’s drawing.',
    jaws: 'radius',
  }),
  choiceColumn(
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
  shape?.kind === 'naca4' ? shape.name : shape?.kind;
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
    lengthColumn('ribs', 'length', 'length', 'length', LENGTHS.main),
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
    lengthColumn('ribs', 'length', 'length', 'length', LENGTHS.nose),
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
    lengthColumn('ribs', 'length', 'length', 'length', LENGTHS.tip),
    lengthColumn('ribs', 'height', 'at the front spar', 'contour height at the front spar', {
      what: 'Height of its contour where it passes the front spar.',
      where: 'The tip rib’s drawing.',
    }),
    choiceColumn(
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
    lengthColumn('ribs', 'clip.forward', 'clip hole', 'clip hole ahead of the web', {
      what: 'Clip’s hole ahead of the front web.',
      where: 'The clip’s drawing.',
    }),
    lengthColumn('ribs', 'clip.noseToHole', 'nose to hole', 'nose to clip hole', {
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
