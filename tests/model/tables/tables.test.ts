import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { onPaper } from '../../../src/drilling/onPaper.ts';
import { alongAt } from '../../../src/model/along.ts';
import { runningFrom } from '../../../src/model/chained.ts';
import { applyEdit, type Edit } from '../../../src/model/edits/edits.ts';
import { layAnew, layersAt, layJoints, pilotLayers, ruleOf } from '../../../src/model/edits/jointsLaid.ts';
import { keepFit } from '../../../src/model/edits/keepFit.ts';
import { bandsFrom, dropLimit, setLimit } from '../../../src/model/edits/limitEdits.ts';
import { mirrorModel } from '../../../src/model/edits/mirror.ts';
import { addBracket, addDoubler } from '../../../src/model/edits/partEdits.ts';
import {
  cutSpars,
  depthAt,
  readShape,
  shapeNow,
  shapeRibs,
  straightBehind,
} from '../../../src/model/edits/profileEdits.ts';
import { suggestStages } from '../../../src/model/edits/stagesSuggested.ts';
import { addStation, removePart, removeStation } from '../../../src/model/edits/stationEdits.ts';
import { meaningFaults } from '../../../src/model/file/faults.ts';
import { flangesPoint } from '../../../src/model/hand.ts';
import { limitFor } from '../../../src/model/limits.ts';
import { gripRange, rivetFor } from '../../../src/model/rivetSizes.ts';
import type { MainRib, Model } from '../../../src/model/schema.ts';
import { cellText } from '../../../src/model/tables/cells.ts';
import { alike, differencesOf, largestFirst } from '../../../src/model/tables/compare.ts';
import { HOLES } from '../../../src/model/tables/holeTable.ts';
import { JOINTS } from '../../../src/model/tables/jointTables.ts';
import { otherHalf } from '../../../src/model/tables/otherHalf.ts';
import { pasteCells } from '../../../src/model/tables/paste.ts';
import { BRACKETS, DOUBLERS } from '../../../src/model/tables/pieceTables.ts';
import { MAIN_RIBS, NOSE_RIBS, TIP_RIBS } from '../../../src/model/tables/ribTables.ts';
import { addSheet, SHEET_TABLE, SPAR_TABLE, STRIPS } from '../../../src/model/tables/sparTables.ts';
import { BRINGS, OPENS } from '../../../src/model/tables/stageTables.ts';
import { moveStations, STATIONS } from '../../../src/model/tables/stationTable.ts';
import { commonOf, copyDown, fillTaper, setCells, setCommon, type Table } from '../../../src/model/tables/tables.ts';
import { randomPanel } from '../../random-panel.ts';
import { changed, panel } from '../panels.ts';

/*
 * The panel as tables. Laws: what a cell says is what it was given; what is not written stays; a table written back with its
 * own values is the same panel; every step passes the checks a file passes. Panel B's table is worked by a script of its own.
 */

const B = panel('washed-out-wing');
const A = panel('narrow-tail');
const TABLES: readonly Table[] = [
  STATIONS,
  MAIN_RIBS,
  NOSE_RIBS,
  TIP_RIBS,
  DOUBLERS,
  BRACKETS,
  SPAR_TABLE,
  STRIPS,
  SHEET_TABLE,
  JOINTS,
  HOLES,
  BRINGS,
  OPENS,
];

function taken(m: Model, edit: Edit): Model {
  const done = applyEdit(m, edit);
  if (!done.ok) throw new Error(done.faults.map((f) => f.sentence).join('\n'));
  return done.model;
}
const value = (t: Table, m: Model, row: string, column: string) =>
  t
    .columns(m)
    .find((c) => c.id === column)
    ?.read(m, row);

