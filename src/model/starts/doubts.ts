import { formatLength } from '../../units.ts';
import { MOST_OF_DEPTH } from '../rooms.ts';
import { askedBy, num, placesOf, type Start, type StartAnswers, type StartQuestion, unitsOf, word } from './asked.ts';

/** Something about an answer that keeps the panel from being laid, said at its question. */
export interface Doubt {
  readonly id: string;
  readonly sentence: string;
}

/** A length as the drawing writes it. */
const shown = (a: StartAnswers, v: number): string => formatLength(v, unitsOf(a));

/** An answer that its question does not take. */
function* answerDoubts(a: StartAnswers, q: StartQuestion): Generator<Doubt> {
  const { id, least, most } = q;
  const v = a[id];
  const show = (x: number): string => (q.kind === 'length' ? shown(a, x) : String(x));
  if (q.kind === 'text' && word(a, id) === '') yield { id, sentence: 'Nothing is written here; type a short name.' };
  if (q.kind === 'choice' && !q.choices?.some(([value]) => value === v)) yield { id, sentence: 'Choose one of them.' };
  if (typeof v !== 'number') return;
  if ((least !== undefined && v < least) || (most !== undefined && v > most))
    yield {
      id,
      sentence: `${show(v)} is outside what is likely, ${show(least ?? 0)} to ${show(most ?? 0)}; check the unit.`,
    };
}

function* letterDoubts(a: StartAnswers): Generator<Doubt> {
  if (!/^[A-Za-z]$/.test(word(a, 'letter')))
    yield { id: 'letter', sentence: 'A station mark starts with one letter, such as S.' };
}

/** Ribs stand in order, no closer than their flanges are wide. */
function* placeDoubts(a: StartAnswers): Generator<Doubt> {
  const places = placesOf(a);
  if (places.length < 2) {
    yield { id: 'places', sentence: 'At least two places are needed.' };
    return;
  }
  const { places: listed } = a;
  const id = Array.isArray(listed) && listed.length > 0 ? 'places' : 'ribs';
  let before: number | undefined;
  for (const y of places) {
    if (before !== undefined && y - before < 2 * num(a, 'tab')) {
      yield {
        id,
        sentence: `The ribs at ${shown(a, before)} and ${shown(a, y)} stand closer than their flanges are wide; list the places in order, or ask for fewer ribs.`,
      };
      return;
    }
    before = y;
  }
}

/** A row keeps its edge distance, and its holes stand apart. */
function* rowDoubts(a: StartAnswers): Generator<Doubt> {
  const [row, tab, pitch] = [num(a, 'row'), num(a, 'tab'), num(a, 'pitch')];
  const rivet = Number(word(a, 'rivet'));
  if (row > tab - 2 * rivet)
    yield {
      id: 'row',
      sentence: `A row ${shown(a, row)} from the web leaves less than 2 rivet diameters to the edge of a ${shown(a, tab)} flange; move the row in or widen the flange.`,
    };
  if (pitch < 3 * rivet)
    yield {
      id: 'pitch',
      sentence: `Holes ${shown(a, pitch)} apart are closer than 3 rivet diameters, ${shown(a, 3 * rivet)}; widen the pitch.`,
    };
}

/** A spar's bend leaves the web and the cap some flat; asked where a radius is answered. */
function* bendDoubts(a: StartAnswers): Generator<Doubt> {
  for (const which of ['front', 'rear']) {
    const id = `${which}Radius`;
    const radius = num(a, id);
    const tip = num(a, `${which}DepthTip`);
    const depth = Number.isNaN(tip) ? num(a, `${which}Depth`) : Math.min(num(a, `${which}Depth`), tip);
    const flat = num(a, `${which}Cap`) - num(a, `${which}Sheet`);
    const most = Math.min(depth * MOST_OF_DEPTH, flat);
    if (radius > 0 && radius >= most)
      yield {
        id,
        sentence: `A bend of ${shown(a, radius)} inside leaves nothing flat in a spar ${shown(a, depth)} deep; expected less than ${shown(a, most)}; check the unit.`,
      };
  }
}

function* stripDoubts(a: StartAnswers): Generator<Doubt> {
  if (word(a, 'strip') !== 'yes') return;
  const places = placesOf(a);
  const to = num(a, 'stripTo');
  if (to <= (places[0] ?? Infinity) || to > (places.at(-1) ?? -Infinity))
    yield {
      id: 'stripTo',
      sentence: 'The strip ends outside the spar; give its place along the span from the same datum as the ribs.',
    };
}

function* profileDoubts(a: StartAnswers): Generator<Doubt> {
  const profile = word(a, 'profile');
  if (/\d/.test(profile) && !/^\d{4}$/.test(profile))
    yield { id: 'profile', sentence: 'A four-digit section has four digits, such as 0012; or write ellipse.' };
}

/** What keeps these answers from being laid, each at its question; none when they can be. */
export function doubtsOf(start: Start, a: StartAnswers): Doubt[] {
  return [
    ...askedBy(start, a).flatMap((q) => [...answerDoubts(a, q)]),
    ...letterDoubts(a),
    ...placeDoubts(a),
    ...rowDoubts(a),
    ...bendDoubts(a),
    ...stripDoubts(a),
    ...profileDoubts(a),
  ];
}
