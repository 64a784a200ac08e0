import { settledByNote } from '../checks/accepting.ts';
import { type BasisWord, basisOfFinding } from '../checks/basis.ts';
import { checkAll, countVerdicts } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import type { Model } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import type { Act } from './act.ts';
import { counted, listed, opening } from './words.ts';

/*
 * The list in one sentence: what to do tonight and whether to drill; and when nothing is left, what is proven, what was
 * accepted and by whom, what nobody looked at.
 */

/** Acts that a headline names. */
export const LINES = 5;
/** Phrases it has at most. */
const PHRASES = 3;

/** Acts of one kind in one breath: readings counted together, parts made again named together. */
function phrases(acts: readonly Act[]): string[] {
  const said: string[] = [];
  let isRead = false;
  for (const act of acts) {
    if (act.kind === 'read' && act.reads.length > 0) {
      if (!isRead) said.push(readPhrase(acts));
      isRead = true;
    } else if (!said.includes(act.brief)) said.push(act.brief);
  }
  return said.slice(0, PHRASES);
}

const readPhrase = (acts: readonly Act[]): string =>
  `read ${counted(
    acts.reduce((n, a) => n + a.reads.length, 0),
    'size',
  )}`;

/** Whether holes may be drilled tonight, and why not. */
export interface Drill {
  readonly yes: boolean;
  readonly why: string;
}

/** How a panel is left when the evening is over. */
function leftAs(last: Act | undefined): string {
  if (!last) return '';
  if (last.phase === 'drill' || last.phase === 'clamp') return ' Leave it clamped, pins in.';
  const isLoose = ['disputed', 'cause', 'decide', 'ask', 'metal', 'deburr'].includes(last.phase);
  return isLoose ? ' Leave the parts loose and marked.' : ' Leave it standing on its blocks, pins out.';
}

/** Whether the first act alone takes more than the evening has. */
const isLonger = ([first]: readonly Act[], hours: number | undefined): boolean =>
  hours !== undefined && first !== undefined && first.minutes > hours * 60;

interface Saying {
  readonly tonight: readonly Act[];
  readonly later: readonly Act[];
  readonly drill: Drill;
  readonly hours: number | undefined;
}

/** "Tonight: make six doublers anew at an easier bend, read five sizes. Drill nothing yet." */
export function headline(model: Model, { tonight, later, drill, hours }: Saying): string {
  if (tonight.length === 0) return nothingLeft(model);
  const what = phrases(tonight.slice(0, LINES)).join(', ');
  const hole = drill.yes ? '' : ' Drill nothing yet.';
  const left = hours !== undefined && later.length > 0 ? leftAs(tonight.at(-1)) : '';
  const long = isLonger(tonight, hours) ? ' It takes longer than the evening; stop between two pieces.' : '';
  const begin = model.stages.length === 0 ? ' No stages are planned: all parts are taken as standing.' : '';
  return `Tonight: ${what}.${hole}${long}${left}${begin}`;
}

/** Who accepted what, as the file says it. */
function accepted(model: Model): string {
  const standing = new Set(
    checkAll(model)
      .filter((f) => settledByNote(model, f))
      .map((f) => f.id),
  );
  const notes = (model.decisions ?? []).filter(
    (d) => d.kind === 'accepted' && d.findings.some((id) => standing.has(id)),
  );
  if (notes.length === 0) return '';
  const who = [...new Set(notes.map((d) => d.asked).filter((s) => s !== ''))];
  const by = who.length > 0 ? ` (${listed(who)})` : ' by the builder';
  return ` Accepted${by}: ${listed(notes.map((d) => d.what))}.`;
}

/** What an answer rests on where it was read. */
const READ: ReadonlySet<BasisWord> = new Set<BasisWord>(['measured', 'mixed', 'named', 'ticked']);

/** What is proven, what was accepted and by whom, what nobody looked at. */
function nothingLeft(model: Model): string {
  const skeleton = skeletonOf(model);
  const all = checkAll(model);
  const isRead = (f: Finding): boolean => READ.has(basisOfFinding(skeleton, f));
  const { fits, watch } = countVerdicts(all.filter(isRead));
  const { act, unsettled } = countVerdicts(all);
  const paper = countVerdicts(all.filter((f) => !isRead(f)));
  const unlooked = paper.fits + paper.watch;
  const proven = `${counted(fits + watch, 'answer')} read and inside ${fits + watch === 1 ? 'its limit' : 'their limits'}, ${watch} of them to watch`;
  const rest =
    act + unsettled > 0 ? ` ${opening(counted(act + unsettled, 'answer'))} open that no reading would settle.` : '';
  const nobody = unlooked > 0 ? ` ${opening(counted(unlooked, 'answer'))} on paper only: nobody looked.` : '';
  return `The list has nothing more to ask: ${proven}.${rest}${nobody}${accepted(model)}`;
}
