import { describe, expect, test } from 'vitest';
import { rectangular } from '../../src/chains/size.ts';
import { INSTRUMENTS, type Kind, QUANTITIES } from '../../src/model/quantities.ts';
import { sizeBook } from '../../src/model/sizes.ts';
import { PANELS, panel } from './panels.ts';

const all = Object.entries(QUANTITIES);

describe('the kinds of size a builder measures', () => {
  test.each(all)('%s has a name, a place for the jaws, instruments and minutes', (_, q) => {
    expect(q.name.length).toBeGreaterThan(3);
    expect(q.where.length).toBeGreaterThan(5);
    expect(['mm', 'deg']).toContain(q.unit);
    expect(Object.keys(q.u).length).toBeGreaterThan(0);
    for (const u of Object.values(q.u)) expect(u).toBeGreaterThan(0);
    expect(q.tolerance).toBeGreaterThanOrEqual(0);
    expect(q.minutes).toBeGreaterThan(0);
  });

  test('every instrument of the table has words', () => {
    for (const [kind, q] of all)
      for (const instrument of Object.keys(q.u))
        expect(INSTRUMENTS[instrument], `${instrument}, for ${kind}`).toBeDefined();
  });

  // The bench's own list of realistic uncertainties (picked, no source), one at a time.
  test.each<[Kind, string, number]>([
    ['thickness', 'micrometer', 0.005],
    ['thickness', 'caliper', 0.02],
    ['depth', 'caliper', 0.05],
    ['clear', 'caliper', 0.05],
    ['clear', 'telescoping-gauge', 0.03],
    ['droop', 'caliper', 0.07],
    ['height', 'caliper', 0.08],
    ['width', 'caliper', 0.1],
    ['joggle', 'feeler', 0.05],
    ['length', 'caliper', 0.1],
    ['length', 'rule', 0.25],
    ['noseLength', 'rule', 0.25],
    ['tipLength', 'rule', 0.3],
    ['tipLength', 'trammel', 0.15],
    ['webToWeb', 'stick', 0.1],
    ['webToWeb', 'rule', 0.25],
    ['protrusion', 'string', 0.3],
    ['protrusion', 'string-caliper', 0.15],
    ['skew', 'square', 0.4],
    ['diagonal', 'trammel', 0.15],
    ['diagonal', 'tape', 0.25],
    ['bow', 'string', 0.3],
    ['heightOver', 'stand', 0.15],
    ['heightOver', 'rule', 0.25],
    ['heightOver', 'height-gauge', 0.05],
    ['bench', 'straightedge', 0.1],
    ['bench', 'wire', 0.25],
    ['bench', 'water-level', 0.3],
    ['level', 'level-reversed', 0.07],
    ['level', 'level', 0.15],
    ['offset', 'pin', 0.1],
    ['offset', 'caliper', 0.07],
    ['hole', 'drill-shank', 0.03],
    ['edge', 'caliper', 0.08],
    ['relief', 'caliper', 0.1],
    ['radius', 'radius-leaf', 0.2],
  ])('%s with a %s is ±%d', (kind, instrument, u) =>
    expect((QUANTITIES[kind].u as Record<string, number>)[instrument]).toBe(u),
  );

  // NIST Handbook 44, sec. 5.52 (quoted): metal tape ±1/32 in up to 6 ft; flat, so u = 25.4/32/√3 = 0.458 mm.
  test('a tape is ±1/32 in, flat', () => expect(rectangular(25.4 / 32)).toBeCloseTo(QUANTITIES.webToWeb.u.tape!, 2));
});

test('every size of every panel is of a kind in the table, under a key of its own', () => {
  for (const name of PANELS) {
    const keys = new Set<string>();
    for (const e of sizeBook(panel(name)).entries.values()) {
      expect(QUANTITIES[e.kind], e.key).toBeDefined();
      expect(keys.has(e.key), e.key).toBe(false);
      keys.add(e.key);
    }
  }
});
