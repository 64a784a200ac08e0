import { inWeb } from '../../model/edits/rows.ts';
import type { Joint, Rib } from '../../model/schema.ts';
import { type Build, endShape, placeOf, sideOf, turnsOf } from '../placed/build.ts';
import { setback } from '../shapes/pressed.ts';
import { laidDoublers } from './cutDoublers.ts';
import { drawnRib } from './drawnRibs.ts';

/*
 * A strip to lay on one layer of a joint: the row's line, the holes, the chord line, the rib's web face and the
 * layer's edges.
 *
 * Millimetres as seen from the drill side: x to the right from the line of the rib's flat web face (or the station's,
 * see `from`), y up from the chord line.
 */

export interface DrillStrip {
  /** What it is laid on: "nose rib tab", "spar web", "doubler web", "rib tab", "bracket foot". */
  readonly layer: string;
  /** The joints and parts it serves. */
  readonly serves: readonly { readonly joint: string; readonly part: string; readonly station: string }[];
  /** Left and right edge of the layer; null where the sheet goes on. */
  readonly edges: readonly [number, number] | null;
  readonly bottom: number;
  readonly top: number;
  /** What x = 0 is: the rib's flat web face, or the station's line where no rib is among the layers. */
  readonly from: 'web face' | 'station';
  /** x of the row's line, and how far holes stand off it. */
  readonly row: number;
  readonly spread: number;
  readonly holes: readonly { readonly name: string; readonly x: number; readonly y: number }[];
  readonly pilot: number;
  readonly final: number;
  /** The rib's web, tab side: 1 when the tab goes to the right of the web's line. */
  readonly tabSide: 1 | -1;
  /** Which way the eye looks: aft or forward. */
  readonly looking: 'aft' | 'forward';
}

/** Strips for every layer of every web row, as drawn; alike ones together. Rows in caps have none. */
export function drillStrips(b: Build): DrillStrip[] {
  const strips = new Map<string, DrillStrip>();
  for (const strip of b.model.joints.filter(inWeb).flatMap((joint) => stripsOf(b, joint))) {
    const { serves, ...shape } = strip;
    const key = JSON.stringify(shape, (_, v: unknown) => (typeof v === 'number' ? Math.round(v * 1000) || 0 : v));
    const had = strips.get(key);
    strips.set(key, had ? { ...had, serves: [...had.serves, ...serves] } : strip);
  }
  return [...strips.values()];
}

function stripsOf(b: Build, joint: Joint): DrillStrip[] {
  const y = b.byStation.get(joint.station)?.bay.station.y;
  if (y === undefined || joint.holes.length === 0) return [];
  const place = placeOf(b, joint);
  const looking = lookingAlong(b, joint);
  // Looking forward, +y is to the right; the tab goes to +y when the flanges turn that way.
  const right = looking === 'forward' ? 1 : -1;
  const side = place === undefined || turnsOf(b, place.rib, y) === right ? 1 : -1;
  // Without a rib among its layers a row is laid out from the station's own line.
  const row = place ? (b.drawn(`${place.key}.row`) ?? place.spec.row) : 0;
  const tab = place ? endShape(b, place.rib, place.end, place.spec).tab : 0;
  const holes = joint.holes.map((h) => ({ name: h.id, x: side * row + right * h.along, y: h.up }));
  const ups = holes.map((h) => Math.abs(h.y));
  const alongs = holes.map((h) => Math.abs(h.x - side * row));
  return joint.layers.flatMap((part): DrillStrip[] => {
    const laid = layerAt(b, joint, part, { row, tab });
    if (laid === undefined) return [];
    const { layer, edges, reach } = laid;
    const half = Math.max(reach ?? 0, Math.max(...ups) + (reach === undefined ? 12 : 0));
    return [
      {
        layer,
        serves: [{ joint: joint.id, part, station: joint.station }],
        holes,
        row: side * row,
        spread: Math.max(...alongs),
        pilot: joint.pilot,
        final: joint.final,
        tabSide: side,
        looking,
        from: place ? 'web face' : 'station',
        edges: edges && side === -1 ? [-edges[1], -edges[0]] : edges,
        top: half,
        bottom: -half,
      },
    ];
  });
}

