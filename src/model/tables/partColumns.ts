import type { Bracket, Doubler, Model, Rib } from '../schema.ts';
import type { Changes, Column } from './tables.ts';

/* Columns of the tables of parts: one field of the parts of a group each, read and written by the part's name. */

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
export function field(group: Group, path: Path): Pick<Column, 'read' | 'write'> {
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

/** What a column says of itself: what it is at the bench, where a drawing has it, where the jaws go. */
export type Say = Pick<Column, 'what' | 'where'> & Partial<Pick<Column, 'jaws'>>;
export const lengthColumn = (
  group: Group,
  path: string,
  head: string,
  name: string,
  say: Say,
  band?: string,
): Column => ({
  id: path,
  head,
  name,
  kind: 'length',
  size: (row) => `${row}.${path}`,
  ...(band === undefined ? {} : { band }),
  ...say,
  ...field(group, path.split('.')),
});
export const choiceColumn = (
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

/** The sheet a part is bent from. */
export const BENT_FROM: Say = {
  what: 'The sheet it is bent from.',
  where: 'The part’s title, or the material list.',
  jaws: 'thickness',
};
