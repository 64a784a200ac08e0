import { heightsAt, nacaDigits, nacaProfile, type AirfoilProfile as Section } from '../../geometry/airfoil.ts';
import { parseCoordinates } from '../../geometry/coordinates.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { alongAt, alongWith } from '../along.ts';
import { grainOf, onGrain, rearHigherOf } from '../drawn.ts';
import type { Contour, MainRib, Model, Profile, Rib, Spar, SparName, TipRib } from '../schema.ts';
import type { Edit } from './edits.ts';
import { keepFit } from './keepFit.ts';

/*
 * The section the ribs are bent to: a four-digit one by its name, coordinates pasted from a published table, an
 * ellipse, or straight. Its chord tapers with the ribs. The spars cut it: what depth it leaves them can be taken
 * over.
 */

export type Shape =
  | { readonly kind: 'ellipse' }
  | { readonly kind: 'straight' }
  | { readonly kind: 'naca4'; readonly name: string }
  | { readonly kind: 'points'; readonly section: Section };

/** Reads what was typed or pasted: a word, four digits, or two columns of coordinates. */
export function readShape(
  text: string,
):
  | { readonly ok: true; readonly shape: Shape; readonly says: string }
  | { readonly ok: false; readonly sentences: readonly string[] } {
  const typed = text.trim();
  if (/^ellipse$/i.test(typed))
    return { ok: true, shape: { kind: 'ellipse' }, says: 'half an ellipse ahead of the front spar' };
  if (/^straight$/i.test(typed))
    return { ok: true, shape: { kind: 'straight' }, says: 'straight from the spar to the nose point' };
  const digits = /^(?:naca\s*)?(\d{4})$/i.exec(typed)?.[1];
  if (digits !== undefined) {
    const of = nacaDigits(digits);
    if (!of)
      return {
        ok: false,
        sentences: [
          `${digits} names no section: the last two digits are its thickness, and camber needs a place; type one such as 0012 or 2412.`,
        ],
      };
    return {
      ok: true,
      shape: { kind: 'naca4', name: digits },
      says: `${Math.round(of.thickness * 100)} % thick${of.camber > 0 ? `, ${Math.round(of.camber * 100)} % cambered at ${Math.round(of.at * 100)} %` : ', symmetrical'}`,
    };
  }
  const read = parseCoordinates(text);
  if (!read.ok) return { ok: false, sentences: read.faults.map((f) => f.sentence) };
  return {
    ok: true,
    shape: { kind: 'points', section: read.profile },
    says: `${read.title || 'a section'} of ${read.profile.points.length} points`,
  };
}

/** The section of chord one; undefined for shapes that only the nose has. */
export function shapeSection(shape: Shape): Section | undefined {
  if (shape.kind === 'points') return shape.section;
  const digits = shape.kind === 'naca4' ? nacaDigits(shape.name) : undefined;
  return digits && nacaProfile(digits, { count: 61, trailingEdge: 'open' });
}

/**
 * How deep the section is at a distance behind its nose, both on a chord of that many mm. 0012 on 1000 is 120 deep at
 * 300.
 */
export function depthAt(shape: Shape, chord: number, behind: number): number | undefined {
  const section = shapeSection(shape);
  const at = section && heightsAt(section, (section.points[section.nose]?.[0] ?? 0) + behind / chord);
  return at && (at.upper - at.lower) * chord;
}

const round = (v: number): number => Math.round(v * 1e4) / 1e4;

/** What a rib's file says of a shape, for its nose of a length and a height at the spar, on a chord. */
function profileFor(shape: Shape, chord: number, length: number, height: number): Profile {
  switch (shape.kind) {
    case 'ellipse':
      return { kind: 'ellipse' };
    case 'straight':
      return {
        kind: 'points',
        chord: length,
        points: [
          [round(length), round(height / 2)],
          [0, 0],
          [round(length), round(-height / 2)],
        ],
      };
    case 'naca4':
      return { kind: 'naca4', name: shape.name, chord: round(chord) };
    // Kept in hundredths of the chord: their own length is the chord given beside them.
    case 'points':
      return {
        kind: 'points',
        chord: round(chord),
        points: shape.section.points.map(([x, z]: Vec2): [number, number] => [round(100 * x), round(100 * z)]),
      };
  }
}

/** The section between the spars, on a chord; none for shapes that only the nose has. */
function contourFor(shape: Shape, chord: number): Contour | undefined {
  const profile = shape.kind === 'naca4' || shape.kind === 'points' ? profileFor(shape, chord, 0, 0) : undefined;
  return profile?.kind === 'ellipse' ? undefined : profile;
}

/** The chord at a station: as given at the first one, and in proportion to nose and web to web at the others. */
export function chordAt(model: Model, root: number, station: string): number {
  const reach = (id: string): number => {
    const s = model.stations.find((x) => x.id === id);
    return s ? s.nose + alongAt(model.webToWeb, s.y) : 0;
  };
  const first = model.stations[0]?.id ?? '';
  return reach(first) > 0 ? (root * reach(station)) / reach(first) : root;
}

