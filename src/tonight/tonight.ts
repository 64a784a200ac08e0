import type { Finding } from '../checks/finding.ts';
import { CAUTION } from '../checks/report.ts';
import { askHoles } from '../drilling/drill.ts';
import type { GateItem } from '../drilling/gate.ts';
import { gatesOf } from '../drilling/gates.ts';
import { tonight as holding } from '../drilling/hold.ts';
import type { Model } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import type { Remedy } from '../remedies/remedy.ts';
import type { Act, Draft } from './act.ts';
import { permission, unansweredActs } from './asking.ts';
import { askedActs, decidedActs, shownActs } from './decided.ts';
import { bringActs, closeActs, deburrActs, drillActs, lookActs } from './drilling.ts';
import { type Drill, headline } from './headline.ts';
import { noseActs, ribActs, ridingActs, rowActs } from './metal.ts';
import { causeOf, type Muted, mutedBehind } from './muted.ts';
import {
  type Before,
  causesFirst,
  disputedFirst,
  inOrder,
  metalOnce,
  onlyNow,
  readingFirst,
  withinHours,
} from './order.ts';
import { askedByGates, disputedActs, nextReads, type Reads, repeatWanted, unreadWanted } from './reading.ts';
import { type Scope, scopeOf } from './scope.ts';
import { readActs, type Wanted } from './sizesToRead.ts';
import { againActs, anewActs, packActs, squareActs, standActs, straightenActs } from './standing.ts';
import { opening } from './words.ts';

/*
 * What first, tonight? One ordered list of acts over everything the others know: readings, remedies, packs, gates and
 * holes. It decides nothing anew: what is open the checks say, what to read next `nextReadings`, what may be drilled
 * `askHoles`, what a remedy does the remedies, how the jig is packed the packing.
 */

const NO_PLAN: readonly Remedy[] = [];

/** What the list is asked with. */
export interface Evening {
  /** How long it may be, hours; all of it unless told. */
  readonly hours?: number | undefined;
  /** Remedies of the plan of least work, once it was found: they go before those chosen here. */
  readonly planned?: readonly Remedy[] | undefined;
  /** What no check rests on, in sentences, once that was asked: it takes seconds, the list does not wait for it. */
  readonly unasked?: readonly string[] | undefined;
}

/** The answer: the list, and what is said about it. */
export interface TonightList {
  readonly sentence: string;
  readonly drill: Drill;
  /** What to do, in order. */
  readonly acts: readonly Act[];
  /** What no longer fits into the evening, in order. */
  readonly later: readonly Act[];
  /**
   * Findings that hang on an open cause, by id: the number of the act that puts the cause right, and the words that
   * say so.
   */
  readonly muted: ReadonlyMap<string, { readonly n: number; readonly words: string }>;
  /** What no check rests on, in sentences, where that was asked. */
  readonly unasked: readonly string[];
}

/** Acts of metal, loose first, and those on the noses. */
interface Metal {
  readonly loose: readonly Draft[];
  readonly noses: readonly Draft[];
  readonly ask: readonly Draft[];
}

function metalOf(scope: Scope, straighten: readonly Draft[]): Metal {
  const decided = decidedActs(scope);
  const parts = new Set(decided.flatMap((d) => d.parts));
  const riding = ridingActs(scope, parts);
  const ribs = ribActs(scope, parts, riding);
  const had = new Set([...decided, ...riding, ...ribs].flatMap((d) => d.settles));
  const loose = [...decided, ...riding, ...ribs, ...rowActs(scope, had)];
  const muted = (f: Finding): boolean => causeOf(scope, f, [...loose, ...straighten]) !== undefined;
  const { ask, metal } = permission(scope, metalOnce([...loose, ...noseActs(scope, parts, muted)]));
  const isNose = (d: Draft): boolean => d.phase === 'nose';
  return {
    loose: metal.filter((d) => !isNose(d)),
    noses: metal.filter(isNose),
    ask: [...ask, ...askedActs(scope)],
  };
}

/** Acts that read, and the pairs of reading and metal. */
interface Reading {
  readonly acts: readonly Draft[];
  readonly decides: Reads['decides'];
}

function readingOf(scope: Scope, metal: readonly Draft[], items: readonly GateItem[], anew: readonly Draft[]): Reading {
  const disputed = disputedActs(scope);
  const { first, others, decides } = nextReads(scope, metal);
  const had = new Set([...disputed, ...first, ...anew].flatMap((d) => d.reads.map((r) => r.size)));
  const settled = new Set([...disputed, ...first, ...metal].flatMap((d) => d.settles));
  const wanted: Wanted[] = [...unreadWanted(scope), ...askedByGates(scope, items), ...others];
  const known = new Set([...settled, ...wanted.flatMap((w) => w.settles)]);
  const all = [...wanted, ...repeatWanted(scope, items, known)].filter((w) => !had.has(w.key));
  const surveys = readActs(scope, all, { key: 'read', why: 'nobody read it yet, or it is too close to call' });
  return { acts: [...disputed, ...first, ...surveys], decides };
}

