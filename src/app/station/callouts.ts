import { best } from '../../chains/chain.ts';
import { show } from '../../checks/describe.ts';
import type { Verdict } from '../../checks/finding.ts';
import { atNose, fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import { chordGapChain } from '../../parts/layout/meeting.ts';
import { findingAt, type View } from './layers.ts';

/** What is written beside a section, and its tone. */
export interface Callout {
  readonly words: string;
  readonly tone: Verdict;
  /** Opens the finding it speaks of. */
  open(): void;
}

/** Less than prints, mm. */
const NOTHING = 0.005;

/** How the nose of the station stands against the drawing; undefined where there is none. */
export function noseCallout(view: View): Callout | undefined {
  const nose = nosesOf(view.skeleton, 'straight').find((n) => n.bay === view.bay);
  if (!nose) return undefined;
  const off = fromNominal(nose);
  const way = off < 0 ? 'short' : 'proud';
  const at = atNose(nose);
  const finding = findingAt(view, 'nose-kink', at) ?? findingAt(view, 'nose-line', at);
  return {
    words:
      Math.abs(off) < NOTHING
        ? `${nose.mark} as drawn`
        : `${nose.mark} ${show(view.skeleton.model, Math.abs(off))} ${way}`,
    tone: finding?.verdict ?? 'fits',
    open: () => finding && view.choose(finding.id),
  };
}

/** How the station's main rib fills the room between the webs; undefined where it does not stand between two. */
export function chordCallout(view: View): Callout | undefined {
  const { skeleton, bay } = view;
  const { main } = bay;
  if (!main || !skeleton.model.spars.rear) return undefined;
  const gap = best(chordGapChain(skeleton, bay, main, 'straight'));
  const finding = findingAt(view, 'chord-gap', { part: main.id });
  return {
    words: `${main.id} ${show(skeleton.model, Math.abs(gap))} ${gap < 0 ? 'long' : 'short'}`,
    tone: finding?.verdict ?? 'fits',
    open: () => finding && view.choose(finding.id),
  };
}
