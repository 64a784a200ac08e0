import { basisOfSize } from '../../checks/basis.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { flangesPoint } from '../../model/hand.ts';
import type { Bracket, Doubler, Rib } from '../../model/schema.ts';
import type { Bay, RibPlace } from '../../parts/layout/layout.ts';
import { sparOf, thickness } from '../../parts/layout/meeting.ts';
import { isCapRow } from '../../parts/placed/holePlaces.ts';
import type { Standing } from './step.ts';
import { AFT, DOWN, type Draft, FORWARD, heldBy, heldPart, standingAt, type Work } from './stepDraft.ts';
import { chordSide, doublerWord, listed, partName, RIB_WORDS, sideOf } from './stepWords.ts';

/*
 * Steps that put a part where it belongs: spars laid, doublers slipped in, ribs stood, brackets fitted.
 */

export function laySpar(work: Work, name: 'front' | 'rear'): Draft {
  const { bays } = work.skeleton;
  const { opens } = sparOf(work.skeleton, name);
  const blocks = work.model.survey.supports;
  const left = bays[0] ? ` ${bays[0].station.id} is at your left.` : '';
  return {
    id: `lay:${name}`,
    kind: 'lay',
    title: `Lay the ${name} spar on its blocks`,
    station: null,
    chosen: [name],
    goes: DOWN,
    standing: 'behind',
    lines: [
      `Open side faces ${opens}, ${chordSide('behind', opens)}.`,
      `Ink mark up.${left}`,
      ...(blocks.length > 0 ? [`Blocks under ${listed(blocks)}.`] : []),
    ],
  };
}

/** The way a piece at a rib end is pushed onto its spar: at a front end forward, at a rear end or a tail aft. */
const pushOf = (end: RibPlace['end']): Vec3 => (end === 'front' ? FORWARD : AFT);

/** Where a piece goes, and how it lies there for who puts it in. */
function pieceLies(place: RibPlace, d: Doubler, standing: Standing): { where: string; lines: readonly string[] } {
  const { spar } = place;
  const legs = place.end === 'front' ? 'aft' : 'forward';
  const toWeb = legs === 'aft' ? 'forward' : 'aft';
  const onWeb = `on the ${spar} spar web`;
  if (d.form === 'channel')
    return {
      where: place.spec.ends === 'nests' ? `into the ${spar} spar` : onWeb,
      lines: [
        `Flat back against the web. Legs point ${legs}, ${chordSide(standing, legs)}.`,
        'Ink number and arrow up.',
      ],
    };
  if (d.on === 'web')
    return { where: onWeb, lines: ['Flat on the web, clear of the bends.', 'Ink number and arrow up.'] };
  return {
    where: `under the ${d.on} cap of the ${spar} spar`,
    lines: [`Flat on the inside of the ${d.on} cap, clear of the bend.`, `Ink arrow points ${toWeb}, to the web.`],
  };
}

export function slip(work: Work, place: RibPlace, d: Doubler): Draft {
  const { skeleton } = work;
  const word = doublerWord(d);
  const { id: station } = place.bay.station;
  const standing: Standing = place.end === 'tail' ? 'ahead' : 'behind';
  const { where, lines } = pieceLies(place, d, standing);
  const sheet = thickness(skeleton, d.sheet);
  const under = place.doublers.slice(0, place.doublers.indexOf(d)).filter((o) => o.form === 'channel' || o.on === d.on);
  return {
    id: `slip:${d.id}`,
    kind: 'slip',
    title: `Slip ${word} ${d.id} ${where} at ${station}`,
    station,
    chosen: [d.id],
    goes: pushOf(place.end),
    standing,
    lines,
    layers: [
      d.on === 'web' ? `${place.spar} spar web` : `${d.on} cap`,
      ...under.map((o) => partName(skeleton, o.id)),
      `${word} ${d.id}`,
    ],
    check: { kind: 'sheet', thickness: sheet.best, basis: basisOfSize(sheet) },
    ...(d.designed ? {} : { added: true as const }),
    ...heldBy(heldPart(work, d.id)),
  };
}

/** How a rib is put in: a main rib that nests at both ends goes in askew, past the caps. */
function howIn(rib: Rib, nested: number): string {
  switch (rib.kind) {
    case 'nose':
      return nested > 0
        ? 'Push the tail between the caps of the front spar.'
        : 'Tail flange flat on the web of the front spar.';
    case 'tip':
      return rib.registered === 'rear'
        ? 'Rear end home against the web of the rear spar.'
        : 'Clip on the front spar first.';
    case 'main':
      return nested > 1
        ? 'Put it in a little askew, both ends between the caps. Swing it square to the mark.'
        : 'Set it down between the spars, on the mark.';
  }
}

/**
 * The way a rib goes in: a nose rib aft, a tip rib past the panel's end, a main rib down or, where it nests at both
 * ends, from beside.
 */
function wayOf(work: Work, bay: Bay, rib: Rib, nested: number): Vec3 {
  if (rib.kind === 'nose') return AFT;
  if (rib.kind === 'tip') return [0, standingAt(work, bay, rib) === 'left end' ? 1 : -1, 0];
  return nested > 1 ? [0, bay.station.y < work.middle ? 1 : -1, 0] : DOWN;
}

export function stand(work: Work, bay: Bay, rib: Rib): Draft {
  const { model, skeleton } = work;
  const { y, id: station } = bay.station;
  const nested = skeleton.placesAt(station).filter((p) => p.rib === rib && p.spec.ends === 'nests').length;
  const standing = standingAt(work, bay, rib);
  const points = flangesPoint(model, rib, y);
  const isHome = rib.kind === 'main' && model.stand !== 'clamped' && model.spars.rear !== undefined;
  const joint = skeleton.jointsAt(station).find((j) => j.layers.includes(rib.id) && !isCapRow(j));
  return {
    id: `stand:${rib.id}`,
    kind: 'stand',
    title: `Stand ${RIB_WORDS[rib.kind]} ${rib.id} at station ${station}`,
    station,
    chosen: [rib.id],
    goes: wayOf(work, bay, rib, nested),
    standing,
    opens: points,
    lines: [
      `Flange points ${rib.turns}, ${sideOf(standing, points)}.`,
      'Ink number at the top rear corner.',
      howIn(rib, nested),
      ...(isHome ? [`Push it home against the ${model.stand} web.`] : []),
    ],
    stack: joint,
    ...heldBy(heldPart(work, rib.id)),
  };
}

export function fitBracket(work: Work, bracket: Bracket): Draft {
  const { id } = bracket;
  const opens = sparOf(work.skeleton, bracket.spar).opens;
  const standing: Standing = opens === 'aft' ? 'ahead' : 'behind';
  const joint = work.skeleton.jointsAt(bracket.station).find((j) => j.layers.includes(id));
  return {
    id: `fit:${id}`,
    kind: 'fit',
    title: `Fit bracket ${id} on the ${bracket.spar} spar at ${bracket.station}`,
    station: bracket.station,
    chosen: [id],
    goes: opens === 'aft' ? AFT : FORWARD,
    standing,
    lines: ['Flat foot on the web, centred on the row of holes.', 'Ink number up.', 'One clamp each side.'],
    stack: joint,
    ...heldBy(heldPart(work, id)),
  };
}
