import { CAUTION } from '../checks/report.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type Command, json } from './command.ts';

/** How heavy is it, and where is its middle? */
export const massCommand: Command = {
  says: 'volume, mass and middle of every part and of the panel, and moments',
  flags: [{ name: '--json', says: 'the same with unrounded values in mm, mm³, g and kg·mm' }],
  async run(model, flags) {
    const [{ openKernel }, { massOf, massText }] = await Promise.all([
      import('../geometry/kernel.ts'),
      import('../solidChecks/mass.ts'),
    ]);
    const report = massOf(skeletonOf(model), await openKernel());
    const { name, revision } = model;
    const text = flags.has('--json')
      ? json({ panel: { name, revision }, ...report, caution: CAUTION })
      : massText(model, report);
    return { text, code: 0 };
  },
};
