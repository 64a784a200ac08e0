import type { Rib } from '../../model/schema.ts';
import type { EndName, Skeleton } from '../layout/layout.ts';
import { type Build, endShape, lengthOf, tipBack } from '../placed/build.ts';
import { behind, contourOf, outlineOf, passing, placedBody } from '../placed/placedRibs.ts';
import { drawnSizes, stancesOf } from '../placed/stance.ts';
import { mainRibPressed } from '../shapes/mainRib.ts';
import { noseRibPressed } from '../shapes/noseRib.ts';
import type { PressedShape, WebHole } from '../shapes/pressed.ts';
import { tipRibPressed } from '../shapes/tipRib.ts';

/*
 * Ribs as the drawing has them, square and true: what a forming block and a blank are made to. Nothing measured enters.
 */

/** The skeleton's sizes with every deviation times `magnify`: 0 is the drawing, 1 is as measured. */
export function sizesFor(skeleton: Skeleton, magnify: 0 | 1): Build {
  const { model } = skeleton;
  const stances = stancesOf(skeleton, magnify);
  return {
    skeleton,
    model,
    magnify,
    stances,
    drawn: drawnSizes(skeleton, magnify),
    byStation: new Map(stances.map((s) => [s.bay.station.id, s])),
    spars: {},
    holes: new Map(),
  };
}

/** A rib to be pressed, in its own axes. */
export interface DrawnRib {
  readonly rib: Rib;
  readonly shape: PressedShape;
  /** x from and to where a tip rib's flanges are cut away for the front spar. */
  readonly passes?: readonly [number, number];
  /** x of each end's tab face, and which way the rib goes from it. */
  readonly faces: readonly { readonly end: EndName; readonly x: number; readonly inward: 1 | -1 }[];
}

/** A rib as drawn; undefined for one that stands at no station. */
export function drawnRib(b: Build, rib: Rib): DrawnRib | undefined {
  const stance = b.byStation.get(rib.station);
  if (stance === undefined) return undefined;
  const length = lengthOf(b, rib);
  const body = placedBody(b, stance, rib);
  const webHoles = (nose: number): WebHole[] =>
    rib.holes.map((h) => ({ x: nose + h.fromFront, z: h.above, diameter: h.diameter }));
  switch (rib.kind) {
    case 'main':
      return {
        rib,
        faces: [
          { end: 'front', x: 0, inward: 1 },
          { end: 'rear', x: length, inward: -1 },
        ],
        shape: mainRibPressed({
          ...body,
          length,
          front: endShape(b, rib, 'front', rib.front),
          rear: endShape(b, rib, 'rear', rib.rear),
          webHoles: webHoles(0),
          ...behind(contourOf(b, stance, rib), 'contour'),
        }),
      };
    case 'nose':
      return {
        rib,
        faces: [{ end: 'tail', x: 0, inward: -1 }],
        shape: noseRibPressed({
          ...body,
          outline: outlineOf(b, stance, rib),
          tail: endShape(b, rib, 'tail', rib.tail),
          webHoles: webHoles(-length),
        }),
      };
    case 'tip': {
      const back = tipBack(b, stance, rib);
      return {
        rib,
        faces: [{ end: 'rear', x: back, inward: -1 }],
        ...passing(b, stance, rib),
        shape: tipRibPressed({
          ...body,
          back,
          outline: outlineOf(b, stance, rib),
          rear: endShape(b, rib, 'rear', rib.rear),
          webHoles: webHoles(back - length),
          ...behind(contourOf(b, stance, rib), 'behind'),
        }),
      };
    }
  }
}
