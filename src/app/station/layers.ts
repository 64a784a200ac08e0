import { best } from '../../chains/chain.ts';
import { type At, isAt } from '../../checks/at.ts';
import type { CheckId, Finding, Verdict } from '../../checks/finding.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { capSplitChains, sparOf, thickness } from '../../parts/layout/meeting.ts';
import { worst } from '../widgets/worst.ts';

/* What the drawings of a station's section have in common: what is looked at, its tones, and the layers at a corner. */

export interface View {
  readonly skeleton: Skeleton;
  readonly bay: Bay;
  readonly findings: readonly Finding[];
  readonly choose: (finding: string) => void;
}

/** The worst finding of a check at a place. */
export const findingAt = (view: View, check: CheckId, at: At): Finding | undefined =>
  worst(view.findings.filter((f) => f.check === check && isAt(f.at, at)));

/** The worst verdict of a check at a place. */
export const toneOf = (view: View, check: CheckId, at: At): Verdict | undefined => findingAt(view, check, at)?.verdict;

export interface LayerBar {
  /** The part, where the layer is one. */
  readonly part?: string;
  readonly name: string;
  /** Thickness, mm. */
  readonly t: number;
  readonly kind: 'cap' | 'strip' | 'doubler' | 'gap' | 'bind' | 'rib';
}

type Side = 'top' | 'bottom';

/** The cap's strips that run over a rib's station on that side. */
function stripsAt(skeleton: Skeleton, { spar, bay }: RibPlace, side: Side): LayerBar[] {
  const { y } = bay.station;
  return sparOf(skeleton, spar).strips.flatMap((strip, i): LayerBar[] => {
    const here = y >= strip.from && y <= strip.to && (strip.caps === 'both' || strip.caps === side);
    if (!here) return [];
    const part = `${spar}-strip${i + 1}-${side}`;
    return [{ part, name: 'cap strip', t: thickness(skeleton, strip.sheet).best, kind: 'strip' }];
  });
}

/** Layers from the cap inward at one corner of a nesting rib end: cap, strip, doubler or shim, daylight, rib flange. */
export function cornerLayers(skeleton: Skeleton, place: RibPlace, side: Side): LayerBar[] {
  const { spar, rib, doublers } = place;
  const thick = (sheet: string): number => thickness(skeleton, sheet).best;
  const half = best(capSplitChains(skeleton, place)[side]);
  return [
    { part: spar, name: `${spar} spar cap`, t: thick(sparOf(skeleton, spar).sheet), kind: 'cap' },
    ...stripsAt(skeleton, place, side),
    ...doublers
      .filter((d) => d.form === 'channel' || d.on === side)
      .map((d): LayerBar => ({ part: d.id, name: d.id, t: thick(d.sheet), kind: 'doubler' })),
    half >= 0 ? { name: 'daylight', t: half, kind: 'gap' } : { name: 'binds', t: -half, kind: 'bind' },
    { part: rib.id, name: `${rib.id} flange`, t: thick(rib.sheet), kind: 'rib' },
  ];
}
