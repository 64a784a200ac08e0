import type { Vec2 } from '../../geometry/vector.ts';
import { keptWhole } from '../../model/rested.ts';
import type { Skeleton } from '../layout/layout.ts';
import { skeletonOf } from '../layout/skeleton.ts';
import { drilled } from '../shapes/drilled.ts';
import { skinSolid } from '../shapes/skin.ts';
import { type Build, holeInWing, lengthOf, type PlacedSolid, packed, sheetOf, standsAt, webFace } from './build.ts';
import { holesByPart, rivetParts } from './placedHoles.ts';
import { bracketParts, doublerParts } from './placedPieces.ts';
import { crownOf, outlineOf, ribParts } from './placedRibs.ts';
import { sparFaces, sparParts } from './placedSpars.ts';
import { drawnSizes, inWing, type Stance, stancesOf } from './stance.ts';

/*
 * The whole skeleton as solids in measured size and measured place, every deviation enlarged by `magnify` (1 draws it
 * true).
 *
 * Wing frame, mm. Ribs stand as the panel file's `stand` says: against the rear web, against the front web, or
 * clamped, when the rear spar comes to the rib. What is not known is drawn as on the drawing; what no drawing gives
 * (bow, twist, lean) as none. Assumed, where the file is silent: flanges are cut back clear of the spar's inside
 * radius; joggles stay down as far as the cap reaches and 2 mm more; a doubler is centred on the tab; a channel
 * doubler fits its rib end exactly; a rib stands with the same daylight at both caps unless read otherwise. Tabs,
 * flanges and thin pieces follow the web and caps they lie on (`attitude.ts`); a bracket is stiff and rests on the
 * web's high spots.
 */

export interface SolidOptions {
  readonly magnify: number;
  readonly skin?: boolean;
  /** Rivets where every layer of a hole is at its final size; 'all' puts one in every hole, as if all were set. */
  readonly rivets?: boolean | 'all';
}

/**
 * Every part of the skeleton. The same skeleton and options give the same objects, so a kernel's memory of them
 * holds.
 */
export function solidsOf(skeleton: Skeleton, options: SolidOptions): readonly PlacedSolid[] {
  return assembled(skeleton.model, options);
}

const assembled = keptWhole(
  (model, options: SolidOptions): readonly PlacedSolid[] => assemble(skeletonOf(model), options),
  { name: ({ magnify, skin = false, rivets = false }) => `${magnify} ${skin} ${rivets}` },
);

function assemble(skeleton: Skeleton, { magnify, skin, rivets }: SolidOptions): PlacedSolid[] {
  const { model } = skeleton;
  const drawn = drawnSizes(skeleton, magnify);
  const at = (stances: readonly Stance[]): Build => ({
    skeleton,
    model,
    drawn,
    magnify,
    stances,
    byStation: new Map(stances.map((s) => [s.bay.station.id, s])),
    spars: {},
    holes: new Map(),
  });
  const free = at(stancesOf(skeleton, magnify));
  const standing = model.stand === 'clamped' ? at(free.stances.map((s) => clamped(free, s))) : free;
  const build: Build = {
    ...standing,
    spars: { ...sparFaces(standing, 'front'), ...sparFaces(standing, 'rear') },
    holes: holesByPart(standing),
  };
  const parts = [
    ...(['front', 'rear'] as const).flatMap((name) => sparParts(build, name)),
    ...build.stances.flatMap((stance) => ribParts(build, stance)),
    ...skeleton.places.flatMap((place) => doublerParts(build, place)),
    ...bracketParts(build),
  ];
  if (skin && model.skin) parts.push(...skinParts(build));
  if (rivets) parts.push(...rivetParts(build, rivets === 'all'));
  return parts;
}

/** The section with its rear spar drawn up to the main rib that stands against the front web. */
function clamped(b: Build, stance: Stance): Stance {
  const { main } = stance.bay;
  if (!main || !b.model.spars.rear) return stance;
  const plates = stance.rear - webFace(b, stance, 'rear');
  return { ...stance, rear: standsAt(b, stance, main) + lengthOf(b, main) + packed(b, main, 'rear') + plates };
}

function skinParts(b: Build): PlacedSolid[] {
  const { skin } = b.model;
  if (!skin) return [];
  const stations = b.stances.flatMap((stance) => {
    const { nose, main, tip, station } = stance.bay;
    const ahead = tip ?? nose;
    if (ahead === undefined) return [];
    const behind = tip?.rear ?? main?.rear;
    const half = behind ? behind.height / 2 + behind.joggle : 0;
    const zero = standsAt(b, stance, ahead);
    const round = outlineOf(b, stance, ahead).map(([x, z]): Vec2 => [zero + x, z]);
    const aft = tip ?? main;
    const over = aft ? crownOf(b, stance, aft) : [];
    const from = aft ? standsAt(b, stance, aft) : 0;
    const [above, below] = [
      over.map(([x, top]): Vec2 => [from + x, top]).reverse(),
      over.map(([x, , bottom]): Vec2 => [from + x, bottom]),
    ];
    const whole: Vec2[] =
      b.model.spars.rear && half > 0
        ? [[stance.rear, half], ...above, ...round, ...below, [stance.rear, -half]]
        : round;
    return [
      {
        y: station.y,
        outline: whole.map(([x, z]): Vec2 => {
          const at = inWing(stance, x, z);
          return [at.x, at.z];
        }),
      },
    ];
  });
  if (stations.length < 2) return [];
  const holes = (b.holes.get('skin') ?? []).filter((hole) => hole.cap).map((hole) => holeInWing(hole, 0, 0));
  return [
    {
      id: 'skin',
      kind: 'skin',
      mark: 'skin',
      sheet: skin.sheet,
      solid: drilled(skinSolid({ thickness: sheetOf(b, skin.sheet), stations }), holes),
    },
  ];
}