describe.each(TABLES.map((t) => [t.id, t] as const))('the table of %s', (_, table) => {
  test('says what it was given, cell by cell, and moves no other cell of its table but what hangs on it', () => {
    for (const m of [A, B]) {
      for (const column of table.columns(m)) {
        if (!column.write) continue;
        for (const row of table.rows(m)) {
          const own = column.read(m, row.id);
          if (own === undefined) continue;
          const more = column.kind === 'count' ? 1 : 0.37;
          const another = column.kind === 'choice' ? column.choices?.(m).find(([v]) => v !== own)?.[0] : undefined;
          const next = typeof own === 'number' ? own + more : (another ?? own);
          const after = column.write(m, new Map([[row.id, next]]));
          const got = column.read(after, row.id);
          // A row with a hole drilled in it stays as it is, by rule.
          const fixed =
            table === JOINTS &&
            (column.id === 'count' || column.id === 'pitch') &&
            m.joints.find((j) => j.id === row.id)!.holes.some((h) => h.layers.some((l) => l.state !== 'none'));
          if (fixed) expect(got, `${row.id} ${column.id}`).toEqual(own);
          else if (typeof next === 'number') expect(got, `${row.id} ${column.id}`).toBeCloseTo(next, 9);
          else expect(got, `${row.id} ${column.id}`).toBe(next);
          for (const other of table.rows(m))
            if (other.id !== row.id)
              expect(column.read(after, other.id), `${column.id} of ${other.id} when ${row.id} changes`).toEqual(
                column.read(m, other.id),
              );
        }
      }
    }
  });

  test('written back as it is, it is the same panel to the checks; its input is never changed', () => {
    for (const m of [A, B, ...[3, 8, 21].map(randomPanel)]) {
      const before = JSON.stringify(m);
      const back = table.columns(m).reduce(
        (now, c) =>
          c.write?.(
            now,
            new Map(
              table.rows(m).flatMap((r) => {
                const v = c.read(m, r.id);
                return v === undefined ? [] : [[r.id, v] as const];
              }),
            ),
          ) ?? now,
        m,
      );
      expect(JSON.stringify(m)).toBe(before);
      const said = (x: Model) => checkAll(x).map((f) => `${f.id} ${f.verdict} ${f.value.toFixed(9)}`);
      expect(said(back)).toEqual(said(m));
    }
  });

  test('every column says what it is at the bench', () => {
    for (const c of table.columns(B))
      expect(c.what.length > 5 && c.name.length > 0 && c.head.length > 0, c.id).toBe(true);
  });
});

