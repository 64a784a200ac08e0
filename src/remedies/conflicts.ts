import { checkAll } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import type { Model } from '../model/schema.ts';
import type { Choice } from './choices.ts';
import type { Plan } from './plan.ts';
import { counts, drawnOnly, levelOf, reachOf } from './reach.ts';

/*
 * Why does something stay beyond its limit? Either nothing on hand moves it, or nothing on hand moves it far enough, or
 * whatever would put it right puts something else wrong: then those limits conflict.
 */

export interface Conflict {
  /** The finding as the best plan leaves it. */
  readonly finding: Finding;
  readonly why: 'nothing moves it' | 'nothing moves it enough' | 'its cures conflict';
  /** What the gentlest of its cures would put wrong instead: ids of findings. */
  readonly against: readonly string[];
  readonly sentence: string;
}

interface Offered {
  readonly model: Model;
  readonly choices: readonly (readonly Choice[])[];
}

/** Every finding that the best plan leaves beyond act, with the reason. */
export function conflictsOf(model: Model, { choices }: Offered, plan: Plan): Conflict[] {
  const before = drawnOnly(model);
  const was = new Map(checkAll(model).map((f) => [f.id, f]));
  const left = checkAll(plan.model).filter((f) => {
    const reach = reachOf(f.value, f.limits);
    return !f.echoOf && counts(f.id, reach, before) && levelOf(reach) === 2;
  });
  return left.map((finding): Conflict => {
    const here = choices.find((list) => list.some((c) => c.over.some((o) => o.id === finding.id)));
    if (!here) {
      const moves = was.get(finding.id)?.value !== finding.value;
      return say(finding, moves ? 'nothing moves it enough' : 'nothing moves it', []);
    }
    const cures = here.filter((c) => !c.over.some((o) => o.id === finding.id && o.level === 2));
    if (cures.length === 0) return say(finding, here.some((c) => c.remedies.length > 0) ? 'nothing moves it enough' : 'nothing moves it', []);
    const gentlest = [...cures].sort((a, b) => a.beyond - b.beyond || a.outside - b.outside || a.work - b.work)[0]!;
    return say(finding, 'its cures conflict', gentlest.over.filter((o) => o.level === 2).map((o) => o.id));
  });
}

const REASON: Record<Conflict['why'], string> = {
  'nothing moves it': 'no remedy here moves it',
  'nothing moves it enough': 'nothing on hand moves it inside its limit',
  'its cures conflict': 'whatever puts it right puts something else wrong',
};

function say(finding: Finding, why: Conflict['why'], against: readonly string[]): Conflict {
  const other = against.length > 0 ? `: ${against.map((id) => id.slice(id.indexOf(':') + 1).replaceAll('-', ' ')).join(', ')}` : '';
  return { finding, why, against, sentence: `${finding.sentence} Left so: ${REASON[why]}${other}.` };
}
