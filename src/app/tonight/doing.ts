import { reachStage } from '../../model/edits/edits.ts';
import { ticked } from '../../model/edits/ticks.ts';
import type { Model } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { taken, takingOf } from '../../remedies/decision.ts';
import { easierTogether } from '../../remedies/offers/easier.ts';
import type { ActKind } from '../../tonight/act.ts';
import { awaited } from '../state/atRest.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import type { ListedAct } from '../workers/listed.ts';

/*
 * What is done from an act's line: a reading opens its pad, a remedy is decided, what is done is ticked, a stage is
 * begun, a card is shown.
 */

/** A button at an act's line. */
export interface Doing {
  readonly label: string;
  /** More exactly, for who hears it alone. */
  readonly said?: string;
  readonly run: () => void;
}

/** The first size of an act that was not read since it was asked for; the first where all were. */
function opensPad({ reads: [first] }: ListedAct): Doing[] {
  if (!first) return [];
  const name = sizeBook(useApp.getState().model).entries.get(first.size)?.name ?? first.size;
  return [
    { label: 'Read it', said: `Read it: ${name}`, run: () => useApp.getState().read(first.size, first.instrument) },
  ];
}

/** Decides on the remedies of an act: asked of the engine again, for what they do does not travel. */
async function decide(key: string): Promise<void> {
  const { model, edit } = useApp.getState();
  const { tonightOf } = await import('../../tonight/tonight.ts');
  const act = tonightOf(model).acts.find((a) => a.key === key);
  if (!act || act.remedies.length === 0) return;
  const inOneGo = easierTogether(model, act.remedies);
  const what = inOneGo.map((r) => r.name).join('; ');
  const name = act.remedies.length > 1 ? act.brief : undefined;
  edit(taken({ ...takingOf(act.remedies, act.settles, name), what }, { why: act.why, asked: '', date: today() }));
}

/** A button for each row or station that is ticked: one that was looked at says nothing of the others. */
function ticksOf(act: ListedAct, by: string): Doing[] {
  const { ticks, parts, stations } = act;
  const names = [parts, stations].find((list) => list.length === ticks.length && list.length > 1);
  if (!names) return ticks.length === 0 ? [] : [{ label: 'It is done', run: () => tick(act, ticks, by) }];
  return ticks.map((step, i) => {
    const label = `${names[i] ?? ''} is done`;
    return { label, said: `${label}: ${act.brief}`, run: () => tick(act, [step], by) };
  });
}

function tick({ what }: ListedAct, steps: readonly string[], by: string): void {
  const { edit } = useApp.getState();
  const all = steps.map((step) => ticked(step, what, { by, date: today() }));
  edit({
    name: `ticked: ${what}`,
    quiet: true,
    apply: (m: Model) => all.reduce((now, t) => t.apply(now), m),
  });
}

/** Where an act that is neither read, decided nor ticked is done. */
const ELSEWHERE: Partial<
  Record<ActKind, { readonly question: 'true' | 'helper' | 'drill' | 'remedy' | 'measure'; readonly label: string }>
> = {
  read: { question: 'measure', label: 'Go to the readings' },
  square: { question: 'true', label: 'What squaring moves' },
  pack: { question: 'true', label: 'Show the packs' },
  'dry-fit': { question: 'helper', label: 'Show the cards' },
  clamp: { question: 'helper', label: 'Show the cards' },
  drill: { question: 'drill', label: 'Show the holes' },
  open: { question: 'drill', label: 'Show the holes' },
  ask: { question: 'remedy', label: 'Show what is asked' },
  show: { question: 'helper', label: 'Show the sign-off' },
};

function shows(act: ListedAct): Doing[] {
  const there = ELSEWHERE[act.kind];
  if (!there) return [];
  const [station] = act.stations;
  const run = (): void => {
    const { ask, choose } = useApp.getState();
    ask(there.question);
    choose(act.stations.length === 1 ? (station ?? null) : null);
  };
  return [{ label: there.label, run }];
}

/** What is done from an act's line, the first the way it is meant. */
export function doingsOf(act: ListedAct, by: string): Doing[] {
  const { stage } = act;
  const done = [
    ...opensPad(act),
    ...(act.decides ? [{ label: 'Decide on it', run: () => void awaited(decide(act.key)) }] : []),
    ...ticksOf(act, by),
    ...(stage === null ? [] : [{ label: 'This is where I am', run: () => useApp.getState().edit(reachStage(stage)) }]),
  ];
  return done.length > 0 ? done : shows(act);
}