describe('stations', () => {
  // The table of panel B: straight from root to tip, to a hundredth.
  test.each([
    ['front.depth', [166, 160.29, 154.59, 148.79, 143, 137.21, 131.5, 125.79, 120]],
    ['webs', [632, 611.9, 591.81, 571.4, 551, 530.6, 510.5, 490.4, 470]],
    ['nose', [228, 220.93, 213.86, 206.68, 199.5, 192.32, 185.25, 178.18, 171]],
    ['washout', [0, -0.27, -0.55, -0.82, -1.1, -1.38, -1.65, -1.92, -2.2]],
  ] as const)('a taper of %s is filled as its drawing has it', (column, wanted) => {
    const rows = STATIONS.rows(B).map((r) => r.id);
    const flat = setCells(
      STATIONS,
      B,
      rows.slice(1, -1).map((row) => ({ row, column, value: wanted[0]! })),
    ).apply(B);
    const filled = taken(flat, setCells(STATIONS, flat, fillTaper(STATIONS, flat, column, rows)));
    expect(rows.map((r) => value(STATIONS, filled, r, column))).toEqual(wanted);
  });

  test('moved along the span, a station takes along what is drawn at it, and a spar that ends there', () => {
    const m = moveStations(
      B,
      new Map([
        ['W1', 10],
        ['W5', 1345],
      ]),
    );
    expect(alongAt(m.spars.front.depth, 1345)).toBe(143);
    expect([m.spars.front.from, m.spars.front.strips[0]!.from, m.spars.front.strips[0]!.to]).toEqual([10, 10, 1375]);
    expect(value(STATIONS, m, 'W5', 'webs')).toBe(551);
    expect(
      moveStations(
        m,
        new Map([
          ['W1', 30],
          ['W5', 1340],
        ]),
      ),
    ).toEqual(B);
  });

  test('a block from a spreadsheet goes in whole, headed or turned, or not at all', () => {
    const down = 'place\tx\n31\t\n356\t\n';
    const read = pasteCells(STATIONS, B, { row: 'W1', column: 'y' }, down);
    expect(read).toEqual({
      ok: true,
      changes: [
        { row: 'W1', column: 'y', value: 31 },
        { row: 'W2', column: 'y', value: 356 },
      ],
    });
    const across = '166.5;160.5;154.5;148.5;143.5;137.5;131.5;125.5;120.5';
    const turned = pasteCells(STATIONS, B, { row: 'W1', column: 'front.depth' }, across);
    expect(turned.ok && turned.changes.map((c) => c.row)).toEqual(B.stations.map((s) => s.id));
    const inches = pasteCells(STATIONS, B, { row: 'W2', column: 'webs' }, '24.09 in\n23.3 in');
    expect(inches.ok && inches.changes[0]!.value).toBeCloseTo(611.886, 6);
    const bad = pasteCells(STATIONS, B, { row: 'W1', column: 'y' }, '30\n355\nabc');
    expect(bad).toMatchObject({ ok: false, faults: [{ row: 'W3', column: 'y' }] });
    const long = pasteCells(STATIONS, B, { row: 'W8', column: 'y' }, '1\n2\n3\n4');
    expect(long.ok).toBe(false);
  });

  test('copy down, common values and their exceptions', () => {
    expect(copyDown(STATIONS, B, 'front.cap', ['W2', 'W3', 'W4'])).toEqual([
      { row: 'W3', column: 'front.cap', value: 22 },
      { row: 'W4', column: 'front.cap', value: 22 },
    ]);
    const tab = MAIN_RIBS.columns(B).find((c) => c.id === 'front.tab')!;
    const rows = MAIN_RIBS.rows(B);
    expect(commonOf(tab, B, rows)).toEqual({ value: 16, exceptions: new Set(['M6']) });
    const wider = taken(B, setCells(MAIN_RIBS, B, setCommon(tab, B, rows, 17)));
    expect(rows.map((r) => tab.read(wider, r.id))).toEqual([17, 17, 17, 17, 22, 17, 17]);
  });

  test('distances from rib to rib are told from running ones, and added up', () => {
    expect(runningFrom([30, 325, 325, 330])).toEqual([30, 355, 680, 1010]);
    expect(runningFrom([30, 355, 680])).toBeUndefined();
    expect(runningFrom([30, -5, 2])).toBeUndefined();
  });

  test('what a change is refused for is said, and nothing is taken', () => {
    const crossed = applyEdit(B, setCells(STATIONS, B, [{ row: 'W3', column: 'y', value: 2000 }]));
    expect(crossed.ok ? '' : crossed.faults[0]!.sentence).toMatch(/crossed/);
  });

  test('in inches a cell is read and shown in inches', () => {
    const inch: Model = { ...B, units: 'in' };
    const depth = STATIONS.columns(inch).find((c) => c.id === 'front.depth')!;
    expect(cellText(depth, inch, depth.read(inch, 'W1'))).toBe('6.535');
    expect(pasteCells(STATIONS, inch, { row: 'W1', column: 'front.depth' }, '6.5\n6.25')).toMatchObject({
      ok: true,
      changes: [{ value: 165.1 }, { value: 158.75 }],
    });
  });
});

describe('ribs keep their fit', () => {
  const bare: Model = { ...B, readings: [] };
  test('whatever is redrawn of spars, webs and noses, every gap on paper stays what it was', () => {
    for (const m of [
      bare,
      { ...A, readings: [] },
      ...[2, 5, 9, 14].map((n) => ({ ...randomPanel(n), readings: [] })),
    ]) {
      const changes = STATIONS.columns(m).filter(
        (c) => c.write && !['y', 'front.cap', 'rear.cap', 'washout'].includes(c.id),
      );
      const redrawn = changes.reduce(
        (now, c, k) =>
          c.write!(
            now,
            new Map(STATIONS.rows(now).map((r, i) => [r.id, (c.read(now, r.id) as number) + 1.3 * Math.sin(i + k)])),
          ),
        m,
      );
      const kept = keepFit(m, redrawn);
      const said = (x: Model) =>
        onPaper(x).filter((f) =>
          ['cap-gap', 'chord-gap', 'skin-step', 'nose-line', 'nose-kink', 'seating'].includes(f.check),
        );
      const before = new Map(said(m).map((f) => [f.id, f.value]));
      for (const f of said(kept)) expect(f.value, f.id).toBeCloseTo(before.get(f.id)!, 2);
    }
  });
  test('redrawn without it, the same ribs do not', () => {
    const deeper = STATIONS.columns(bare).find((c) => c.id === 'front.depth')!.write!(bare, new Map([['W3', 155.59]]));
    const gap = (m: Model) => onPaper(m).find((f) => f.id === 'cap-gap:M3-front')!.value;
    expect(gap(deeper) - gap(bare)).toBeCloseTo(1, 9);
  });
});

