import type { Finding } from '../checks/finding.ts';
import type { Kernel } from '../geometry/kernel.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { contact } from './contact.ts';
import { overlap } from './overlap.ts';
import { readOff } from './readOff.ts';

/**
 * What the built solids say of the fit, beside what the chains say: every pair in the same place, and the distance of
 * every pair that should meet. Kept apart from `checkAll`, which needs no solids and answers at a keystroke.
 * Everything the kernel holds is freed before it returns.
 */
export function solidFindings(skeleton: Skeleton, kernel: Kernel): Finding[] {
  return kernel.together(() => {
    const reads = readOff(skeleton, kernel);
    return [...overlap(skeleton, kernel, reads), ...contact(skeleton, reads)];
  });
}
