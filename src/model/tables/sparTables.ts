import { sheetName } from '../drawn.ts';
import type { Edit } from '../edits/edits.ts';
import type { Model, Sheet, Spar, SparName, Strip } from '../schema.ts';
import { sheetChoices } from './partColumns.ts';
import type { Changes, Column, Row, Table } from './tables.ts';

/* Spars, the strips in their caps, and the sheets everything is made of. */

type End = 'to' | 'from';
/** What the file calls the two ends of a length of metal. */
const ENDS = { inboard: 'from', outboard: 'to' } as const satisfies Record<string, End>;

const isSpar = (row: string): row is SparName => row === 'front' || row === 'rear';

function sparField(key: 'sheet' | 'opens' | 'radius' | End): Pick<Column, 'read' | 'write'> {
  return {
    read: (m, row) => (isSpar(row) ? m.spars[row]?.[key] : undefined),
    write: (m, changes) => {
      const put = (name: SparName, s: Spar): Spar => (changes.has(name) ? { ...s, [key]: changes.get(name) } : s);
      return {
        ...m,
        spars: { front: put('front', m.spars.front), ...(m.spars.rear ? { rear: put('rear', m.spars.rear) } : {}) },
      };
    },
  };
}

export const SPAR_TABLE: Table = {
  id: 'spars',
  name: 'the spars',
  rows: (m) =>
    (['front', 'rear'] as const)
      .filter((n) => m.spars[n])
      .map((n): Row => ({ id: n, name: `${n} spar`, station: null, y: 0, part: n })),
  columns: () => [
    {
      id: 'sheet',
      head: 'sheet',
      name: 'sheet',
      kind: 'choice',
      choices: sheetChoices,
      jaws: 'thickness',
      what: 'The sheet it is bent from.',
      where: 'The material list.',
      ...sparField('sheet'),
    },
    {
      id: 'opens',
      head: 'opens',
      name: 'way the channel opens',
      kind: 'choice',
      choices: () => [
        ['aft', 'aft'],
        ['forward', 'forward'],
      ],
      what: 'The side the caps point to. Rib ends nest between the caps on that side.',
      where: 'The section.',
      ...sparField('opens'),
    },
    {
      id: 'radius',
      head: 'bend',
      name: 'inside bend radius',
      kind: 'length',
      jaws: 'radius',
      size: (r) => `${r}.radius`,
      what: 'Inside radius of its bends; doublers must clear it.',
      where: 'A note near the section.',
      ...sparField('radius'),
    },
    {
      id: 'inboard',
      head: 'starts at',
      name: 'inboard end',
      kind: 'length',
      what: 'Its end nearest the datum.',
      where: 'The plan view.',
      ...sparField(ENDS.inboard),
    },
    {
      id: 'outboard',
      head: 'ends at',
      name: 'outboard end',
      kind: 'length',
      what: 'Its far end.',
      where: 'The plan view.',
      ...sparField(ENDS.outboard),
    },
  ],
};

/** A strip's row is its spar and its number: `front/0`. */
const stripAt = (m: Model, row: string): Strip | undefined => {
  const [spar, i] = row.split('/');
  return isSpar(spar ?? '') ? m.spars[spar as SparName]?.strips[Number(i)] : undefined;
};
function stripField(key: keyof Strip): Pick<Column, 'read' | 'write'> {
  return {
    read: (m, row) => stripAt(m, row)?.[key],
    write: (m, changes: Changes) => {
      const put = (name: SparName, s: Spar): Spar => ({
        ...s,
        strips: s.strips.map((p, i) =>
          changes.has(`${name}/${i}`) ? { ...p, [key]: changes.get(`${name}/${i}`) } : p,
        ),
      });
      return {
        ...m,
        spars: { front: put('front', m.spars.front), ...(m.spars.rear ? { rear: put('rear', m.spars.rear) } : {}) },
      };
    },
  };
}

