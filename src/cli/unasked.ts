import { type Unasked, unaskedOf } from '../checks/unasked.ts';
import { type Command, json } from './command.ts';

/** Sizes of one kind and reason with every part they are of, in one line. */
function gathered(unasked: readonly Unasked[]): string[] {
  const lines = new Map<string, { readonly of: Unasked; readonly parts: string[] }>();
  for (const of of unasked) {
    const key = `${of.size} ${of.why}`;
    const line = lines.get(key);
    if (line) line.parts.push(of.part);
    else lines.set(key, { of, parts: [of.part] });
  }
  return [...lines.values()].map(({ of, parts }) => `${of.size} of ${parts.join(', ')}: ${of.why}`);
}

function textOf(unasked: readonly Unasked[]): string {
  if (unasked.length === 0) return 'Every size of the panel is asked about.';
  return [`No check rests on ${unasked.length} sizes:`, ...gathered(unasked)].join('\n');
}

/** Which sizes does nobody look at? */
export const unaskedCommand: Command = {
  says: 'sizes of the panel that no check rests on, each with its reason',
  flags: [{ name: '--json', says: '{ panel, unasked: [{ size, part, why }] }' }],
  run(model, flags) {
    const { name, revision } = model;
    const unasked = unaskedOf(model);
    return { text: flags.has('--json') ? json({ panel: { name, revision }, unasked }) : textOf(unasked), code: 0 };
  },
};
