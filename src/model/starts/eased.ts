import { fromRoot } from '../hand.ts';
import type { Model } from '../schema.ts';
import { num, type Start, type StartAnswers } from './asked.ts';
import { startPanel } from './starts.ts';

/*
 * A drawing gives a rib's height and length; a start keeps how much less they are than the room, for it holds of
 * every rib alike. Either may be typed: what is as large as the rib itself is taken as its size.
 */

/** A rib by which the eases are checked against the drawing, mm. */
export interface RibMade {
  /** As at the bench: "M2’s front end". */
  readonly end?: string;
  /** Over the flanges at that end. */
  readonly height?: number;
  /** The main rib, and how long it is. */
  readonly rib?: string;
  readonly length?: number;
}

/** The first main rib from the root and its first end between caps; a nose rib's tail where no main rib is nested. */
export function ribMade(model: Model): RibMade {
  const stations = fromRoot(model, model.stations).map((s) => s.id);
  const byStation = [...model.ribs].sort((a, b) => stations.indexOf(a.station) - stations.indexOf(b.station));
  const main = byStation.find((r) => r.kind === 'main');
  const nose = byStation.find((r) => r.kind === 'nose');
  const ends = [
    ...(main?.kind === 'main'
      ? [[`${main.id}’s front end`, main.front] as const, [`${main.id}’s rear end`, main.rear] as const]
      : []),
    ...(nose?.kind === 'nose' ? [[`${nose.id}’s tail`, nose.tail] as const] : []),
  ];
  const nested = ends.find(([, e]) => e.ends === 'nests');
  return {
    ...(nested ? { end: nested[0], height: nested[1].height } : {}),
    ...(main ? { rib: main.id, length: main.length } : {}),
  };
}

const tidy = (v: number): number => Math.round(v * 1e4) / 1e4;

/** The answers with a rib's own height or length turned into how much it is less than the room. */
export function easesMeant(start: Start, answers: StartAnswers): StartAnswers {
  const [height, length] = [num(answers, 'easeHeight'), num(answers, 'easeLength')];
  if (!(height > 10) && !(length > 10)) return answers;
  const made = startPanel(start, { ...answers, easeHeight: 0, easeLength: 0 });
  if (!made.ok) return answers;
  const room = ribMade(made.model);
  const meant = (given: number, of: number | undefined): number =>
    of !== undefined && given > 0.7 * of ? tidy(of - given) : given;
  return { ...answers, easeHeight: meant(height, room.height), easeLength: meant(length, room.length) };
}