describe('parts put in and taken out', () => {
  test('a station added between others fits on paper like its neighbours; taken away again the panel is what it was', () => {
    const m = { ...B, readings: [] };
    const more = taken(m, addStation(m, 500));
    const id = more.stations.find((s) => s.y === 500)!.id;
    expect(
      more.ribs
        .filter((r) => r.station === id)
        .map((r) => r.kind)
        .sort(),
    ).toEqual(['main', 'nose']);
    const own = more.ribs.find((r) => r.station === id && r.kind === 'main')!.id;
    // Panel B: "rib heights = clear height - 0.20, rib lengths = B - 1.27 - 0.10".
    const found = (check: string) => onPaper(more).find((f) => f.check === check && f.place.startsWith(own))!.value;
    expect(found('cap-gap')).toBeCloseTo(0.2, 2);
    expect(found('chord-gap')).toBeCloseTo(0.1, 2);
    expect(taken(more, removeStation(more, id))).toEqual(m);
  });
  test('a station taken away takes its joints, readings and mentions along', () => {
    const less = taken(B, removeStation(B, 'W5'));
    const text = JSON.stringify(less);
    for (const gone of ['"W5"', '@W5', 'M5', 'N5', 'F5', 'R5']) expect(text, gone).not.toContain(gone);
  });
  test('a doubler the rib is made for changes no fit, and one it is not made for takes its thickness', () => {
    const m = { ...B, readings: [] };
    const gapsOf = (x: Model) =>
      onPaper(x)
        .filter((f) => ['cap-gap:M4-front', 'chord-gap:M4'].includes(f.id))
        .map((f) => f.value);
    const piece = { part: 'M4', end: 'front', form: 'channel', on: 'web', sheet: 's025', made: true } as const;
    const [g0, k0] = gapsOf(m);
    expect(gapsOf(taken(m, addDoubler(m, piece)))[0]).toBeCloseTo(g0!, 9);
    expect(gapsOf(taken(m, addDoubler(m, piece)))[1]).toBeCloseTo(k0!, 9);
    // The table of remedies: channel doubler at a front end, G -2t, k -t.
    const cure = gapsOf(taken(m, addDoubler(m, { ...piece, made: false })));
    expect([cure[0]! - g0!, cure[1]! - k0!].map((v) => Math.round(v * 1e6) / 1e6)).toEqual([-1.27, -0.635]);
  });
  test('a part taken out leaves no joint, stage or reading that names it', () => {
    const less = taken(B, removePart(B, 'M6'));
    expect(JSON.stringify(less)).not.toContain('M6');
    const noBracket = taken(B, removePart(B, 'B6'));
    expect(noBracket.joints.find((j) => j.id === 'K6')!.layers).toEqual(['D6', 'front', 'M6']);
  });
  test('a bracket takes the row at its web, unless something is drilled there', () => {
    const fresh = {
      ...B,
      brackets: [],
      joints: layJoints({ ...B, brackets: [] }, ruleOf(B)),
      stages: [] as Model['stages'],
    };
    const { now: _, ...bare } = fresh;
    const at = taken(bare, addBracket(bare, { spar: 'front', station: 'W6', sheet: 's090' }));
    expect(at.joints.find((j) => j.station === 'W6' && j.end === 'front')).toMatchObject({
      id: 'K6',
      layers: ['B6', 'D6', 'front', 'M6'],
    });
    const drilledB = taken(
      { ...B, brackets: B.brackets },
      addBracket(B, { spar: 'rear', station: 'W6', sheet: 's090' }),
    );
    expect(drilledB.joints.find((j) => j.id === 'R6')).toEqual(B.joints.find((j) => j.id === 'R6'));
  });
  test('sheets are named by their thousandths', () => {
    expect(taken(B, addSheet(B, 1.016)).sheets.map((s) => s.id)).toContain('s040');
    expect(taken(B, addSheet(B, 0.64)).sheets.map((s) => s.id)).toContain('s025b');
  });
});

