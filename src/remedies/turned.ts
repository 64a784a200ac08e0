import { CHECK_NAMES } from '../checks/answer.ts';
import type { Model } from '../model/schema.ts';
import { type Change, changesBetween } from './effect.ts';

/*
 * What a change did to the verdicts, said in one breath: for whoever cannot see the marks on the rail turn.
 */

function oneTurn({ before, after }: Change): string {
  const f = (after ?? before)!;
  const where = `${f.place}, ${CHECK_NAMES[f.check]}`;
  if (!after) return `${where}: no longer asked.`;
  return `${where}: ${after.verdict}${before ? `, was ${before.verdict}` : ''}.`;
}

/**
 * The verdict that turned most, and how many more turned which way. Two panels of different names have nothing to compare.
 * Example, panel A, M2's front height read as 83.02: "M2 front end, between the caps: fits, was act. 2 more better."
 */
export function turnedSentence(before: Model, after: Model): string {
  if (before === after || before.name !== after.name) return '';
  const turned = changesBetween(before, after).filter((c) => c.before?.verdict !== c.after?.verdict);
  const top = turned.reduce<Change | undefined>((a, c) => (a && Math.abs(a.worse) >= Math.abs(c.worse) ? a : c), undefined);
  if (!top) return 'No verdict turns.';
  const others = turned.filter((c) => c !== top);
  const [better, worse] = [others.filter((c) => c.worse < 0).length, others.filter((c) => c.worse > 0).length];
  const more = [better > 0 ? `${better} more better` : '', worse > 0 ? `${worse}${better > 0 ? '' : ' more'} worse` : ''].filter(Boolean).join(', ');
  return `${oneTurn(top)}${more ? ` ${more}.` : ''}`;
}
