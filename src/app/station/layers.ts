import { best } from '../../chains/chain.ts';
import { type At, isAt } from '../../checks/at.ts';
import { type CheckId, type Finding, severity, type Verdict } from '../../checks/finding.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { capSplitChains, sparOf, thickness } from '../../parts/layout/meeting.ts';

/* What the drawings of a station's section have in common: what is looked at, its tones, and the layers at a corner. */

export interface View {
  readonly skeleton: Skeleton;
  readonly bay: Bay;
  readonly findings: readonly Finding[];
  readonly choose: (finding: string) => void;
}

const worst = (fs: readonly Finding[]): Verdict | undefined =>
  fs.reduce<Finding | undefined>((a, f) => (a && severity(a.verdict) >= severity(f.verdict) ? a : f), undefined)
    ?.verdict;

/** The worst verdict of a check at a place. */
export const toneOf = (view: View, check: CheckId, at: At): Verdict | undefined =>
  worst(view.findings.filter((f) => f.check === check && isAt(f.at, at)));

export interface LayerBar {
  /** The part, where the layer is one. */
  readonly part?: string;
  readonly name: string;
  readonly t: number;
  readonly kind: 'cap' | 'strip' | 'doubler' | 'gap' | 'bind' | 'rib';
}

/** Layers from the cap inward at one corner of a nesting rib end: cap, strip, doubler or shim, daylight, rib flange. */
export function cornerLayers(skeleton: Skeleton, place: RibPlace, side: 'top' | 'bottom'): LayerBar[] {
  const spar = sparOf(skeleton, place.spar);
  const y = place.bay.station.y;
  const layers: LayerBar[] = [
    { part: place.spar, name: `${place.spar} spar cap`, t: thickness(skeleton, spar.sheet).best, kind: 'cap' },
  ];
  spar.strips.forEach((strip, i) => {
    if (y >= strip.from && y <= strip.to && (strip.caps === 'both' || strip.caps === side))
      layers.push({
        part: `${place.spar}-strip${i + 1}-${side}`,
        name: 'cap strip',
        t: thickness(skeleton, strip.sheet).best,
        kind: 'strip',
      });
  });
  for (const d of place.doublers)
    if (d.form === 'channel' || d.on === side)
      layers.push({ part: d.id, name: d.id, t: thickness(skeleton, d.sheet).best, kind: 'doubler' });
  const half = best(capSplitChains(skeleton, place)[side]);
  layers.push(half >= 0 ? { name: 'daylight', t: half, kind: 'gap' } : { name: 'binds', t: -half, kind: 'bind' });
  layers.push({
    part: place.rib.id,
    name: `${place.rib.id} flange`,
    t: thickness(skeleton, place.rib.sheet).best,
    kind: 'rib',
  });
  return layers;
}
