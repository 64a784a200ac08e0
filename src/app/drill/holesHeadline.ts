import { tonight } from '../../drilling/hold.ts';
import type { Model } from '../../model/schema.ts';
import { holesShown } from './useHoles.ts';

/**
 * The drill question's answer: which holes to leave alone tonight; or, looking ahead, as of that stage and on what
 * condition.
 */
export function holesHeadline(model: Model, ahead: string | null): string {
  const { answers, present, at, back } = holesShown(model, ahead);
  if (present) return tonight(answers).headline;
  const { headline } = tonight(answers, 'then');
  const condition = back ? 'with the holes as they are now' : 'if all before it goes as planned';
  return `At stage ${at + 1}, ${condition}: ${headline.charAt(0).toLowerCase()}${headline.slice(1)}`;
}