export const STRIPS: Table = {
  id: 'strips',
  name: 'the cap strips',
  rows: (m) =>
    (['front', 'rear'] as const).flatMap((n) =>
      (m.spars[n]?.strips ?? []).map(
        (p, i): Row => ({ id: `${n}/${i}`, name: `${n} strip ${i + 1}`, station: null, y: p.from, part: n }),
      ),
    ),
  columns: () => [
    {
      id: 'sheet',
      head: 'sheet',
      name: 'sheet',
      kind: 'choice',
      choices: sheetChoices,
      jaws: 'thickness',
      what: 'The sheet it is cut from.',
      where: 'The material list.',
      ...stripField('sheet'),
    },
    {
      id: 'caps',
      head: 'in',
      name: 'caps it lies in',
      kind: 'choice',
      choices: () => [
        ['both', 'both caps'],
        ['top', 'top cap'],
        ['bottom', 'bottom cap'],
      ],
      what: 'Which caps carry it, on their inside.',
      where: 'The spar’s section.',
      ...stripField('caps'),
    },
    {
      id: 'inboard',
      head: 'starts at',
      name: 'inboard end',
      kind: 'length',
      what: 'Its end nearest the datum.',
      where: 'The spar’s drawing.',
      ...stripField(ENDS.inboard),
    },
    {
      id: 'outboard',
      head: 'ends at',
      name: 'outboard end',
      kind: 'length',
      what: 'Its far end. A rib it runs under must be made for it: the room is less by two thicknesses.',
      where: 'The spar’s drawing. Where it was finished otherwise, put it as it is.',
      ...stripField(ENDS.outboard),
    },
  ],
};

function sheetField(key: 'alloy' | 'thickness'): Pick<Column, 'read' | 'write'> {
  return {
    read: (m, row) => m.sheets.find((s) => s.id === row)?.[key],
    write: (m, changes) => ({
      ...m,
      sheets: m.sheets.map((s) => (changes.has(s.id) ? ({ ...s, [key]: changes.get(s.id) } as Sheet) : s)),
    }),
  };
}

const ALLOYS: readonly Sheet['alloy'][] = [
  '2024-0',
  '2024-T3',
  '2024-T6',
  '5052-0',
  '5052-H32',
  '5052-H34',
  '5052-H36',
  '5052-H38',
  '6061-0',
  '6061-T4',
  '6061-T6',
  '7075-0',
  '7075-T6',
];

export const SHEET_TABLE: Table = {
  id: 'sheets',
  name: 'the sheets',
  rows: (m) => m.sheets.map((s): Row => ({ id: s.id, name: s.id, station: null, y: 0 })),
  columns: () => [
    {
      id: 'thickness',
      head: 'thickness',
      name: 'thickness',
      kind: 'length',
      jaws: 'thickness',
      size: (r) => `sheet.${r}`,
      what: 'Clear of bends, burr off.',
      where: 'The material list.',
      ...sheetField('thickness'),
    },
    {
      id: 'alloy',
      head: 'alloy',
      name: 'alloy and temper',
      kind: 'choice',
      choices: () => ALLOYS.map((a) => [a, a] as const),
      what: 'Alloy and temper; they set how tight a bend may be.',
      where: 'The material list, or the ink on the sheet.',
      ...sheetField('alloy'),
    },
    {
      id: 'used',
      head: 'used for',
      name: 'parts made of it',
      kind: 'text',
      what: 'What is made of it.',
      where: '',
      read: (m, row) =>
        [
          ...(['front', 'rear'] as const).filter((n) => m.spars[n]?.sheet === row).map((n) => `${n} spar`),
          ...m.ribs.filter((r) => r.sheet === row).map((r) => r.id),
          ...m.doublers.filter((d) => d.sheet === row).map((d) => d.id),
          ...m.brackets.filter((b) => b.sheet === row).map((b) => b.id),
          ...(m.skin?.sheet === row ? ['skin'] : []),
        ].join(', ') || 'nothing yet',
    },
  ],
};

/** Adds a sheet of a thickness, of the alloy most in use. 2.286 mm is named s090. */
export function addSheet(model: Model, thickness: number): Edit {
  const base = sheetName(thickness);
  const taken = new Set(model.sheets.map((s) => s.id));
  const id = ['', 'b', 'c', 'd', 'e', 'f'].map((x) => base + x).find((x) => !taken.has(x)) ?? `${base}z`;
  return {
    name: `added sheet ${id}`,
    apply: (m) => ({
      ...m,
      sheets: [...m.sheets, { id, alloy: m.sheets[0]?.alloy ?? '6061-T6', thickness }].sort(
        (a, b) => a.thickness - b.thickness,
      ),
    }),
  };
}

/** Adds a strip in both caps of a spar over its whole length. */
export function addStrip(name: SparName, sheet: string): Edit {
  return {
    name: `put a strip in the ${name} caps`,
    apply: (m) => {
      const s = m.spars[name];
      return s
        ? {
            ...m,
            spars: {
              ...m.spars,
              [name]: { ...s, strips: [...s.strips, { sheet, from: s.from, to: s.to, caps: 'both' }] },
            },
          }
        : m;
    },
  };
}
