import { type Finding, severity } from '../checks/finding.ts';
import { checkName } from '../checks/questions.ts';
import type { Model } from '../model/schema.ts';
import { changesBetween, type FindingChange } from './effect.ts';

/*
 * What a change did to the verdicts, said in one breath: for whoever cannot see the marks on the rail turn.
 */

/** Turns said one by one. */
const SAID = 2;

function oneTurn({ before, after }: FindingChange): string {
  const f = after ?? before;
  if (!f) return '';
  const where = `${f.place}, ${checkName(f.check)}`;
  if (!after) return `${where}: no longer asked.`;
  return `${where}: ${after.verdict}${before ? `, was ${before.verdict}` : ''}.`;
}

const rank = (f: Finding | undefined): number => (f ? severity(f.verdict) : 0);
/** How much a turn matters: by how far it goes, then by the worst verdict in it. */
const weight = ({ before, after, worse }: FindingChange): number =>
  10 * Math.abs(worse) + Math.max(rank(before), rank(after));

/**
 * The two verdicts that turned most, and how many more turned which way. Two panels of different names have nothing
 * to compare. Example, panel A, M2's front height read as 83.02: "M2 front, between the caps: unsettled, was act. 2
 * more better."
 */
export function turnedSentence(before: Model, after: Model): string {
  if (before === after || before.name !== after.name) return '';
  const turned = changesBetween(before, after).filter((c) => c.before?.verdict !== c.after?.verdict);
  if (turned.length === 0) return 'No verdict turns.';
  const sorted = [...turned].sort((a, b) => weight(b) - weight(a));
  const [said, others] = [sorted.slice(0, SAID), sorted.slice(SAID)];
  const [better, worse] = [others.filter((c) => c.worse < 0).length, others.filter((c) => c.worse > 0).length];
  const more = [better > 0 ? `${better} more better` : '', worse > 0 ? `${worse} more worse` : '']
    .filter(Boolean)
    .join(', ');
  return `${said.map(oneTurn).join(' ')}${more ? ` ${more}.` : ''}`;
}
