import { checkAll } from '../../checks/checkAll.ts';
import { leastRadius, nextBlock } from '../../checks/fit/bendRide.ts';
import type { Doubler, Model } from '../../model/schema.ts';
import { sparAt } from '../../parts/placed/build.ts';
import { NEAR } from '../../units/near.ts';
import type { Maker } from '../asked.ts';
import { radiusText, sheetOnHand } from '../onHand.ts';
import { FREE, type Remedy } from '../remedy.ts';

/** Makes a channel doubler new, bent at an easier inside radius, mm: it lies home on the caps. */
export function bendEasier(model: Model, piece: Doubler, radius: number): Remedy {
  const bent = radiusText(model, radius);
  return {
    id: `easier:${piece.id}:${radius}`,
    kind: 'easier',
    name: `make ${piece.id} new, bent at ${bent} inside`,
    station: model.ribs.find((r) => r.id === piece.part)?.station ?? '',
    part: piece.id,
    cost: { ...FREE, pieces: 1 },
    askDesigner: false,
    layers: false,
    edit: {
      name: `made ${piece.id} new, bent at ${bent}`,
      apply: (m) => ({
        ...m,
        doublers: m.doublers.map((d) => (d.id === piece.id ? { ...d, radius } : d)),
        readings: m.readings.filter((r) => r.size !== `${piece.id}.radius`),
      }),
    },
  };
}

/** A channel doubler bent over the next block that clears the bend of its spar. */
export function bendClear(model: Model, piece: Doubler): Remedy {
  const spar = model.spars[sparAt(piece.end)] ?? model.spars.front;
  return bendEasier(model, piece, nextBlock(leastRadius(spar.radius, sheetOnHand(model, piece.sheet))));
}

/** `D2, D3 and D4` */
const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.slice(-1).join('')}`;

/** Doublers made new in one go, as one remedy. */
function inOneGo(model: Model, bent: readonly Remedy[], id: string): Remedy[] {
  const [first] = bent;
  if (!first) return [];
  const radii = bent.map((r) => r.edit.apply(model).doublers.find((d) => d.id === r.part)?.radius ?? 0);
  const [one = 0] = radii;
  const alike = radii.every((r) => Math.abs(r - one) < NEAR);
  const how = alike ? `bent at ${radiusText(model, one)} inside` : 'each bent at its own easier radius';
  const names = listed(bent.map((r) => r.part));
  return [
    {
      ...first,
      id,
      name: `make ${names} new, ${how}`,
      cost: { ...FREE, pieces: bent.reduce((sum, r) => sum + r.cost.pieces, 0) },
      edit: { name: `made ${names} new, ${how}`, apply: (m) => bent.reduce((now, r) => r.edit.apply(now), m) },
    },
  ];
}

/**
 * Doublers made new at an easier radius as one remedy in the list; those made of another sheet anyway stay beside
 * that.
 */
export function easierTogether(model: Model, remedies: readonly Remedy[]): Remedy[] {
  const other = new Set(remedies.filter((r) => r.kind === 'resheet').map((r) => r.part));
  const bent = remedies.filter((r) => r.kind === 'easier' && !other.has(r.part));
  if (bent.length < 2) return [...remedies];
  const rest = remedies.filter((r) => !bent.includes(r));
  return [...inOneGo(model, bent, bent.map((r) => r.id).join(' + ')), ...rest];
}

/** Every channel doubler that rides on a bend. */
function riding(model: Model): Doubler[] {
  const wrong = checkAll(model).filter((f) => f.check === 'bend-ride' && f.verdict !== 'fits');
  const marks = new Set(wrong.map((f) => f.at.doubler));
  return model.doublers.filter((d) => d.form === 'channel' && marks.has(d.id));
}

/** The doubler that rides made new, all that ride together before it. */
export const bentClear: Maker = ({ model, finding }) => {
  const piece = model.doublers.find((d) => d.id === finding.at.doubler);
  if (piece?.form !== 'channel') return [];
  const all = riding(model).map((d) => bendClear(model, d));
  return [...(all.length < 2 ? [] : inOneGo(model, all, 'easier:all')), bendClear(model, piece)];
};

/** A piece bent tighter than its metal takes made new, over the next block the table allows. */
export const bentToTable: Maker = ({ model, finding }) => {
  const piece = model.doublers.find((d) => d.id === finding.at.doubler);
  const [least] = finding.limits.fits;
  if (piece?.form !== 'channel' || least === null || finding.value >= least) return [];
  return [bendEasier(model, piece, nextBlock(least))];
};
