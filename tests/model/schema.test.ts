import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { publishedSchema } from '../../src/model/schema.ts';
import { MODELS, PANELS, textOf } from './panels.ts';

/* models/schema.json is the published form. To remake it on purpose: REGEN=1 npx vitest run tests/model/schema.test.ts */

const GOLDEN = join(MODELS, 'schema.json');
const made = `${JSON.stringify(publishedSchema(), null, 2)}\n`;
if (process.env.REGEN === '1') writeFileSync(GOLDEN, made);

// biome-ignore lint/suspicious/noExplicitAny: a published form is read here as anybody else reads it, without its type
type Schema = Record<string, any>;
const schema = JSON.parse(made) as Schema;

/** The kind of a value, in the words of the form. */
function kindOf(v: unknown, s: Schema): string {
  if (v === null) return 'null';
  if (Array.isArray(v)) return 'array';
  return s.type === 'integer' && Number.isInteger(v) ? 'integer' : typeof v;
}

/** The keywords the published form uses, and no others: a small and obvious reader of JSON Schema 2020-12. */
function misfit(s: Schema, v: unknown, path: string): string | undefined {
  if (s.anyOf && !s.anyOf.some((one: Schema) => misfit(one, v, path) === undefined))
    return `${path}: none of its forms`;
  if (s.oneOf && s.oneOf.filter((one: Schema) => misfit(one, v, path) === undefined).length !== 1)
    return `${path}: not one of its forms`;
  if ('const' in s && v !== s.const) return `${path}: not ${s.const}`;
  if (s.enum && !s.enum.includes(v)) return `${path}: none of ${s.enum}`;
  const kind = kindOf(v, s);
  if (s.type && ![s.type].flat().includes(kind)) return `${path}: ${kind}, not ${s.type}`;
  if (typeof v === 'number') {
    if (v < (s.minimum ?? -Infinity) || v > (s.maximum ?? Infinity)) return `${path}: out of range`;
  }
  if (typeof v === 'string') {
    if (v.length < (s.minLength ?? 0) || v.length > (s.maxLength ?? Infinity)) return `${path}: length`;
    if (s.pattern && !new RegExp(s.pattern).test(v)) return `${path}: pattern`;
  }
  if (Array.isArray(v)) {
    if (v.length < (s.minItems ?? 0) || v.length > (s.maxItems ?? Infinity)) return `${path}: count`;
    for (const [i, item] of v.entries()) {
      const one = s.prefixItems?.[i] ?? s.items;
      const found = one && misfit(one, item, `${path}[${i}]`);
      if (found) return found;
    }
  } else if (kind === 'object') {
    for (const name of s.required ?? []) if (!Object.hasOwn(v as object, name)) return `${path}.${name}: missing`;
    for (const [name, value] of Object.entries(v as object)) {
      const one = s.properties?.[name] ?? s.additionalProperties;
      if (one === false) return `${path}.${name}: unknown`;
      const found = one && misfit(one, value, `${path}.${name}`);
      if (found) return found;
    }
  }
  return undefined;
}

/** Every schema inside a schema, with its path. */
function* within(s: Schema, path = '#'): Generator<[string, Schema]> {
  yield [path, s];
  for (const [name, one] of Object.entries<Schema>(s.properties ?? {})) yield* within(one, `${path}/${name}`);
  for (const key of ['anyOf', 'oneOf', 'prefixItems'])
    for (const [i, one] of (s[key] ?? []).entries()) yield* within(one, `${path}/${key}/${i}`);
  for (const key of ['items', 'additionalProperties', 'propertyNames'])
    if (s[key] && typeof s[key] === 'object') yield* within(s[key], `${path}/${key}`);
}

test('models/schema.json is what the definition publishes', () => {
  expect(existsSync(GOLDEN), 'models/schema.json is missing; remake it on purpose with REGEN=1').toBe(true);
  expect(readFileSync(GOLDEN, 'utf8'), 'the published form differs; read the change, then remake it with REGEN=1').toBe(
    made,
  );
});

test('it has the structure of a JSON Schema and uses only keywords of it', () => {
  expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
  const KEYWORDS = [
    '$schema',
    'type',
    'properties',
    'required',
    'additionalProperties',
    'propertyNames',
    'items',
    'prefixItems',
    'minItems',
    'maxItems',
    'anyOf',
    'oneOf',
    'const',
    'enum',
    'minimum',
    'maximum',
    'minLength',
    'maxLength',
    'pattern',
    'description',
  ];
  for (const [path, s] of within(schema)) {
    expect(
      Object.keys(s).filter((k) => !KEYWORDS.includes(k)),
      path,
    ).toEqual([]);
    for (const type of [s.type ?? []].flat())
      expect(['object', 'array', 'string', 'number', 'integer', 'boolean', 'null'], path).toContain(type);
    for (const name of s.required ?? []) expect(Object.keys(s.properties), path).toContain(name);
    if (s.type === 'object') expect(s.additionalProperties, `${path} takes unknown keys`).not.toBe(true);
  }
});

describe('the published form', () => {
  test.each(PANELS)('takes models/%s.json', (name) =>
    expect(misfit(schema, JSON.parse(textOf(name)), name)).toBeUndefined(),
  );

  test('refuses what the reader of files refuses', () => {
    const file = (): Schema => JSON.parse(textOf('plain')) as Schema;
    const wrong: ((m: Schema) => void)[] = [
      (m) => {
        m.ribs[1].lenght = 1;
      },
      (m) => {
        delete m.survey;
      },
      (m) => {
        m.spars.front.opens = 'up';
      },
      (m) => {
        m.version = 3;
      },
      (m) => {
        m.ribs[1].kind = 'middle';
      },
      (m) => {
        m.stations[0].washout = 90;
      },
      (m) => {
        m.sheets[0].id = '1 x';
      },
    ];
    for (const change of wrong) {
      const m = file();
      change(m);
      expect(misfit(schema, m, 'plain')).toBeDefined();
    }
  });
});
