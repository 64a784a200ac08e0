import { shares } from '../chains/chain.ts';
import type { Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import {
  type BasisWord,
  basisMarked,
  basisOfEvidence,
  basisOfSize,
  lookedAt,
  placesByBasis,
  sentenceWithBasis,
} from './basis.ts';
import { countVerdicts, worstFirst } from './checkAll.ts';
import type { Rests } from './evidence.ts';
import type { Finding, Verdict } from './finding.ts';
import { groupsOf } from './questions.ts';

/** The caution every report and sheet carries. */
export const CAUTION = [
  'Ribtrue checks how parts fit. It does not check strength, and it does not know what your designer allowed.',
  'Drawings and their limits govern. The limits here are common practice or picked starting values, each marked.',
  'Any added shim, doubler, moved station, trimmed part or larger rivet changes the structure: ask the designer,',
  'and show it to your inspector or licensed mechanic before it is covered. Local rules apply.',
  'Commercial blind rivets are not approved on certificated structure (AC 43.13-1B, 4-57f(9)).',
].join('\n');

/** A finding as plain JSON: values in mm, degrees, D or mm per 100 mm, unrounded. */
export interface FindingRecord extends Omit<Finding, 'restsOn' | 'limits' | 'said' | 'basis'> {
  /** What it rests on, in the one word that sheets and terminal say too, and how much of it was looked at. */
  readonly basis: BasisWord;
  readonly rests: Rests;
  readonly limits: Pick<Finding['limits'], 'fits' | 'act' | 'origin'>;
  readonly restsOn: readonly {
    readonly size: string;
    readonly c: number;
    readonly best: number;
    readonly u: number;
    readonly origin: string;
    readonly basis: BasisWord;
    readonly share: number;
  }[];
}

export interface Report {
  readonly panel: {
    readonly name: string;
    readonly revision: string;
    readonly hand: string;
    readonly stations: number;
  };
  readonly counts: Record<Verdict, number>;
  readonly findings: readonly FindingRecord[];
}

/** A finding of a panel as plain data. */
export function findingRecord(skeleton: Skeleton, f: Finding): FindingRecord {
  const part = shares(f.restsOn);
  const { said: _, ...plain } = f;
  const evidence = lookedAt(skeleton, f);
  return {
    ...plain,
    basis: basisOfEvidence(evidence),
    rests: evidence.rests,
    limits: { fits: f.limits.fits, act: f.limits.act, origin: f.limits.origin },
    restsOn: f.restsOn.map((t, i) => ({
      size: t.size.key,
      c: t.c,
      best: t.size.best,
      u: t.size.u,
      origin: t.size.origin,
      basis: basisOfSize(t.size),
      share: part[i] ?? 0,
    })),
  };
}

/** The whole answer as plain data, worst first. */
export function reportOf(model: Model, findings: readonly Finding[]): Report {
  const skeleton = skeletonOf(model);
  return {
    panel: { name: model.name, revision: model.revision, hand: model.hand, stations: model.stations.length },
    counts: countVerdicts(findings),
    findings: worstFirst(findings).map((f) => findingRecord(skeleton, f)),
  };
}

const MARKS: Record<Verdict, string> = { act: 'x', unsettled: '?', watch: '/', fits: '.' };

/**
 * The answer as text for the terminal: the worst of each kind first with the places that share it, then the counts
 * and the caution; `all` lists every finding.
 */
export function reportText(model: Model, findings: readonly Finding[], all = false): string {
  const counts = countVerdicts(findings);
  const skeleton = skeletonOf(model);
  const line = (f: Finding): string =>
    `${MARKS[f.verdict]} ${f.verdict.padEnd(9)} ${f.check.padEnd(13)} ${sentenceWithBasis(skeleton, f, basisMarked)}`;
  const grouped = (): string[] => {
    const lines = groupsOf(findings).flatMap(({ worst, all: [, ...others] }) => {
      const also = `${' '.repeat(26)}also ${placesByBasis(skeleton, others, basisMarked)}`;
      return others.length > 0 ? [line(worst), also] : [line(worst)];
    });
    return lines.length > 0 ? lines : ['Everything fits.'];
  };
  const lines = all ? worstFirst(findings).map(line) : grouped();
  const head = `${model.name}, revision ${model.revision}: ${model.stations.length} stations, ${findings.length} findings`;
  const tally = `act ${counts.act}, unsettled ${counts.unsettled}, watch ${counts.watch}, fits ${counts.fits}`;
  return [head, '', ...lines, '', tally, '', CAUTION].join('\n');
}
