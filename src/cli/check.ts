import { checkAll, countVerdicts } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { reportOf, reportText } from '../checks/report.ts';
import type { Model } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type Command, json } from './command.ts';

/** What the built solids say; the modeller is loaded only when it is asked. */
async function fromSolids(model: Model): Promise<Finding[]> {
  const [{ openKernel }, { solidFindings }] = await Promise.all([
    import('../geometry/kernel.ts'),
    import('../solidChecks/asBuilt.ts'),
  ]);
  return solidFindings(skeletonOf(model), await openKernel());
}

/** Will it fit? Exit 1 where something is at act or unsettled. */
export const checkCommand: Command = {
  says: 'findings, worst first, then the counts',
  flags: [
    { name: '--json', says: '{ panel, counts, findings } with unrounded values in mm or degrees' },
    { name: '--all', says: 'list the findings that fit, too' },
    {
      name: '--solids',
      says: 'ask the built solids too: what is in the same place, how far apart is what should meet',
    },
  ],
  async run(model, flags) {
    const findings = flags.has('--solids') ? [...checkAll(model), ...(await fromSolids(model))] : checkAll(model);
    const { act, unsettled } = countVerdicts(findings);
    const text = flags.has('--json')
      ? json(reportOf(model, findings))
      : reportText(model, findings, flags.has('--all'));
    return { text, code: act + unsettled > 0 ? 1 : 0 };
  },
};
