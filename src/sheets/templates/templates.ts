import { inWeb } from '../../model/edits/rows.ts';
import { HANDBOOK_RULE } from '../../parts/flat/bend.ts';
import { sizesFor } from '../../parts/flat/drawnRibs.ts';
import { drillStrips } from '../../parts/flat/drillStrip.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { areaOf, type Form, framed, type Job } from '../paper/frame.ts';
import type { Ink, Sheet, Stroke } from '../paper/page.ts';
import { segment } from '../paper/path.ts';
import { textLines } from '../paper/text.ts';
import { linesHeight, textWidth, wrap } from '../paper/type.ts';
import { blocksOf, packed } from './blocks.ts';
import { drawBlock } from './drawFlat.ts';
import { blockItem, type Item, pieceItem, stripItem } from './items.ts';
import { cutPieces, ribPieces } from './pieces.ts';
import type { Block } from './tileBlocks.ts';

/*
 * Full-size templates: flat patterns of what is cut, forming blocks, drill strips; 1:1, tiled where the paper is too
 * small.
 */

const BENDING = `Bend allowance (${HANDBOOK_RULE.radius} R + ${HANDBOOK_RULE.thickness} T) × 90, ${HANDBOOK_RULE.origin}. It is empirical: bend one from scrap first, measure it, and correct the allowance from what comes out.`;
const MARKS = 'Small circles with a cross are rivet holes: drill them through the mating part, not from here.';
const TILES = 'Tiles are joined crosses on crosses.';

/**
 * Flat patterns of doublers, packers and shims, or of those named. Long plain strips are in the cut list only: they
 * are cut to size.
 */
export function pieceTemplates(job: Job, named?: readonly string[]): Sheet {
  const form: Form = { id: 'flat-patterns', title: 'Flat patterns, full size', fullSize: true };
  const pieces = cutPieces(job.model, named).filter((p) => p.kind !== 'cap strip' && p.kind !== 'web doubler');
  return laidOut(job, form, {
    items: pieces.map((p) => pieceItem(job.model, p)),
    intro: [BENDING, MARKS, 'Grain across the bends.', TILES],
    none: 'There is no doubler, packer or shim to cut.',
  });
}

/** Flat blanks and forming blocks of the ribs as drawn, or of those named. */
export function ribTemplates(job: Job, named?: readonly string[]): Sheet {
  const form: Form = { id: 'rib-templates', title: 'Rib blanks and forming blocks, full size', fullSize: true };
  const items = ribPieces(job.model, named).flatMap((p) => {
    const block = drawBlock(p);
    return [pieceItem(job.model, p), ...(block ? [blockItem(job.model, p, block)] : [])];
  });
  return laidOut(job, form, { items, intro: [BENDING, MARKS, TILES], none: 'There is no rib.' });
}

/** Strips to drill the first layer of each joint by, or those for the parts named. */
export function stripTemplates(job: Job, named?: readonly string[]): Sheet {
  const form: Form = { id: 'drill-strips', title: 'Drill strips, full size', fullSize: true };
  const strips = drillStrips(sizesFor(skeletonOf(job.model), 0)).filter(
    (s) => named === undefined || s.serves.some((k) => named.includes(k.part)),
  );
  const hasCapRows = job.model.joints.some((j) => !inWeb(j));
  return laidOut(job, form, {
    items: strips.map((s) => stripItem(job.model, s)),
    intro: [
      'Lay the level centre line on the chord line and the upright one on the row. Drill one layer of a joint by its strip, the other layers through that one.',
      ...(hasCapRows ? ['Rows in caps have no strip: lay them out from the web.'] : []),
    ],
    none: 'There is no row of holes.',
  });
}

/** What a full-size sheet holds: its items, what is said over them, and what is said where there are none. */
interface Content {
  readonly items: readonly Item[];
  readonly intro: readonly string[];
  readonly none: string;
}

function laidOut(job: Job, form: Form, { items, intro, none }: Content): Sheet {
  // The first page has the legend and the whole caution: what is too tall for the rest of it goes on the next.
  const room = areaOf(job, form, 1);
  const blocks =
    items.length === 0
      ? [saying(none, room.width)]
      : [legend(room.width, intro), ...items.flatMap((i) => blocksOf(i, room))];
  const pages = packed(blocks, (page) => areaOf(job, form, page));
  return framed(job, form, pages);
}

const saying = (words: string, width: number): Block => ({
  width,
  height: linesHeight(1),
  draw: (x, y) => textLines([words], [x, y]),
});

const LEGEND: readonly (readonly [stroke: Stroke, name: string])[] = [
  ['cut', 'cut'],
  ['bend', 'bend tangent line'],
  ['centre', 'centre line'],
  ['hidden', 'behind, or join tiles here'],
  ['hairline', 'thin: drill, or mark only'],
];
/** Length of a line of the legend, and from the line's start to its name, mm. */
const SAMPLE = 14;
const NAME = SAMPLE + 1.5;
const LEGEND_ROW = 5;

interface Key {
  readonly stroke: Stroke;
  readonly name: string;
  readonly x: number;
  readonly row: number;
}

/** The kinds of line in rows so wide: they go on in a second row where the page is narrow. */
function legendKeys(width: number): Key[] {
  const keys: Key[] = [];
  let [x, row] = [0, 0];
  for (const [stroke, name] of LEGEND) {
    const wide = NAME + textWidth(name) + 5;
    if (x + wide > width) [x, row] = [0, row + 1];
    keys.push({ stroke, name, x, row });
    x += wide;
  }
  return keys;
}

function legend(width: number, intro: readonly string[]): Block {
  const said = wrap(intro.join(' '), width);
  const keys = legendKeys(width);
  const top = ((keys.at(-1)?.row ?? 0) + 1) * LEGEND_ROW;
  const keyInk = (k: Key, x: number, y: number): Ink[] => [
    segment([x + k.x, y + 1.8], [x + k.x + SAMPLE, y + 1.8], k.stroke),
    ...textLines([k.name], [x + k.x + NAME, y]),
  ];
  return {
    width,
    height: top + linesHeight(said.length) + 1,
    draw: (x, y) => [...keys.flatMap((k) => keyInk(k, x, y + k.row * LEGEND_ROW)), ...textLines(said, [x, y + top])],
  };
}
