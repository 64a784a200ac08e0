import DxfParser from 'dxf-parser';
import { describe, expect, test } from 'vitest';
import { bendAllowance } from '../../../src/parts/flat/bend.ts';
import { flatSize, outlineArea } from '../../../src/parts/flat/flatShape.ts';
import { pieceDxf, pieceSvg } from '../../../src/sheets/templates/dxf.ts';
import type { Piece } from '../../../src/sheets/templates/piece.ts';
import { cutPieces, ribPieces } from '../../../src/sheets/templates/pieces.ts';
import { panel } from '../panel.ts';

/* Files for a cutter, read back by an independent reader (dxf-parser 1.1.2); python3-ezdxf audited the same files by hand: no errors, nothing mended. */

interface Vertex {
  x: number;
  y: number;
  bulge?: number;
}
interface Entity {
  type: string;
  layer: string;
  vertices?: Vertex[];
  shape?: boolean;
  center?: { x: number; y: number };
  radius?: number;
  text?: string;
}
interface Read {
  header: Record<string, unknown>;
  entities: Entity[];
  tables: { layer: { layers: Record<string, unknown> } };
}

const read = (piece: Piece): Read => new DxfParser().parseSync(pieceDxf(piece)) as unknown as Read;

/** Area of a closed polyline with bulges, from the reader's own numbers: shoelace and circular segments. */
function areaOf(vertices: readonly Vertex[]): number {
  let area = 0;
  vertices.forEach((p, i) => {
    const q = vertices[(i + 1) % vertices.length]!;
    area += (p.x * q.y - q.x * p.y) / 2;
    if (!p.bulge) return;
    const chord = Math.hypot(q.x - p.x, q.y - p.y);
    const turn = 4 * Math.atan(p.bulge);
    const radius = chord / 2 / Math.sin(Math.abs(turn) / 2);
    area += (radius ** 2 * (turn - Math.sin(turn))) / 2;
  });
  return Math.abs(area);
}

const PIECES = (['plain', 'narrow-tail', 'washed-out-wing'] as const).flatMap((name) => {
  const model = panel(name);
  return [...cutPieces(model), ...ribPieces(model)].map((piece) => [`${name} ${piece.parts[0]!.id}`, piece] as const);
});
const find = (name: string) => PIECES.find(([n]) => n === name)![1];

