import { unaskedOf } from '../checks/unasked.ts';
import { tonightText } from '../tonight/listText.ts';
import { tonightOf, tonightPlain } from '../tonight/tonight.ts';
import { BadCall } from './badCall.ts';
import { type Command, type Flags, json } from './command.ts';

/** How long the evening is; all of it where nobody said. */
function hoursOf(flags: Flags): number | undefined {
  const text = flags.get('--hours');
  if (text === undefined) return undefined;
  const hours = Number(text);
  if (text.trim() !== '' && Number.isFinite(hours) && hours > 0) return hours;
  throw new BadCall(
    `"--hours ${text}" is not a number of hours over 0; expected one, such as "--hours 2.5"; correct it`,
  );
}

/** What first, tonight? Exit 1 where something is left to do. */
export const tonightCommand: Command = {
  says: 'what to do first and what next, in order: one list over everything known',
  flags: [
    {
      name: '--hours',
      value: 'H',
      wants: 'how many hours',
      says: 'how long the evening is: cuts the list where it fits; all of it unless told',
    },
    { name: '--json', says: '{ panel, sentence, drill, acts, later, unasked, caution }' },
  ],
  run(model, flags) {
    const hours = hoursOf(flags);
    const isJson = flags.has('--json');
    const unasked = isJson ? unaskedOf(model).map(({ size, part, why }) => `${size} of ${part}: ${why}`) : [];
    const list = tonightOf(model, { hours, unasked });
    const text = isJson ? json(tonightPlain(model, list)) : tonightText(model, list);
    return { text, code: list.acts.length > 0 ? 1 : 0 };
  },
};
