import { girth, signedArea } from '../geometry/outline.ts';
import { shearModulusOf } from '../mechanics/buckling.ts';
import { cells, openTorsion, type TorsionCell, type Wall } from '../mechanics/torsion.ts';
import { alongAt } from '../model/along.ts';
import type { Spar } from '../model/schema.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { thickness } from '../parts/layout/meeting.ts';
import { noseOutline } from '../parts/shapes/noseOutline.ts';

/*
 * The panel as a torsion box, station by station: bare, two open channels; skinned, a nose cell round the front and a
 * box between the spars. Ribs keep the shape and add nothing. An estimate.
 */

/** What holds a twist at one station. */
export interface TorsionSection {
  readonly bay: Bay;
  /** Torsion constants, mm⁴: bare and skinned. */
  readonly open: number;
  readonly closed: number;
  /** Shear flow round each cell for each N·mm of torque, N/mm: nose cell first, then the box. */
  readonly flows: readonly number[];
}

export interface TorsionBox {
  /** Along the span, one a station. */
  readonly sections: readonly TorsionSection[];
  /** Shear modulus of the skin, MPa. */
  readonly shear: number;
}

/** The panel's torsion box; undefined where it has no skin, or a station at which no cell is closed. */
export function torsionBox(skeleton: Skeleton): TorsionBox | undefined {
  const { model, bays } = skeleton;
  const sheet = model.sheets.find((s) => s.id === model.skin?.sheet);
  if (!sheet) return undefined;
  const skin = thickness(skeleton, sheet.id).best;
  const shear = shearModulusOf(sheet.alloy);
  const sections: TorsionSection[] = [];
  for (const bay of bays) {
    const { all, shared } = cellsAt(skeleton, bay, skin);
    if (all.length === 0) return undefined;
    const { constant, flows } = cells(all, shared, 1, shear);
    sections.push({ bay, open: openAt(skeleton, bay), closed: constant, flows });
  }
  return { sections, shear };
}

/** Torsion constant of the bare spars at a station, mm⁴. */
function openAt(skeleton: Skeleton, { station }: Bay): number {
  const { front, rear } = skeleton.model.spars;
  const spars = rear ? [front, rear] : [front];
  return openTorsion(spars.flatMap((spar) => channelWalls(skeleton, spar, station.y)));
}

/** Walls of a channel at a place along the span: web, two caps, and the strips lying in them. */
function channelWalls(skeleton: Skeleton, spar: Spar, y: number): Wall[] {
  const t = thickness(skeleton, spar.sheet).best;
  const cap = alongAt(spar.capWidth, y);
  const strips = spar.strips
    .filter((s) => y >= s.from && y <= s.to)
    .map((s): Wall => ({ length: cap * (s.caps === 'both' ? 2 : 1), thickness: thickness(skeleton, s.sheet).best }));
  return [{ length: alongAt(spar.depth, y), thickness: t }, { length: 2 * cap, thickness: t }, ...strips];
}

/** The cells at a station once skinned, and the walls they share. */
function cellsAt(skeleton: Skeleton, bay: Bay, skin: number): { all: readonly TorsionCell[]; shared: readonly Wall[] } {
  const { front } = skeleton.model.spars;
  const web: Wall = {
    length: alongAt(front.depth, bay.station.y),
    thickness: thickness(skeleton, front.sheet).best,
  };
  const all = [noseCell(bay, web.length, skin), boxCell(skeleton, bay, web.length, skin)].filter(
    (cell) => cell !== undefined,
  );
  const [only] = all;
  if (all.length === 1 && only) return { all: [{ ...only, walls: [...only.walls, web] }], shared: [] };
  return { all, shared: [web] };
}

/** The cell round the front, without the spar's web; undefined where the nose reaches no further than the web. */
function noseCell({ station, nose, tip }: Bay, deep: number, skin: number): TorsionCell | undefined {
  if (!(station.nose > 0)) return undefined;
  const profile = nose?.profile ?? tip?.profile ?? { kind: 'ellipse' as const };
  const outline = noseOutline(profile, { length: station.nose, height: deep, cut: station.nose });
  return { area: Math.abs(signedArea(outline)), walls: [{ length: girth(outline), thickness: skin }] };
}

/** The box between the spars, without the front spar's web; undefined with one spar. */
function boxCell(skeleton: Skeleton, { station }: Bay, deep: number, skin: number): TorsionCell | undefined {
  const { rear } = skeleton.model.spars;
  if (!rear) return undefined;
  const back = alongAt(rear.depth, station.y);
  const chord = skeleton.book.get(`webs@${station.id}`).best;
  const side = Math.hypot(chord, (deep - back) / 2);
  return {
    area: ((deep + back) / 2) * chord,
    walls: [
      { length: 2 * side, thickness: skin },
      { length: back, thickness: thickness(skeleton, rear.sheet).best },
    ],
  };
}

/** Torsion constant over a length: the length over ∫dy/J, by straight lines between stations. */
export function overLength(sections: readonly TorsionSection[], of: 'open' | 'closed'): number {
  const [first, ...more] = sections;
  const last = more.at(-1);
  if (!first) throw new RangeError('a length without a station has no torsion constant');
  if (!last) return first[of];
  const sum = more.reduce((whole, b, i) => {
    const a = more[i - 1] ?? first;
    return whole + ((placeOf(b) - placeOf(a)) * (1 / b[of] + 1 / a[of])) / 2;
  }, 0);
  return (placeOf(last) - placeOf(first)) / sum;
}

const placeOf = ({ bay }: TorsionSection): number => bay.station.y;
