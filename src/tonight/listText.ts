import { CAUTION } from '../checks/report.ts';
import type { Model } from '../model/schema.ts';
import type { Act } from './act.ts';
import { LINES } from './headline.ts';
import type { TonightList } from './tonight.ts';
import { counted } from './words.ts';

const HOUR = 60;

/** `12 min`, `6 h`, `2.5 h`. */
function timeText(minutes: number): string {
  if (minutes < HOUR) return `${Math.ceil(minutes)} min`;
  return `${Number((Math.round((2 * minutes) / HOUR) / 2).toFixed(1))} h`;
}

function actText(a: Act): string {
  const tool = a.tool === null ? '' : `, ${a.tool}`;
  return `${String(a.n).padStart(3)}. ${a.what} (about ${timeText(a.minutes)}${tool}): ${a.why}.`;
}

/** The list as text for the terminal: the sentence, the first lines with why, the rest in short, whether to drill. */
export function tonightText(model: Model, list: TonightList): string {
  const { acts, later, muted } = list;
  const open = acts.slice(0, LINES).map(actText);
  const rest = acts.slice(LINES).map((a) => `${String(a.n).padStart(3)}. ${a.what}`);
  const hanging =
    muted.size > 0 ? [`${counted(muted.size, 'more')} hang on these, and are asked again after them.`] : [];
  return [
    `${model.name}, revision ${model.revision}`,
    '',
    list.sentence,
    '',
    ...open,
    ...(rest.length > 0 ? ['', 'Then:', ...rest] : []),
    ...(later.length > 0 ? ['', 'Another evening:', ...later.map((a) => `${String(a.n).padStart(3)}. ${a.what}`)] : []),
    '',
    ...hanging,
    list.drill.why,
    '',
    CAUTION,
  ].join('\n');
}
