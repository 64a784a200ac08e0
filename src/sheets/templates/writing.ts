import type { Vec2 } from '../../geometry/vector.ts';
import type { Ink } from '../paper/page.ts';
import { arrowHead, segment } from '../paper/path.ts';
import { textAt, textLines } from '../paper/text.ts';
import { LEAST_SIZE, leadOf, linesHeight, riseOf, textWidth, wrap } from '../paper/type.ts';
import type { FlatDrawing } from './drawFlat.ts';
import type { Item } from './items.ts';
import { roomFor, type Spot } from './room.ts';

/*
 * What is written on a piece itself: its name, which side is up, arrows up and to the right, the grain; each where
 * there is room.
 */

/** A place of a drawing on the page. */
export type Lay = (p: Vec2) => Vec2;
type Drawn = (at: Lay) => Ink[];

/**
 * Where the writing goes: the drawing, the stretch of it that is on this page, and whether it lies turned a quarter.
 */
export interface Surface {
  readonly drawing: FlatDrawing;
  readonly tile: Spot;
  readonly turned: boolean;
}

const ARROW = 8;

export function writing(item: Item, { drawing, tile, turned }: Surface): Drawn {
  const written = new Writing(drawing, tile);
  if (item.up) written.arrows(item.up, turned);
  const name = { size: 14, bold: true };
  written.first([
    { ...name, lines: [item.name] },
    { bold: true, lines: wrap(item.name, 24, { bold: true }) },
  ]);
  written.first([{ lines: [item.side] }, { lines: wrap(item.side, 32) }, { lines: wrap(item.side, 22) }]);
  if (item.grain) written.grain((item.grain === 'y') !== turned);
  return (at) => written.ink(at);
}

/** Words set one way. */
interface Setting {
  readonly lines: readonly string[];
  readonly size?: number;
  readonly bold?: boolean;
}

/** Writing being put where there is room, clear of what is there already. */
class Writing {
  readonly #drawing: FlatDrawing;
  readonly #tile: Spot;
  readonly #taken: Spot[] = [];
  readonly #drawn: Drawn[] = [];

  constructor(drawing: FlatDrawing, tile: Spot) {
    this.#drawing = drawing;
    this.#tile = tile;
  }

  ink(at: Lay): Ink[] {
    return this.#drawn.flatMap((draw) => draw(at));
  }

  #room(width: number, height: number): Spot | undefined {
    const spot = roomFor(this.#drawing, [width, height], { tile: this.#tile, taken: this.#taken });
    if (spot) this.#taken.push(spot);
    return spot;
  }

  /** The first setting that goes on the piece, level or else upright. */
  first(settings: readonly Setting[]): void {
    settings.some((setting) => setting.lines.join('') === '' || this.#level(setting) || this.#upright(setting));
  }

  #level({ lines, size = LEAST_SIZE, bold = false }: Setting): boolean {
    const wide = widest(lines, { size, bold });
    const spot = this.#room(wide, linesHeight(lines.length, size));
    if (!spot) return false;
    this.#drawn.push((at) => {
      const [x, y] = at([spot.low[0], spot.high[1]]);
      return textLines(lines, [x + wide / 2, y], { size, bold, align: 'middle' });
    });
    return true;
  }

  #upright({ lines, size = LEAST_SIZE, bold = false }: Setting): boolean {
    const wide = widest(lines, { size, bold });
    const spot = this.#room(linesHeight(lines.length, size), wide);
    if (!spot) return false;
    this.#drawn.push((at) => {
      const [x, y] = at([spot.low[0], spot.high[1]]);
      const baseline = (i: number): number => x + riseOf(size) + i * leadOf(size);
      return lines.map((text, i) =>
        textAt(text, [baseline(i), y + wide / 2], { size, bold, align: 'middle', turn: 90 }),
      );
    });
    return true;
  }

  arrows({ up, right }: { readonly up: string; readonly right: string }, turned: boolean): void {
    // Turned a quarter anticlockwise, what was up goes to the left and what was right goes up.
    const [along, across] = turned ? [right, up] : [up, right];
    const wide = Math.max(ARROW + 3, textWidth(across), 2.5 + textWidth(along));
    const spot = this.#room(wide, ARROW + 6);
    if (!spot) return;
    const corner: Vec2 = [turned ? spot.high[0] : spot.low[0], spot.low[1]];
    this.#drawn.push((at) => arrowsInk(at(corner), { along, across, left: turned }));
  }

  grain(upright: boolean): void {
    const spot = upright ? this.#room(6, 20) : this.#room(20, 6);
    if (spot) this.#drawn.push((at) => grainInk(at([spot.low[0], spot.high[1]]), upright));
  }
}

const widest = (lines: readonly string[], type: { readonly size: number; readonly bold: boolean }): number =>
  Math.max(...lines.map((w) => textWidth(w, type)));

/** Two arrows from a corner: one up the page, one across it, each with its word. */
interface Arrows {
  readonly along: string;
  readonly across: string;
  /** The one across goes to the left. */
  readonly left: boolean;
}

function arrowsInk([x, y]: Vec2, { along, across, left }: Arrows): Ink[] {
  const way = left ? -1 : 1;
  const [cx, cy] = [x + way * 0.8, y - 4.6];
  const align = left ? 'end' : 'start';
  return [
    segment([cx, cy], [cx, cy - ARROW + 1], 'outline'),
    arrowHead(cx, cy - ARROW, 0, -1),
    segment([cx, cy], [cx + way * (ARROW - 1), cy], 'outline'),
    arrowHead(cx + way * ARROW, cy, way, 0),
    textAt(along, [cx + way * 1.4, cy - ARROW + 2.6], { align }),
    textAt(across, [x, y - 0.8], { align }),
  ];
}

/** An arrow with two heads, and its word, from the upper left corner of its room. */
function grainInk([x, y]: Vec2, upright: boolean): Ink[] {
  const [a, b]: [Vec2, Vec2] = upright
    ? [
        [x + 5, y + 1],
        [x + 5, y + 19],
      ]
    : [
        [x + 1, y + 5],
        [x + 19, y + 5],
      ];
  const [dx, dy] = upright ? [0, 1] : [1, 0];
  return [
    segment(a, b, 'outline'),
    arrowHead(...a, -dx, -dy),
    arrowHead(...b, dx, dy),
    upright
      ? textAt('grain', [x + 3.6, y + 10], { turn: 90, align: 'middle' })
      : textAt('grain', [x + 10, y + 3.8], { align: 'middle' }),
  ];
}
