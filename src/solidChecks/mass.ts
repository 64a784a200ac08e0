import { CAUTION } from '../checks/report.ts';
import type { Kernel } from '../geometry/kernel.ts';
import type { Mesh } from '../geometry/mesh.ts';
import type { Vec3 } from '../geometry/vector.ts';
import { outboardAt } from '../model/hand.ts';
import type { Alloy, Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import type { PartKind, PlacedSolid } from '../parts/placed/build.ts';
import { solidsOf } from '../parts/placed/solids.ts';

/*
 * Asks the solids: what does each part hold and weigh, where is its middle, and what does the panel weigh?
 *
 * Volume and centroid are those of the drawn solid, measured sizes included. Bends are drawn in chords, which leaves
 * out about a thousandth of the metal; primer, sealant and the heads' true shapes are not counted. A rivet stands in
 * every hole of the joints, as if all were set.
 */

/** What a metal weighs, lb per cubic inch, and where the figure comes from. */
export interface Density {
  readonly lbPerIn3: number;
  readonly origin: string;
}

const HANDBOOK = 'MIL-HDBK-5J, as transcribed';
const DENSITIES: Readonly<Record<string, Density>> = {
  '2024': { lbPerIn3: 0.1, origin: HANDBOOK },
  '6061': { lbPerIn3: 0.098, origin: HANDBOOK },
  '5052': { lbPerIn3: 0.097, origin: 'from memory' },
  '7075': { lbPerIn3: 0.101, origin: 'from memory' },
};

/** The file names no alloy for rivets. */
const RIVET: Density = { lbPerIn3: 0.1, origin: 'rivet metal is not in the file; 0.100 lb/in³ from memory' };

const POUND = 453.59237;
const INCH3 = 25.4 ** 3;

/** g/mm³ of a density. 0.100 lb/in³ is 2767.99 kg/m³ (row MT-1). */
export const gramsPerMm3 = ({ lbPerIn3 }: Density): number => (lbPerIn3 * POUND) / INCH3;

/** Density of an alloy of the list, whatever its temper. */
export function densityOf(alloy: Alloy): Density {
  const found = DENSITIES[alloy.slice(0, 4)];
  if (!found) throw new RangeError(`no density is known for ${alloy}`);
  return found;
}

interface MassRow {
  readonly id: string;
  readonly kind: PartKind;
  readonly mark: string;
  readonly station: string | null;
  readonly alloy: Alloy | null;
  readonly density: Density;
  /** mm³ */
  readonly volume: number;
  /** g */
  readonly mass: number;
  /** Wing frame, mm. */
  readonly centroid: Vec3;
}

export interface MassReport {
  readonly rows: readonly MassRow[];
  readonly volume: number;
  readonly mass: number;
  readonly centroid: Vec3;
  /** Mass times distance, kg·mm, of everything. */
  readonly moments: {
    /** Outboard of the innermost station; of a panel of both hands, to the right of the middle. */
    readonly outboard: number;
    readonly outboardOf: string;
    /** Aft of the front spar's forward web face at the root, tail heavy positive. */
    readonly aft: number;
    readonly aftOf: string;
  };
}

/**
 * Volume and centroid of a closed surface, mm³ and mm, by the divergence theorem from its first corner.
 * Example: a plate 300 × 80 × 0.5 holds 12 000 mm³ about its middle.
 */
export function massProperties({ positions, triangles }: Mesh): { readonly volume: number; readonly centroid: Vec3 } {
  const [ox, oy, oz] = [positions[0] ?? 0, positions[1] ?? 0, positions[2] ?? 0];
  const at = (i: number): Vec3 => [
    (positions[3 * i] ?? 0) - ox,
    (positions[3 * i + 1] ?? 0) - oy,
    (positions[3 * i + 2] ?? 0) - oz,
  ];
  let [six, mx, my, mz] = [0, 0, 0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [at(triangles[t] ?? 0), at(triangles[t + 1] ?? 0), at(triangles[t + 2] ?? 0)];
    const v =
      a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
    six += v;
    mx += v * (a[0] + b[0] + c[0]);
    my += v * (a[1] + b[1] + c[1]);
    mz += v * (a[2] + b[2] + c[2]);
  }
  return { volume: six / 6, centroid: [ox + mx / (4 * six), oy + my / (4 * six), oz + mz / (4 * six)] };
}

function rowOf(model: Model, part: PlacedSolid, kernel: Kernel): MassRow {
  const sheet = model.sheets.find((s) => s.id === part.sheet);
  const density = sheet ? densityOf(sheet.alloy) : RIVET;
  const { volume, centroid } = massProperties(kernel.build(part.solid));
  return {
    id: part.id,
    kind: part.kind,
    mark: part.mark,
    station: part.station ?? null,
    alloy: sheet?.alloy ?? null,
    density,
    volume,
    mass: volume * gramsPerMm3(density),
    centroid,
  };
}

/** What every part of the panel weighs, skin and rivets too. */
export function massOf(skeleton: Skeleton, kernel: Kernel): MassReport {
  const { model, bays } = skeleton;
  const rows = kernel.together(() =>
    solidsOf(skeleton, { magnify: 1, skin: true, rivets: 'all' }).map((part) => rowOf(model, part, kernel)),
  );
  const mass = rows.reduce((sum, r) => sum + r.mass, 0);
  const about = (k: 0 | 1 | 2): number => rows.reduce((sum, r) => sum + r.mass * r.centroid[k], 0);
  const [first, last] = [bays[0]?.station, bays[bays.length - 1]?.station];
  const both = model.hand === 'both';
  const way = both ? 1 : outboardAt(model, 0);
  const root = both ? 0 : ((way === -1 ? last : first)?.y ?? 0);
  const out = (about(1) - mass * root) * way;
  const centroid: Vec3 = mass > 0 ? [about(0) / mass, about(1) / mass, about(2) / mass] : [0, 0, 0];
  return {
    rows,
    mass,
    volume: rows.reduce((sum, r) => sum + r.volume, 0),
    centroid,
    moments: {
      outboard: out / 1000,
      outboardOf: both
        ? 'the middle of the panel, right heavy positive'
        : `the root, station ${(way === -1 ? last : first)?.id ?? ''}`,
      aft: about(0) / 1000,
      aftOf: 'the front spar, its web’s forward face at the drawing’s zero, tail heavy positive',
    },
  };
}

const KINDS: readonly (readonly [PartKind, string])[] = [
  ['spar', 'spars'],
  ['strip', 'strips and web doublers'],
  ['main', 'main ribs'],
  ['nose', 'nose ribs'],
  ['tip', 'tip ribs'],
  ['doubler', 'doublers, packers, shims'],
  ['bracket', 'brackets'],
  ['skin', 'skin'],
  ['rivet', 'rivets'],
];

const grams = (g: number): string => `${g.toFixed(g < 10 ? 2 : 1)} g`;

/** The report as text: each part, sums by kind, the whole, and the caution. */
export function massText(model: Model, report: MassReport): string {
  const place = ([x, y, z]: Vec3): string => `${x.toFixed(1)} aft, ${y.toFixed(1)} along, ${z.toFixed(1)} up`;
  const parts = report.rows
    .filter((r) => r.kind !== 'rivet')
    .map(
      (r) =>
        `${r.mark.padEnd(20)} ${grams(r.mass).padStart(10)}   ${(r.volume / 1000).toFixed(2).padStart(8)} cm³   ${place(r.centroid)}`,
    );
  const sums = KINDS.flatMap(([kind, name]) => {
    const rows = report.rows.filter((r) => r.kind === kind);
    return rows.length === 0
      ? []
      : [
          `${name.padEnd(26)} ${String(rows.length).padStart(4)}   ${grams(rows.reduce((s, r) => s + r.mass, 0)).padStart(10)}`,
        ];
  });
  const origins = [
    ...new Set(report.rows.map((r) => `${r.alloy ?? 'rivets'}: ${r.density.lbPerIn3} lb/in³, ${r.density.origin}`)),
  ];
  const { moments } = report;
  return [
    `${model.name}, revision ${model.revision}: ${(report.mass / 1000).toFixed(3)} kg as measured, ${report.rows.length} pieces; places in mm`,
    '',
    ...parts,
    '',
    ...sums,
    '',
    `centroid ${place(report.centroid)}`,
    `moment ${moments.outboard.toFixed(1)} kg·mm about ${moments.outboardOf}`,
    `moment ${moments.aft.toFixed(1)} kg·mm about ${moments.aftOf}`,
    '',
    ...origins,
    'Bends are drawn in chords: about 0.1 % of their metal is not counted. Rivets are reckoned as all set.',
    '',
    CAUTION,
  ].join('\n');
}
