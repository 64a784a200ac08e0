import { CAUTION } from '../checks/report.ts';
import { gateRecords, ledgerOf, ledgerText } from '../drilling/ledger.ts';
import type { Model } from '../model/schema.ts';
import { BadCall } from './badCall.ts';
import { type Command, json } from './command.ts';

/** A stage by its name, or by its number in the order of assembly. */
function stageOf({ stages }: Model, asked: string | undefined): string | undefined {
  if (asked === undefined) return undefined;
  const byNumber = /^[1-9]\d*$/.test(asked) ? stages[Number(asked) - 1] : undefined;
  const stage = stages.find((s) => s.id === asked) ?? byNumber;
  if (stage) return stage.id;
  const all = stages.map((s, i) => `${i + 1} or ${s.id}`).join(', ');
  throw new BadCall(`"${asked}" is not a stage of this panel; expected ${all || 'none, it has no stages'}; correct it`);
}

/** May I drill? Exit 1 where a hole can never be opened at its size. */
export const holesCommand: Command = {
  says: 'every hole: now, not yet, never at this size, and why; the gates; the rivet bags',
  flags: [
    {
      name: '--stage',
      value: 'S',
      wants: 'the name or number of a stage',
      says: 'as at that stage, not the present one: its name, or its number from 1',
    },
    { name: '--json', says: '{ panel, stage, holes, gates } with unrounded values in mm and rivet diameters' },
  ],
  run(model, flags) {
    const stage = stageOf(model, flags.get('--stage'));
    const holes = ledgerOf(model, stage);
    const { name, revision, now } = model;
    const answer = () => ({
      panel: { name, revision },
      stage: stage ?? now ?? null,
      holes,
      gates: gateRecords(model, stage),
      caution: CAUTION,
    });
    const text = flags.has('--json') ? json(answer()) : ledgerText(model, stage);
    return { text, code: holes.some((h) => h.state === 'never') ? 1 : 0 };
  },
};
