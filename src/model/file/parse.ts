import type { z } from 'zod';
import { MOST, type Model, panelSchema } from '../schema.ts';
import { DEEPEST, duplicateKeys } from './duplicateKeys.ts';
import type { Fault } from './faults/fault.ts';
import { meaningFaults } from './faults.ts';
import { lineAt, readJson } from './json.ts';
import { FORMAT, type PlainFile, upgrade, VERSION } from './upgrade.ts';

/** A file read: a model with the upgrade steps taken, or every fault found. */
export type ParseResult =
  | { readonly ok: true; readonly model: Model; readonly upgraded: readonly string[] }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Longest panel file taken, in characters; a panel of 8,000 stations is about 30 million. */
export const LONGEST = 60_000_000;
const MOST_FAULTS = 200;

const fail = (path: string, sentence: string): ParseResult => ({ ok: false, faults: [{ path, sentence }] });

/** `['ribs', 3, 'front', 'height']` → `ribs[3].front.height`. */
function pathText(path: readonly PropertyKey[]): string {
  return path.map((p, i) => (typeof p === 'number' ? `[${p}]` : `${i > 0 ? '.' : ''}${String(p)}`)).join('');
}

function foundAt(file: unknown, path: readonly PropertyKey[]): unknown {
  let at = file;
  for (const p of path) {
    if (at === null || typeof at !== 'object') return undefined;
    at = (at as Record<PropertyKey, unknown>)[p];
  }
  return at;
}

