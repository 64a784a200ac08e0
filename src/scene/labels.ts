import { pieceOf } from '../checks/at.ts';
import { worstFirst } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { checksOf } from '../checks/questions.ts';
import type { DrawnPlaces } from './drawnPlaces.ts';
import { anchorOf, type DrawnMarks } from './labels/anchor.ts';
import { subjectKey } from './labels/family.ts';
import { apartMarks, ribMarks, stationMarks } from './labels/marks.ts';
import { inTheMiddle, spreadOut } from './labels/spread.ts';
import { labelText, wordingOf } from './labels/wording.ts';
import { shownBasis } from './marks.ts';
import type { SceneLabel, SceneOptions } from './shown.ts';

/*
 * What is written beside the skeleton: at most a dozen labels for the present question, worst first, part mark first.
 * One label says one thing once: checks that ask the same of the same place share it, and a fault that many parts have
 * alike is written at one of them with the number of the others.
 */

const MOST = 12;
/** With this many labels, those that only ask for a watchful eye are left out, and doubts that are hardly doubts. */
const ENOUGH = 7;
const HARDLY = 0.25;
/** From this many parts on, a fault they have alike is written once. */
const ALIKE = 3;

export interface FoundLabel extends DrawnMarks {
  readonly options: SceneOptions;
}

export function labelsOf(drawnPlaces: DrawnPlaces, findings: readonly Finding[], found: FoundLabel): SceneLabel[] {
  const { station, question, finding, apart = false } = found.options;
  if (apart) return apartMarks(drawnPlaces, station);
  const marks = marksOf(drawnPlaces, found.options);
  const room = MOST - Math.min(marks.length, MOST / 2);
  const said = question === 'build' && finding === undefined ? [] : spoken(drawnPlaces, findings, found, room);
  return [...said, ...marks.slice(0, MOST - said.length)];
}

function marksOf(drawnPlaces: DrawnPlaces, { station, question }: SceneOptions): SceneLabel[] {
  if (station !== null) return stationMarks(drawnPlaces, station);
  return question === 'build' ? ribMarks(drawnPlaces, MOST) : [];
}

/** How near to what was chosen: 0 the finding itself, 1 its station, 2 elsewhere. */
type Nearness = 0 | 1 | 2;

function nearness(f: Finding, { finding, station }: SceneOptions): Nearness {
  if (f.id === finding) return 0;
  return station !== null && f.station === station ? 1 : 2;
}

/** The labels that say a finding, as many as there is room for. */
function spoken(drawnPlaces: DrawnPlaces, findings: readonly Finding[], found: FoundLabel, room: number): SceneLabel[] {
  const { options } = found;
  const labels = new Grouping(drawnPlaces, headsOf(findings, options), found).labels();
  const isOwn = (l: SceneLabel): boolean =>
    l.findingId === options.finding || (options.station !== null && l.station === options.station);
  const own = labels.filter(isOwn);
  const others = labels.filter((l) => !isOwn(l));
  return [...own, ...spreadOut(others, own, room - own.length)];
}

/** One finding for each subject, what was chosen first, then the worst. */
function headsOf(findings: readonly Finding[], options: SceneOptions): Finding[] {
  const { question, finding: chosen } = options;
  const asked = new Set(question === 'build' ? [] : checksOf(question));
  const tells = (f: Finding): boolean =>
    f.verdict !== 'fits' &&
    f.echoOf === undefined &&
    asked.has(f.check) &&
    (question !== 'measure' || f.verdict === 'unsettled');
  const told = worstFirst(findings.filter((f) => f.id === chosen || tells(f)));
  const sorted = [...told].sort((a, b) => nearness(a, options) - nearness(b, options));
  const heads = new Map<string, Finding>();
  for (const f of sorted) {
    const key = subjectKey(f);
    if (!heads.has(key)) heads.set(key, f);
  }
  return [...heads.values()];
}

/** Labels being made from the heads, those alike as one. */
class Grouping {
  readonly #drawnPlaces: DrawnPlaces;
  readonly #heads: readonly Finding[];
  readonly #found: FoundLabel;
  readonly #done = new Set<Finding>();
  readonly #labels: SceneLabel[] = [];

  constructor(drawnPlaces: DrawnPlaces, heads: readonly Finding[], found: FoundLabel) {
    this.#drawnPlaces = drawnPlaces;
    this.#heads = heads;
    this.#found = found;
  }

  labels(): readonly SceneLabel[] {
    for (const f of this.#heads) if (!this.#done.has(f) && !this.#isTooMild(f)) this.#say(f);
    return this.#labels;
  }

  #isFar(f: Finding): boolean {
    return nearness(f, this.#found.options) === 2;
  }

  /** Hardly worth a word where enough is said already. */
  #isTooMild(f: Finding): boolean {
    const isMild = f.verdict === 'watch' || (f.verdict === 'unsettled' && f.chance < HARDLY);
    return isMild && this.#labels.length >= ENOUGH && this.#isFar(f);
  }

  #say(f: Finding): void {
    const twins = this.#heads.filter((g) => g === f || this.#areAlike(f, g));
    const alike = twins.length >= ALIKE ? twins : [f];
    for (const g of alike) this.#done.add(g);
    const middle = alike.length > 1 ? inTheMiddle(this.#drawnPlaces, alike, this.#labels) : f;
    this.#labels.push(this.#labelOf(middle ?? f, alike.length - 1));
  }

  /** Whether another finding, not said yet, says the same of another part. */
  #areAlike(f: Finding, g: Finding): boolean {
    const { skeleton } = this.#drawnPlaces;
    if (this.#done.has(g) || g.check !== f.check || g.verdict !== f.verdict) return false;
    return this.#isFar(f) && this.#isFar(g) && wordingOf(skeleton, g).tail === wordingOf(skeleton, f).tail;
  }

  #labelOf(f: Finding, others: number): SceneLabel {
    return {
      id: f.id,
      text: labelText(this.#drawnPlaces.skeleton, f, others),
      anchor: anchorOf(this.#drawnPlaces, f, this.#found),
      verdict: f.verdict,
      basis: shownBasis(this.#drawnPlaces.skeleton, f),
      findingId: f.id,
      station: f.station,
      part: pieceOf(f.at) ?? f.at.spar ?? null,
    };
  }
}