describe('joints by rule', () => {
  test('the rule gives both demo panels the layers their files were written with', () => {
    for (const m of [A, B]) {
      const laid = new Map(layJoints(m, ruleOf(m)).map((j) => [j.id, j.layers]));
      expect([...laid.keys()].sort()).toEqual(m.joints.map((j) => j.id).sort());
      for (const j of m.joints) expect(laid.get(j.id), j.id).toEqual(j.layers);
    }
    expect(layersAt(B, 'W6', 'front')).toEqual(['B6', 'D6', 'front', 'M6']);
  });
  test('panel B’s own rule lays panel B’s rows again', () => {
    expect(ruleOf(B)).toMatchObject({ rivet: 3.175, pitch: 20, front: 5, rear: 3 });
    const fresh = new Map(layJoints(B, ruleOf(B)).map((j) => [j.id, j]));
    for (const j of B.joints.filter((x) => x.id !== 'K6')) {
      const f = fresh.get(j.id)!;
      expect([f.layers, f.guide, f.rivet, f.pilot, f.final, f.holes.map((h) => [h.id, h.along, h.up])]).toEqual([
        j.layers,
        j.guide,
        j.rivet,
        j.pilot,
        j.final,
        j.holes.map((h) => [h.id, h.along, h.up]),
      ]);
    }
  });
  test('a row with a hole in it is never laid anew', () => {
    expect(taken(B, layAnew(B, { ...ruleOf(B), front: 2, pitch: 14 })).joints).toEqual(
      [...B.joints].sort(
        (a, b) => B.stations.findIndex((s) => s.id === a.station) - B.stations.findIndex((s) => s.id === b.station),
      ),
    );
  });
  test('pilots go through the layers that are in and no other', () => {
    const none = {
      ...B,
      joints: B.joints.map((j) => ({
        ...j,
        holes: j.holes.map((h) => ({ ...h, layers: h.layers.map((l) => ({ ...l, state: 'none' as const, size: 0 })) })),
      })),
    };
    const m = taken(
      none,
      pilotLayers(none, (p) => !p.startsWith('N')),
    );
    for (const l of m.joints.flatMap((j) => j.holes.flatMap((h) => h.layers)))
      expect(l.state).toBe(l.part.startsWith('N') ? 'none' : 'pilot');
  });
  test('no suggested stage opens a joint before its last layer', () => {
    for (const m of [A, B]) {
      const { now: _, ...rest } = m;
      expect(taken(rest, { name: 'stages', apply: (x) => ({ ...x, stages: suggestStages(x) }) }).stages).toHaveLength(
        3,
      );
    }
  });
  // Ranges marked on blind rivets are 1/16 in wide (TM 9-2320-387-24-2): 0.063 to 0.125, 0.126 to 0.187.
  test('rivet lengths by sixteenths', () => {
    expect([gripRange(1), gripRange(2)]).toEqual([
      [1.6002, 3.175],
      [3.2004, 4.7498],
    ]);
    expect(rivetFor(2.7178, 3.175)).toEqual({ kind: 'blind', diameter: 3.175, grip: [1.6002, 3.175] });
    expect(rivetFor(3.19, 3.175).grip![0]).toBeLessThanOrEqual(3.19);
  });
});

