import { describe, expect, test } from 'vitest';
import { openKernel } from '../../../src/geometry/kernel.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../../src/parts/placed/solids.ts';
import { areaOf } from '../../../src/sheets/paper/frame.ts';
import type { Ink, Page } from '../../../src/sheets/paper/page.ts';
import { readPath } from '../../../src/sheets/paper/path.ts';
import { textWidth } from '../../../src/sheets/paper/type.ts';
import { stepCards } from '../../../src/sheets/steps/stepCards.ts';
import { STEP_PICTURE, STEP_PLAN } from '../../../src/sheets/steps/stepInk.ts';
import { type StepPicture, stepPicture } from '../../../src/sheets/steps/stepPicture.ts';
import { stepsOf } from '../../../src/sheets/steps/steps.ts';
import { demo } from '../../scene/panel.ts';

/*
 * Outside sources: the card's parts as the trade lists them (5.1, common practice); what a printer can reach and 10 points
 * at least, from the look of paper; nothing may lie on anything else.
 */

const model = demo('narrow-tail');
const kernel = await openKernel();
const parts = solidsOf(skeletonOf(model), { magnify: 1 }).map((p) => ({ id: p.id, mesh: kernel.build(p.solid) }));
const steps = stepsOf(model);
const KINDS = [...new Map(steps.map((s) => [s.kind, s])).values()];
const held = steps.filter((s) => s.held && s.check?.kind === 'drill').slice(0, 2);
const some = [...new Set([...KINDS, ...held])];
const pictures = new Map<string, StepPicture>(some.map((s) => [s.id, stepPicture(s, parts)]));

const texts = (page: Page): Extract<Ink, { kind: 'text' }>[] => page.ink.filter((i) => i.kind === 'text');

function extent(ink: readonly Ink[]): { x0: number; x1: number; y0: number; y1: number } {
  const points = ink.flatMap((i): [number, number][] => {
    if (i.kind === 'path')
      return readPath(i.d).flatMap(([, ...v]): [number, number][] =>
        v.length >= 2 ? [[v[0] as number, v[1] as number]] : [],
      );
    if (i.kind === 'text') return [];
    return [
      [i.x - i.r, i.y - i.r],
      [i.x + i.r, i.y + i.r],
    ];
  });
  return {
    x0: Math.min(...points.map((p) => p[0])),
    x1: Math.max(...points.map((p) => p[0])),
    y0: Math.min(...points.map((p) => p[1])),
    y1: Math.max(...points.map((p) => p[1])),
  };
}

describe.each(['a4', 'letter'] as const)('on %s', (paper) => {
  describe.each(['two to a page', 'one to a page'] as const)('%s', (size) => {
    const job = { model, date: '2026-05-20', paper };
    const sheet = stepCards(job, some, pictures, size);
    const form = { id: '', title: '', ...(size === 'one to a page' ? { lying: true } : {}) };

    test('each card has its number and action, the stop line, where you stand, a tick box and initials', () => {
      const said = sheet.pages.flatMap((p) => texts(p).map((t) => t.text)).join(' ');
      for (const s of some) expect(said).toContain(s.edge);
      // Once more on the card that says how to read one.
      expect(said.split('If it does not match the picture, stop and call.').length - 1).toBe(some.length + 1);
      expect(said.split('initials').length - 1).toBe(some.length);
      expect(sheet.pages).toHaveLength(size === 'two to a page' ? Math.ceil((some.length + 1) / 2) : some.length + 1);
    });

    test('no text is under 10 points, runs out of its page or lies on another', () => {
      sheet.pages.forEach((page, at) => {
        const area = areaOf(job, form, at);
        const boxes = texts(page).map((t) => {
          const wide = textWidth(t.text, { size: t.size, bold: t.bold ?? false });
          const x = t.x - wide * { start: 0, middle: 0.5, end: 1 }[t.align ?? 'start'];
          return { text: t.text, x0: x, x1: x + wide, y0: t.y - 0.2 * t.size * 0.3528 * 3, y1: t.y, size: t.size };
        });
        for (const b of boxes) {
          expect(b.size, b.text).toBeGreaterThanOrEqual(10 - 1e-9);
          expect(b.x0, b.text).toBeGreaterThanOrEqual(area.x - 0.01);
          expect(b.x1, b.text).toBeLessThanOrEqual(area.x + area.width + 0.01);
        }
        boxes.forEach((a, i) => {
          boxes.slice(i + 1).forEach((b) => {
            const over =
              Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0) > 0.2 && Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0) > 0.2;
            expect(over, `"${a.text}" on "${b.text}"`).toBe(false);
          });
        });
      });
    });

    test('everything stays on the page', () => {
      for (const page of sheet.pages) {
        const e = extent(page.ink);
        expect(Math.min(e.x0, e.y0)).toBeGreaterThan(8);
        expect(e.x1).toBeLessThan(page.paper.width - 8);
        expect(e.y1).toBeLessThan(page.paper.height - 8);
      }
    });
  });
});

test('pictures and plans stay in their boxes', () => {
  for (const s of some) {
    const { ink, plan } = pictures.get(s.id)!;
    for (const [what, drawn, box] of [
      ['picture', ink, STEP_PICTURE],
      ['plan', plan, STEP_PLAN],
    ] as const) {
      const e = extent(drawn);
      expect(Math.min(e.x0, e.y0), `${s.id} ${what}`).toBeGreaterThan(-4);
      expect(e.x1, `${s.id} ${what}`).toBeLessThan(box.width + 4);
      expect(e.y1, `${s.id} ${what}`).toBeLessThan(box.height + 4);
    }
  }
});

test('the part that goes in is dark, and nothing else is', () => {
  for (const s of some) {
    const dark = pictures.get(s.id)!.ink.some((i) => i.kind === 'path' && i.fill === 'dark');
    expect(dark, s.id).toBe(s.chosen.length > 0);
  }
});