/** Every act of a panel, before it has its place. */
function draftsOf(scope: Scope): { drafts: Draft[]; decides: readonly Before[] } {
  const [pilots, final, skin] = gatesOf(scope.model);
  const items = [pilots, final].filter((g) => g.rows.of > 0).flatMap((g) => g.items);
  const straighten = straightenActs(scope);
  const metal = metalOf(scope, straighten);
  const stand = standActs(scope, metal.loose);
  const anew = anewActs(scope, stand);
  const reading = readingOf(scope, [...metal.loose, ...metal.noses], items.length > 0 ? items : pilots.items, anew);
  const square = squareActs(scope, stand);
  const pack = packActs(scope);
  const again = againActs(scope, [...straighten, ...square, ...pack]);
  const all = [
    ...reading.acts,
    ...metal.ask,
    ...metal.loose,
    ...stand,
    ...anew,
    ...straighten,
    ...square,
    ...pack,
    ...again,
    ...metal.noses,
    ...lookActs(scope, items),
    ...deburrActs(scope, skin),
    ...drillActs(scope),
  ];
  const muted = mutedBehind(scope, all);
  const answered = new Set([...all.flatMap((d) => d.settles), ...muted.keys()]);
  const asking = [...all, ...unansweredActs(scope, answered)];
  if (asking.length > 0) return { drafts: asking, decides: reading.decides };
  const closing = [...closeActs(scope, skin), ...(skin.answer === 'yes' ? shownActs(scope) : [])];
  return { drafts: closing.length > 0 ? closing : bringActs(scope), decides: [] };
}

/** What is muted, by the numbers of the acts. */
function mutedWords(muted: Muted, acts: readonly Act[]): TonightList['muted'] {
  const byKey = new Map(acts.map((a) => [a.key, a]));
  return new Map(
    [...muted].flatMap(([id, key]) => {
      const act = byKey.get(key);
      return act ? [[id, { n: act.n, words: `after ${act.once}` }] as const] : [];
    }),
  );
}

/** Whether any hole may be drilled, and why not: as the drill question says it. */
function drillOf(model: Model): Drill {
  const answers = askHoles(skeletonOf(model));
  const { headline: said, alone } = holding(answers);
  const yes = onlyNow(answers).length > 0;
  const waits = alone.find(({ holes }) => holes.some((h) => h.because === 'put right' || h.because === 'look'));
  return { yes, why: yes || waits === undefined ? said : `${said} ${opening(waits.reason)}.` };
}

/**
 * What to do with a panel, in order: pure, the same for a model whatever order its lists are in. Asked without a plan
 * it comes at once; asked again with the remedies of the least work, once that search is done, their metal takes its
 * place.
 *
 * @example `tonightOf(model).sentence` → "Tonight: make six doublers anew at an easier bend, read five sizes. Drill nothing yet."
 */
export function tonightOf(model: Model, { hours, planned = NO_PLAN, unasked = [] }: Evening = {}): TonightList {
  const scope = scopeOf(model, planned);
  const { drafts, decides } = draftsOf(scope);
  const before = [...disputedFirst(drafts), ...causesFirst(drafts), ...readingFirst(drafts, decides)];
  const all = inOrder(drafts, before, scope.along);
  const { tonight, later } = withinHours(all, hours);
  const drill = drillOf(model);
  return {
    sentence: headline(model, { tonight, later, drill, hours }),
    drill,
    acts: tonight,
    later,
    muted: mutedWords(mutedBehind(scope, drafts), all),
    unasked,
  };
}

/** The list as plain data. */
export function tonightPlain(model: Model, list: TonightList): object {
  const act = (a: Act): object => ({
    n: a.n,
    kind: a.kind,
    what: a.what,
    why: a.why,
    tool: a.tool,
    minutes: a.minutes,
    parts: a.parts,
    stations: a.stations,
    settles: a.settles,
    holes: a.holes,
    size: a.reads[0]?.size ?? null,
    remedy: a.remedies[0]?.id ?? null,
    after: a.after,
  });
  return {
    panel: { name: model.name, revision: model.revision },
    sentence: list.sentence,
    drill: list.drill,
    acts: list.acts.map(act),
    later: list.later.map(act),
    unasked: list.unasked,
    caution: CAUTION,
  };
}
