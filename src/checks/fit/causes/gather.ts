import { shares } from '../../../chains/chain.ts';
import type { Model } from '../../../model/schema.ts';
import { capital } from '../../../units/capital.ts';
import { formatPercent } from '../../../units.ts';
import { show } from '../../describe.ts';
import type { Finding } from '../../finding.ts';
import { UNSEEN } from '../../slack.ts';
import { type Cause, type Link, nameOf, type Senses, side, sumOf, verb } from './cause.ts';

/** A cause that puts nothing in is still named when it carries this share of the doubt. */
const CARRIES_DOUBT = 0.05;
/** A share of the doubt worth a word beside the amount. */
const WORTH_A_WORD = 0.01;
/** What takes away this share of the first cause is named beside it. */
const TAKES_AWAY = 0.3;
/** A cause this near the whole, mm, makes all of it. */
const ALL_OF_IT = 0.02;

/** Links of one name as one cause; largest first, what tells nothing left out. */
export function gather(model: Model, finding: Finding, links: readonly Link[], senses: Senses): Cause[] {
  const share = shares(finding.restsOn);
  const doubts = new Map(finding.restsOn.map((t, i) => [t.size.key, share[i] ?? 0]));
  const groups = new Map<string, { first: Link; all: Link[] }>();
  for (const l of links) {
    const had = groups.get(nameOf(l));
    if (had) had.all.push(l);
    else groups.set(nameOf(l), { first: l, all: [l] });
  }
  return [...groups.values()]
    .map(({ first, all }): Cause => {
      const { kind, what, station } = first;
      const said = { kind, what, station, amount: sumOf(all), doubt: doubtOf(all, doubts) };
      return { ...said, sentence: sentenceOf(model, said, senses) };
    })
    .filter((c) => Math.abs(c.amount) >= UNSEEN || c.doubt >= CARRIES_DOUBT)
    .sort((a, b) => Math.abs(b.amount) - Math.abs(a.amount) || b.doubt - a.doubt);
}

function doubtOf(links: readonly Link[], doubts: ReadonlyMap<string, number>): number {
  const keys = new Set(links.filter((l) => l.c !== 0).map((l) => l.size.key));
  return [...keys].reduce((sum, k) => sum + (doubts.get(k) ?? 0), 0);
}

function sentenceOf(model: Model, { kind, what, amount, doubt }: Omit<Cause, 'sentence'>, senses: Senses): string {
  const much = show(model, Math.abs(amount));
  const does =
    Math.abs(amount) < UNSEEN
      ? `${verb(kind, ['is', 'are'])} as drawn`
      : `${verb(kind, ['makes', 'make'])} it ${much} ${side(amount, senses)}`;
  const carries =
    doubt >= WORTH_A_WORD ? `, and ${verb(kind, ['carries', 'carry'])} ${formatPercent(doubt)} of the doubt` : '';
  return `${capital(what)} ${does}${carries}.`;
}

/** The first sentence of a ranked list: what makes most of it, and what takes away from that. */
export function leading(model: Model, f: Finding, list: readonly Cause[], senses: Senses): string {
  const [first, ...rest] = list.filter((c) => Math.abs(c.amount) >= UNSEEN);
  if (!first) return 'Everything in it is as drawn.';
  const does = `${capital(first.what)} ${verb(first.kind, ['makes', 'make'])}`;
  const much = show(model, Math.abs(first.amount));
  const against = rest.find(
    (c) => c.amount * first.amount < 0 && Math.abs(c.amount) > TAKES_AWAY * Math.abs(first.amount),
  );
  if (against) {
    const takes = `${against.what} ${verb(against.kind, ['takes', 'take'])}`;
    return `${does} it ${much} ${side(first.amount, senses)}, and ${takes} ${show(model, Math.abs(against.amount))} of that away.`;
  }
  if (Math.abs(first.amount - f.value) < ALL_OF_IT) return `${does} all of it.`;
  return `${does} ${much} of the ${show(model, Math.abs(f.value))}.`;
}