/**
 * Bends every rib to a shape, on a chord given at the first station: noses, and behind the front spar the section's own
 * curve unless they are to run straight there.
 */
export function shapeRibs(
  model: Model,
  shape: Shape,
  root: number,
  options: { readonly straightBehind?: boolean } = {},
): Edit {
  const bend = (m: Model, r: Rib): Rib => {
    const chord = chordAt(model, root, r.station);
    const between = options.straightBehind ? undefined : contourFor(shape, chord);
    if (r.kind === 'main') return curvedBehind(r, between);
    if (r.kind === 'nose') {
      const height = r.tail.height + 2 * r.tail.joggle;
      return { ...r, profile: profileFor(shape, chord, r.length, height) };
    }
    const nose = m.stations.find((s) => s.id === r.station)?.nose ?? r.length;
    return curvedBehind({ ...r, profile: profileFor(shape, chord, nose, r.height) }, between);
  };
  return { name: 'changed the shape of the ribs', apply: (m) => ({ ...m, ribs: m.ribs.map((r) => bend(m, r)) }) };
}

/** A main or tip rib with that section behind the front spar, or straight there. */
function curvedBehind(rib: MainRib | TipRib, section: Contour | undefined): Rib {
  const { contour: _, ...straight } = rib;
  return section ? { ...straight, contour: section } : straight;
}

/**
 * What a spar's depth at a station is by the section, on the drawing's grain; undefined for shapes without one or
 * where it does not reach.
 */
export function depthByShape(
  model: Model,
  shape: Shape,
  root: number,
  name: SparName,
  station: string,
): number | undefined {
  const s = model.stations.find((x) => x.id === station);
  if (!s || !model.spars[name]) return undefined;
  const depth = depthAt(
    shape,
    chordAt(model, root, station),
    s.nose + (name === 'rear' ? alongAt(model.webToWeb, s.y) : 0),
  );
  return depth === undefined ? undefined : onGrain(depth, grainOf(model.units));
}

/** A spar's depth by the section at every station; undefined where the section does not reach one of them. */
function depthsByShape(
  model: Model,
  shape: Shape,
  root: number,
  name: SparName,
): ReadonlyMap<string, number> | undefined {
  const depths = new Map<string, number>();
  for (const { id } of model.stations) {
    const depth = depthByShape(model, shape, root, name, id);
    if (depth === undefined) return undefined;
    depths.set(id, depth);
  }
  return depths;
}

/** Draws both spars as deep as the section leaves them, station by station; ribs keep the fit they had. */
export function cutSpars(model: Model, shape: Shape, root: number): Edit | undefined {
  const front = depthsByShape(model, shape, root, 'front');
  const rear = model.spars.rear && depthsByShape(model, shape, root, 'rear');
  if (!front || (model.spars.rear && !rear)) return undefined;
  return {
    name: 'drew the spars as deep as the section',
    apply: (m) => {
      const cut = (spar: Spar, depths: ReadonlyMap<string, number>): Spar => ({
        ...spar,
        depth: alongWith(spar.depth, m.stations, depths),
      });
      const spars = {
        front: cut(m.spars.front, front),
        ...(m.spars.rear && rear ? { rear: cut(m.spars.rear, rear) } : {}),
      };
      const next = { ...m, spars };
      return keepFit(m, { ...next, survey: { ...m.survey, rearHigher: rearHigherOf(next) } });
    },
  };
}

/** Whether ribs whose noses have a section run straight behind the front spar all the same. */
export function straightBehind(model: Model): boolean {
  const mains = model.ribs.filter((r) => r.kind === 'main');
  return (
    mains.length > 0 &&
    mains.every((r) => r.contour === undefined) &&
    model.ribs.some(
      (r) =>
        r.kind !== 'main' &&
        (r.profile.kind === 'naca4' || (r.profile.kind === 'points' && r.profile.points.length > 3)),
    )
  );
}

/** The shape the panel's noses have now, as text to begin from, and the chord at the first station. */
export function shapeNow(model: Model): { readonly text: string; readonly chord: number } {
  const rib = model.ribs.find((r) => r.kind !== 'main');
  const first = model.stations[0];
  const reach = first ? first.nose + alongAt(model.webToWeb, first.y) : 0;
  if (!rib || rib.profile.kind === 'ellipse') return { text: 'ellipse', chord: round(reach * 1.4) };
  const here = chordAt(model, 1, rib.station);
  const chord = round(rib.profile.chord / (here || 1));
  if (rib.profile.kind === 'naca4') return { text: rib.profile.name, chord };
  const { points } = rib.profile;
  if (points.length === 3) return { text: 'straight', chord: round(reach * 1.4) };
  const long = Math.max(...points.map(([x]) => x)) - Math.min(...points.map(([x]) => x)) || 1;
  return { text: points.map(([x, z]) => `${round(x / long)} ${round(z / long)}`).join('\n'), chord };
}
