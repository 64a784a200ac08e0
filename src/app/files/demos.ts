import narrowTail from '../../../models/narrow-tail.json?raw';

/** The panels that come with Ribtrue; all invented. The first is there at once, the others when asked for. */
export const DEMOS: readonly { readonly file: string; readonly name: string; readonly load: () => Promise<string> }[] =
  [
    {
      file: 'narrow-tail.json',
      name: 'narrow tail, measured with its faults',
      load: () => Promise.resolve(narrowTail),
    },
    {
      file: 'washed-out-wing.json',
      name: 'washed-out wing, nine ribs',
      load: async () => (await import('../../../models/washed-out-wing.json?raw')).default,
    },
    {
      file: 'plain.json',
      name: 'plain, everything fits',
      load: async () => (await import('../../../models/plain.json?raw')).default,
    },
  ];

export const FIRST_PANEL = narrowTail;