const clipped = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}…` : text);

function foundText(v: unknown): string {
  if (v === undefined) return 'nothing there';
  if (typeof v === 'string') return `"${clipped(v)}"`;
  if (Array.isArray(v)) return `a list of ${v.length}`;
  if (v !== null && typeof v === 'object') return 'a group of values';
  return String(v);
}

/** The part or station a path is about, by its own name where it has one: "M4: ". */
function owner(file: unknown, path: readonly PropertyKey[]): string {
  const item = foundAt(file, path.slice(0, 2));
  const id = item !== null && typeof item === 'object' ? (item as { id?: unknown }).id : undefined;
  return typeof id === 'string' && typeof path[1] === 'number' ? `${clipped(id)}: ` : '';
}

const KINDS: Readonly<Record<string, string>> = { array: 'a list', object: 'a group of values', int: 'a whole number' };
const aKind = (expected: string): string => KINDS[expected] ?? `a ${expected}`;

const AT_LEAST: Readonly<Record<string, string>> = { string: ' letter', array: ' in the list' };

function unknownKeys(keys: readonly string[]): string {
  const shown = keys.slice(0, 8).map((k) => `"${clipped(k)}"`);
  const more = keys.length > 8 ? ` and ${keys.length - 8} more` : '';
  const them = keys.length > 1 ? 'them' : 'it';
  return `found ${shown.join(', ')}${more}, which a panel file does not have here; expected only the keys of the published schema; check the spelling or remove ${them}`;
}

function expectation(issue: z.core.$ZodIssue, found: unknown): string {
  switch (issue.code) {
    case 'custom':
      return issue.message;
    case 'invalid_type':
      return found === undefined
        ? `it is missing; expected ${aKind(issue.expected)}; add it`
        : `found ${foundText(found)}; expected ${aKind(issue.expected)}; correct it`;
    case 'invalid_value':
      return `found ${foundText(found)}; expected ${issue.values.map((v) => `"${String(v)}"`).join(' or ')}; correct it`;
    case 'unrecognized_keys':
      return unknownKeys(issue.keys);
    case 'too_big':
      return `found ${foundText(found)}; expected at most ${issue.maximum}; ${issue.origin === 'array' ? 'this many is more than Ribtrue takes, split the panel' : 'correct it'}`;
    case 'too_small':
      return `found ${foundText(found)}; expected at least ${issue.minimum}${AT_LEAST[issue.origin] ?? ''}; correct it`;
    case 'invalid_format':
      return `found ${foundText(found)}; expected a short name (a letter, then letters, digits or hyphens, 24 at most); correct it`;
    case 'invalid_union':
      return `found ${foundText(found)}; expected one of the forms in the published schema, known by its "kind"; correct it`;
    default:
      return `found ${foundText(found)}; ${issue.message.toLowerCase()}; correct it`;
  }
}

/** What the text itself does not allow: keys written twice, groups nested too deep. */
function textFault(text: string): string | undefined {
  const found = duplicateKeys(text);
  if (found === null) return undefined;
  if (found === 'deep')
    return `the file nests groups more than ${DEEPEST} deep; expected a panel file, which needs about eight; choose another`;
  return `"${clipped(found.key)}" is written twice in one group, the second time${lineAt(text, found.at)}; expected it once, for only one can count; remove the wrong one`;
}

/** Why a file is not a panel of a version that can be read; undefined where it is. */
function headFault({ format, version }: PlainFile): Fault | undefined {
  if (format === undefined)
    return {
      path: '',
      sentence: `this file does not say it is a Ribtrue panel: it has no "format"; expected "${FORMAT}"; choose another file`,
    };
  if (format !== FORMAT)
    return {
      path: 'format',
      sentence: `this file does not say it is a Ribtrue panel: its format is ${foundText(format)}; expected "${FORMAT}"; choose another file`,
    };
  const versions = VERSION > 1 ? `a whole number from 1 to ${VERSION}` : `the number ${VERSION}`;
  if (!isVersion(version))
    return { path: 'version', sentence: `the version is ${foundText(version)}; expected ${versions}; correct it` };
  if (version > VERSION)
    return {
      path: 'version',
      sentence: `the file is of version ${version}, from a newer Ribtrue; expected at most ${VERSION}; open it with the newer one`,
    };
  return undefined;
}

const isVersion = (version: unknown): version is number =>
  typeof version === 'number' && Number.isInteger(version) && version >= 1;

/** Reads the text of a panel file. Every fault is found at once; nothing is thrown and nothing is half taken. */
export function parseModel(text: string): ParseResult {
  if (text.length > LONGEST)
    return fail('', `the file has ${text.length} characters; expected at most ${LONGEST}; split the panel`);
  const read = readJson(text.startsWith('\uFEFF') ? text.slice(1) : text);
  if (!read.ok) return fail('', read.sentence);
  const wrong = textFault(text);
  if (wrong !== undefined) return fail('', wrong);
  const { file } = read;
  if (file === null || typeof file !== 'object' || Array.isArray(file))
    return fail(
      '',
      `the file holds ${foundText(file)}; expected a panel file, a group of values with "format": "${FORMAT}"; choose another`,
    );
  const plain = file as PlainFile;
  const head = headFault(plain);
  if (head) return { ok: false, faults: [head] };
  const { version } = plain;
  const up = upgrade(plain, isVersion(version) ? version : VERSION);
  return check(up.file, up.taken);
}

/** Lists longer than any panel has are refused by their length, before anything in them is looked at. */
function tooLong(file: PlainFile): Fault[] {
  return Object.entries(MOST).flatMap(([key, most]): Fault[] => {
    const list = file[key];
    return Array.isArray(list) && list.length > most
      ? [
          {
            path: key,
            sentence: `found a list of ${list.length}; expected at most ${most}; this many is more than Ribtrue takes, split the panel`,
          },
        ]
      : [];
  });
}

function check(file: PlainFile, upgraded: readonly string[]): ParseResult {
  const long = tooLong(file);
  if (long.length > 0) return { ok: false, faults: long };
  const read = panelSchema.safeParse(file);
  if (!read.success) {
    const faults = read.error.issues.slice(0, MOST_FAULTS).map(
      (issue): Fault => ({
        path: pathText(issue.path),
        sentence: owner(file, issue.path) + expectation(issue, foundAt(file, issue.path)),
      }),
    );
    return { ok: false, faults };
  }
  const faults = meaningFaults(read.data);
  return faults.length > 0
    ? { ok: false, faults: faults.slice(0, MOST_FAULTS) }
    : { ok: true, model: read.data, upgraded };
}

/** A fault in one line, as the terminal prints it and the screen lists it. */
export function faultText(fault: Fault): string {
  return fault.path === '' ? fault.sentence : `${fault.path}: ${fault.sentence}`;
}