describe('mirror and compare', () => {
  test('a hole far along a flange that points left is as good as one far along a flange that points right', () => {
    const far = changed(A, (m) => {
      const j = m.joints.find((x) => x.id === 'F4')!;
      const rib = m.ribs.find((r) => j.layers.includes(r.id) && r.kind === 'main') as MainRib;
      // Toward the free edge, whichever way the flange points.
      j.holes[0]!.along =
        flangesPoint(m, rib, m.stations.find((s) => s.id === j.station)!.y) * (rib.front.tab - rib.front.row - 1);
    });
    expect(meaningFaults(far)).toEqual([]);
    expect(meaningFaults(mirrorModel(far))).toEqual([]);
    const off = changed(far, (m) => {
      m.joints.find((x) => x.id === 'F4')!.holes[0]!.along *= -1.5;
    });
    for (const m of [off, mirrorModel(off)])
      expect(meaningFaults(m).map((f) => f.path)).toEqual([expect.stringMatching(/holes\[0\]\.along$/)]);
  });
  test('mirrored twice it is the same panel, and differs from its mirror in nothing', () => {
    for (const m of [A, B, ...[4, 11, 17].map(randomPanel)]) {
      expect(mirrorModel(mirrorModel(m))).toEqual(m);
      if (m.hand !== 'both') expect(differencesOf(TABLES, m, mirrorModel(m))).toEqual([]);
    }
    expect(alike(B, mirrorModel(B)).mirrored).toBe(true);
  });
  test('one changed size, reading and part are told, and nothing else', () => {
    const less = taken(B, removePart(B, 'D6'));
    const other = {
      ...less,
      ribs: less.ribs.map((r) => (r.id === 'M3' ? { ...r, length: r.length + 0.5 } : r)),
      readings: less.readings.map((r) => (r.size === 'level@W4' ? { ...r, value: -0.9 } : r)),
    };
    const told = differencesOf(TABLES, B, other);
    expect(told.filter((d) => d.kind === 'part').map((d) => d.what)).toEqual([
      'D6, of the doublers and packers',
      'D6, of the order of assembly',
    ]);
    expect(told.find((d) => d.what === 'length of M3')!.by).toBeCloseTo(-0.5, 9);
    expect(told.find((d) => d.kind === 'reading')).toMatchObject({
      what: 'level at W4',
      here: '-0.80',
      there: '-0.90',
      byText: '+0.10°',
    });
    expect(told.find((d) => d.what === 'length of M3')!.byText).toBe('-0.50 mm');
    // What D6 was a layer of differs too: K6's layers and its holes' columns.
    expect(told.filter((d) => d.kind === 'drawing' && !/K6/.test(d.what)).map((d) => d.what)).toEqual(['length of M3']);
  });
  test('the halves of panel A differ only where it was measured unlike, or drilled at one side', () => {
    const half = otherHalf(A)!;
    const told = differencesOf(TABLES, A, half);
    const drawn = told.filter(
      (d) =>
        d.kind === 'drawing' &&
        STATIONS.rows(A).some((r) => d.what.endsWith(` of ${r.id}`)) &&
        !d.what.startsWith('state'),
    );
    expect(drawn).toEqual([]);
    // The largest first, and every number with the decimals of its neighbours.
    const read = largestFirst(told.filter((d) => d.kind === 'reading'));
    const sizes = read.flatMap((d) => (d.by === undefined ? [] : [Math.abs(d.by)]));
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    expect(read.slice(sizes.length).every((d) => d.by === undefined)).toBe(true);
    for (const d of read.filter((x) => Math.abs(x.by ?? 0) >= 0.005))
      expect([d.here, d.there], d.what).toEqual([
        expect.stringMatching(/^-?\d+\.\d\d$/),
        expect.stringMatching(/^-?\d+\.\d\d$/),
      ]);
    // Its page: S2's front depth was read 85.93 and S7's 85.98.
    expect(told.find((d) => d.what === 'front spar depth at S2')).toMatchObject({ here: '85.93', there: '85.98' });
    expect(otherHalf(B)).toBeUndefined();
  });
});