interface LaidLayer {
  readonly layer: string;
  readonly edges: readonly [number, number] | null;
  readonly reach?: number;
}

/** Where a row lies from the rib's web face, and how wide the end flange it is in. */
interface RowPlace {
  readonly row: number;
  readonly tab: number;
}

function ribTab(b: Build, joint: Joint, rib: Rib): LaidLayer | undefined {
  const place = b.skeleton
    .placesAt(joint.station)
    .find((p) => p.rib === rib && (p.spar === 'rear') === (joint.end === 'rear'));
  const shape = drawnRib(b, rib)?.shape;
  const pressed = shape?.tabs.find((t) => t.name === `${place?.end} tab`);
  if (place === undefined || shape === undefined || pressed === undefined) return undefined;
  const corner = setback(pressed.corner, shape.thickness, shape.radius);
  return {
    layer: `${rib.kind === 'main' ? 'rib' : `${rib.kind} rib`} tab`,
    edges: [0, pressed.width],
    reach: (pressed.top - pressed.bottom) / 2 - corner,
  };
}

function doublerLayer(b: Build, joint: Joint, part: string, { tab }: RowPlace): LaidLayer | undefined {
  const laid = b.skeleton.placesAt(joint.station).flatMap((place) => laidDoublers(b, place));
  const shape = laid.find(({ d, shape: { form } }) => d.id === part && form !== 'shim')?.shape;
  if (shape === undefined || shape.form === 'shim') return undefined;
  const bends = shape.form === 'channel' ? shape.radius + shape.thickness : 0;
  return {
    layer: shape.form === 'channel' ? 'doubler web' : 'packer',
    edges: [tab / 2 - shape.width / 2, tab / 2 + shape.width / 2],
    reach: shape.height / 2 - bends,
  };
}

/**
 * Where a layer's edges are, from the rib's web face towards the tab, and how far it reaches above and below the
 * chord line.
 */
function layerAt(b: Build, joint: Joint, part: string, at: RowPlace): LaidLayer | undefined {
  if (part === 'front' || part === 'rear') return { layer: `${part} spar web`, edges: null };
  const rib = b.model.ribs.find((r) => r.id === part);
  if (rib) return ribTab(b, joint, rib);
  const plate = b.model.spars[joint.end]?.webDoublers.find((d) => d.id === part);
  if (plate) return { layer: 'web doubler', edges: null, reach: plate.height / 2 };
  const bracket = b.model.brackets.find((k) => k.id === part);
  if (!bracket) return doublerLayer(b, joint, part, at);
  const half = bracket.width / 2;
  return { layer: 'bracket foot', edges: [at.row - half, at.row + half], reach: bracket.height / 2 };
}

/** On which side of the spar's web a layer is: ahead of it −1, the web itself 0, behind it 1. */
function sideOfWeb(b: Build, joint: Joint, part: string): number {
  if (part === 'front' || part === 'rear') return 0;
  const rib = b.model.ribs.find((r) => r.id === part);
  if (rib) return rib.kind === 'nose' || joint.end === 'rear' ? -1 : 1;
  const d = b.model.doublers.find((k) => k.id === part);
  if (d) return sideOf(d.end);
  const bracket = b.model.brackets.find((k) => k.id === part);
  const spar = bracket && b.model.spars[bracket.spar];
  return spar?.opens === 'aft' ? -1 : 1;
}

/** The drill goes through the layers in their order: aft where the first stands ahead of the last. */
function lookingAlong(b: Build, joint: Joint): 'aft' | 'forward' {
  const [first, last] = [joint.layers[0] ?? '', joint.layers.at(-1) ?? ''];
  return sideOfWeb(b, joint, first) <= sideOfWeb(b, joint, last) ? 'aft' : 'forward';
}