describe('DXF', () => {
  test.each(PIECES)(
    '%s: millimetres, three layers, one closed outline of the right area, its holes closed too',
    (_, piece) => {
      const { header, entities, tables } = read(piece);
      expect(header.$INSUNITS).toBe(4);
      for (const layer of ['CUT', 'BEND', 'MARK']) expect(Object.keys(tables.layer.layers)).toContain(layer);
      expect(new Set(entities.map((e) => e.layer)).size).toBeLessThanOrEqual(3);
      const cut = entities.filter((e) => e.layer === 'CUT');
      const outlines = cut.filter((e) => e.type === 'LWPOLYLINE');
      expect(outlines).toHaveLength(1);
      expect(outlines[0]!.shape).toBe(true);
      expect(areaOf(outlines[0]!.vertices!)).toBeCloseTo(outlineArea(piece.pattern.outline), 4);
      // Everything else a cutter follows is a whole circle.
      expect(cut.filter((e) => e.type !== 'LWPOLYLINE').every((e) => e.type === 'CIRCLE')).toBe(true);
      expect(cut.filter((e) => e.type === 'CIRCLE')).toHaveLength(piece.pattern.holes.length);
      expect(
        entities
          .filter((e) => e.layer === 'BEND')
          .every((e) => e.type === 'LINE' || (e.type === 'LWPOLYLINE' && !e.shape)),
      ).toBe(true);
      expect(entities.filter((e) => e.layer === 'BEND')).toHaveLength(2 * piece.pattern.bends.length);
    },
  );

  // D4 by hand: 84.37 over the legs (83.10 + 2 × 0.635), legs 14.0, 28.0 wide, R 1.9844.
  test('the lines of a channel doubler are where the hand calculation has them', () => {
    const { entities } = read(find('narrow-tail D4'));
    const setback = 1.9844 + 0.635;
    const allowance = 90 * (0.01743 * 1.9844 + 0.0078 * 0.635);
    const tall = 84.37 - 2 * setback + 2 * (14 - setback) + 2 * allowance;
    const ys = entities.find((e) => e.type === 'LWPOLYLINE' && e.layer === 'CUT')!.vertices!.map((v) => v.y);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(tall, 6);
    const bends = entities.filter((e) => e.layer === 'BEND').map((e) => e.vertices!);
    expect(bends.map(([a, b]) => Math.abs(a!.x - b!.x))).toEqual([28, 28, 28, 28]);
    const half = 84.37 / 2 - setback;
    expect(bends.map(([a]) => a!.y).sort((p, q) => p - q)).toEqual(
      [-half - allowance, -half, half, half + allowance].map((y) => expect.closeTo(y, 6)),
    );
    // Three pilots of #40, marked and not cut.
    const marks = entities.filter((e) => e.layer === 'MARK' && e.type === 'CIRCLE');
    expect(marks.map((m) => m.radius)).toEqual([2.4892 / 2, 2.4892 / 2, 2.4892 / 2]);
  });

  test('its arcs follow the relief holes of a rib’s corners', () => {
    const vertices = read(find('narrow-tail M2')).entities.find((e) => e.type === 'LWPOLYLINE' && e.layer === 'CUT')!
      .vertices!;
    expect(vertices.filter((v) => v.bulge)).toHaveLength(4);
  });

  test('its text says what it is and which ribs are made turned over, in plain ASCII', () => {
    const text = read(find('narrow-tail M2')).entities.find((e) => e.type === 'TEXT')!;
    expect(text.layer).toBe('MARK');
    expect(text.text).toContain('M2, M3, M4, M5, M6, M7 main rib, 0.635 mm 6061-T6');
    expect(text.text).toContain('turned over for M5, M6, M7');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: every character of plain ASCII
    for (const [, piece] of PIECES) expect(pieceDxf(piece)).toMatch(/^[\x00-\x7e]*$/);
  });
});

describe('SVG', () => {
  test('says millimetres, keeps the layers, and its outline is as long as the flat', () => {
    const piece = find('narrow-tail D4');
    const svg = pieceSvg(piece);
    const { width, height } = flatSize(piece.pattern);
    const [, w, h, bw, bh] = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!;
    expect([w, h]).toEqual([bw, bh]);
    expect(Number(w)).toBeCloseTo(width + 24, 3);
    expect(Number(h)).toBeCloseTo(height + 24, 3);
    for (const layer of ['CUT', 'BEND', 'MARK']) expect(svg).toContain(`<g id="${layer}"`);
    const outline = /<g id="CUT"[^>]*>\n<path d="([^"]+)"/.exec(svg)![1]!;
    const numbers = [...outline.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])] as const);
    expect(Math.max(...numbers.map((n) => n[1])) - Math.min(...numbers.map((n) => n[1]))).toBeCloseTo(height, 4);
    expect(outline.endsWith('Z')).toBe(true);
  });

  // By hand: corner holes of 1/8 in are arcs of 1.5875, more than half round, seen from outside the metal.
  test('arcs of a rib’s corners go the long way round', () => {
    const arcs = [...pieceSvg(find('narrow-tail M2')).matchAll(/A([\d.]+) [\d.]+ 0 ([01]) ([01])/g)];
    expect(arcs).toHaveLength(4);
    expect(arcs.every((a) => Number(a[1]) > 1.58 && Number(a[1]) < 1.6 && a[2] === '1')).toBe(true);
    expect(new Set(arcs.map((a) => a[3])).size).toBe(1);
  });
});

test('the allowance the files are laid out with is the handbook’s', () => {
  const { bends, thickness } = find('narrow-tail D4').pattern;
  expect(Math.abs(bends[0]!.outer[0]![1] - bends[0]!.inner[0]![1])).toBeCloseTo(
    bendAllowance({ radius: 1.9844, thickness }),
    9,
  );
});
