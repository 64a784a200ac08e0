import { heightsAt } from '../../../geometry/airfoil.ts';
import { alongAt } from '../../../model/along.ts';
import { type Shape, shapeSection } from '../../../model/edits/profileEdits.ts';
import type { Contour, Model, Spar, Station } from '../../../model/schema.ts';
import { contourBetween } from '../../../parts/shapes/contourBetween.ts';
import { noseOutline } from '../../../parts/shapes/noseOutline.ts';

const WIDE = 620;
const MARGIN = 20;

type Point = readonly [x: number, z: number];

interface Props {
  readonly model: Model;
  readonly shape: Shape;
  readonly chord: number;
  /** Straight between the spars, whatever the section does there. */
  readonly straight: boolean;
}

/** The section at one station, and the spars that cut it: mm aft of the nose, and above the middle. */
interface Laid extends Props {
  readonly station: Station;
  readonly section: ReturnType<typeof shapeSection>;
  /** Nose ahead of the front web, and front web to rear web. */
  readonly nose: number;
  readonly webs: number;
  /** How deep it is at the front and at the rear web. */
  readonly front: number;
  readonly rear: number;
  /** Half of the drawing's height. */
  readonly middle: number;
  readonly line: (points: readonly Point[]) => string;
}

function laidOut(props: Props): Laid | undefined {
  const { model, shape, chord } = props;
  const station = model.stations[0];
  if (!station) return undefined;
  const { nose, y } = station;
  const webs = alongAt(model.webToWeb, y);
  const section = shapeSection(shape);
  const front = alongAt(model.spars.front.depth, y);
  const rear = model.spars.rear ? alongAt(model.spars.rear.depth, y) : front;
  const scale = (WIDE - 2 * MARGIN) / (section ? Math.max(chord, nose + webs) : nose + webs);
  const middle = Math.max(60, (front * scale) / 2 + 34);
  const at = ([x, z]: Point): string => `${(MARGIN + x * scale).toFixed(1)} ${(middle - z * scale).toFixed(1)}`;
  const line = (points: readonly Point[]): string => points.map((p, i) => `${i ? 'L' : 'M'}${at(p)}`).join('');
  return { ...props, station, section, nose, webs, front, rear, middle, line };
}

/** The shape as a rib's file has it; none for those that only the nose has. */
function contourOf(shape: Shape, chord: number): Contour | undefined {
  if (shape.kind === 'naca4') return { kind: 'naca4', name: shape.name, chord };
  if (shape.kind !== 'points') return undefined;
  // In hundredths of the chord.
  const points = shape.section.points.map(([x, z]): [number, number] => [100 * x, 100 * z]);
  return { kind: 'points', chord, points };
}

/** The section itself, turned so that it runs through the middle of what each spar is cut from it. */
function WholeSection({ laid }: { laid: Laid }) {
  const { section, chord, nose, webs, model, line } = laid;
  if (!section) return null;
  const start = section.points[section.nose]?.[0] ?? 0;
  const middleAt = (x: number): number => {
    const cut = heightsAt(section, start + x / chord);
    return cut ? ((cut.upper + cut.lower) * chord) / 2 : 0;
  };
  const fore = middleAt(nose);
  const aft = model.spars.rear ? middleAt(nose + webs) : fore;
  const aside = (x: number): number => fore + ((aft - fore) * (x - nose)) / webs;
  const points = section.points.map(([x, z]): Point => {
    const at = (x - start) * chord;
    return [at, z * chord - aside(at)];
  });
  return <path d={line(points)} className="view-thin" />;
}

/** The ribs as they would be bent: the nose, and upper and lower edge between the spars. */
function Ribs({ laid }: { laid: Laid }) {
  const { shape, chord, straight, nose, webs, front, rear, line } = laid;
  const contour = contourOf(shape, chord);
  const ellipse = { kind: 'ellipse' } as const;
  const round = noseOutline(contour ?? ellipse, { length: nose, height: front, cut: nose });
  const wedge: readonly Point[] = [
    [nose, front / 2],
    [0, 0],
    [nose, -front / 2],
  ];
  const outline = shape.kind === 'straight' ? wedge : round.map(([x, z]): Point => [x + nose, z]);
  const bent = straight ? undefined : contour;
  const curved = bent && contourBetween(bent, { length: webs, drawn: webs, cut: nose, front, rear });
  const rows = curved ?? [
    [0, front / 2, -front / 2],
    [webs, rear / 2, -rear / 2],
  ];
  return (
    <>
      <path d={line(outline)} className="view-rib" />
      <path d={line(rows.map(([x, upper]): Point => [x + nose, upper]))} className="view-rib" />
      <path d={line(rows.map(([x, , lower]): Point => [x + nose, lower]))} className="view-rib" />
    </>
  );
}

/** A spar's channel as it is drawn, its web so far aft of the nose. */
function Channel({ laid, spar, web }: { laid: Laid; spar: Spar; web: number }) {
  const { y } = laid.station;
  const half = alongAt(spar.depth, y) / 2;
  const cap = alongAt(spar.capWidth, y);
  const edge = web + (spar.opens === 'aft' ? cap : -cap);
  const points: readonly Point[] = [
    [edge, half],
    [web, half],
    [web, -half],
    [edge, -half],
  ];
  return <path d={laid.line(points)} className="view-spar" />;
}

/** The section at the first rib, cut by the spars as drawn. */
export function ShapePicture(props: Props) {
  const laid = laidOut(props);
  if (!laid) return null;
  const { model, station, nose, webs, middle } = laid;
  const { front, rear } = model.spars;
  return (
    <svg
      className="shape-view"
      viewBox={`0 0 ${WIDE} ${2 * middle}`}
      role="img"
      aria-label={`The section at ${station.id}, to scale, cut by the spars`}
    >
      <WholeSection laid={laid} />
      <Ribs laid={laid} />
      <Channel laid={laid} spar={front} web={nose} />
      {rear && <Channel laid={laid} spar={rear} web={nose + webs} />}
      <text x={MARGIN} y="18" className="tiny">
        {station.id}: dashed the section, solid what is drawn
      </text>
    </svg>
  );
}