describe('shapes', () => {
  test.each([
    ['0012', 'naca4'],
    ['NACA 2412', 'naca4'],
    ['ellipse', 'ellipse'],
    ['Straight', 'straight'],
  ])('“%s”', (text, kind) => {
    const read = readShape(text);
    expect(read.ok && read.shape.kind).toBe(kind);
  });
  test('a name without a section, and a torn table, are said', () => {
    for (const text of ['2012', '1 0\n0.5 0.1\n', 'wing']) {
      const read = readShape(text);
      expect(read.ok ? [] : read.sentences.length, text).toBeGreaterThan(0);
    }
  });
  test('the section is cut as the published ordinates have it', () => {
    const read = readShape('0012');
    // NACA Report 460: the 0012 is 12 % thick at 30 % (half 6.002), 11.475 % at 20 % (half 5.737).
    if (!read.ok) throw new Error('not read');
    expect(depthAt(read.shape, 1000, 300)).toBeCloseTo(120.04, 0);
    expect(depthAt(read.shape, 1000, 200)).toBeCloseTo(114.75, 0);
  });
  test('spars are drawn as deep as it leaves them, and the ribs keep their fit', () => {
    const read = readShape('0012');
    if (!read.ok) throw new Error('not read');
    const m = { ...B, readings: [] };
    const cut = taken(m, cutSpars(m, read.shape, 1350)!);
    const s = m.stations[0]!;
    expect(alongAt(cut.spars.front.depth, s.y)).toBeCloseTo(depthAt(read.shape, 1350, s.nose)!, 1);
    const gaps = (x: Model) =>
      onPaper(x)
        .filter((f) => f.check === 'cap-gap' || f.check === 'chord-gap')
        .map((f) => f.value);
    gaps(cut).forEach((v, i) => {
      expect(v).toBeCloseTo(gaps(m)[i]!, 3);
    });
  });
  test('a section goes on behind the front spar, unless it is to be straight there, and its taper follows the ribs', () => {
    const read = readShape('2412');
    if (!read.ok) throw new Error('not read');
    const curved = taken(B, shapeRibs(B, read.shape, 1300));
    const mains = curved.ribs.filter((r) => r.kind === 'main');
    expect(mains.every((r) => r.contour?.kind === 'naca4' && r.contour.name === '2412')).toBe(true);
    expect(mains[mains.length - 1]!.contour!.chord).toBeLessThan(mains[0]!.contour!.chord);
    const straight = taken(curved, shapeRibs(curved, read.shape, 1300, { straightBehind: true }));
    expect(straight.ribs.every((r) => r.kind === 'nose' || r.contour === undefined)).toBe(true);
    expect([straightBehind(curved), straightBehind(straight), straightBehind(B)]).toEqual([false, true, false]);
    // A section that ends before the rear spar is refused in a sentence.
    const short = applyEdit(B, shapeRibs(B, read.shape, 400));
    expect(short.ok || short.faults[0]!.sentence).toMatch(
      /ends .* behind its nose; expected a chord that reaches past the rear spar/,
    );
  });
  test('flutes are pressed, changed and taken out again in the table', () => {
    const row = MAIN_RIBS.rows(B)[1]!.id;
    const set = (m: Model, column: string, value: number) => taken(m, setCells(MAIN_RIBS, m, [{ row, column, value }]));
    const three = set(set(B, 'flutes.each', 3), 'flutes.depth', 2);
    expect(three.ribs.find((r) => r.id === row)!.flutes).toEqual({ each: 3, width: 10, depth: 2 });
    expect(set(three, 'flutes.each', 0)).toEqual(B);
    expect(set(B, 'flutes.depth', 2)).toEqual(B);
  });
  test('what was bent is what the panel says it is', () => {
    const points = [
      '1 0.00126',
      '0.6 0.0456',
      '0.3 0.06',
      '0.1 0.0468',
      '0.025 0.0261',
      '0 0',
      '0.025 -0.0261',
      '0.1 -0.0468',
      '0.3 -0.06',
      '0.6 -0.0456',
      '1 -0.00126',
    ].join('\n');
    for (const text of ['0012', 'ellipse', 'straight', points]) {
      const read = readShape(text);
      if (!read.ok) throw new Error(read.sentences.join());
      const bent = taken(B, shapeRibs(B, read.shape, 1300));
      const now = shapeNow(bent);
      const again = readShape(now.text);
      expect(again.ok && again.shape.kind, text).toBe(read.shape.kind);
      if (text === '0012' || text === points) expect(now.chord).toBeCloseTo(1300, 1);
    }
  });
});

describe('limits', () => {
  test('an own limit holds with its reason, and goes again', () => {
    const own = taken(
      B,
      setLimit({ check: 'nose-kink', fits: [-0.3, 0.3], act: [-0.8, 0.8], origin: 'drawing', reason: 'sheet 4' }),
    );
    expect(limitFor(own, 'nose-kink')).toMatchObject({ fits: [-0.3, 0.3], origin: 'drawing: sheet 4' });
    expect(taken(own, dropLimit('nose-kink')).limits).toEqual([]);
  });
  test('thresholds out of order are said', () => {
    expect(bandsFrom([-0.2, -0.3, 0.3, 0.6]).ok).toBe(false);
    expect(bandsFrom([-0.2, null, 0.3, 0.6]).ok).toBe(false);
    expect(bandsFrom([null, null, 0.3, 0.6])).toEqual({ ok: true, fits: [null, 0.3], act: [null, 0.6] });
  });
});
