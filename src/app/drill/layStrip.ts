import type { HoleAnswer } from '../../drilling/hole.ts';

/** The strip's width, and what is left free at its sides. */
export const WIDE = 392;
const SIDE = 18;
/** Where the front rows begin, and the rear rows under their word. */
const TOP = 22;
const UNDER = 10;

/** Where a hole stands on the strip. */
export interface Spot {
  readonly answer: HoleAnswer;
  readonly x: number;
  readonly y: number;
}

export interface Strip {
  readonly spots: readonly Spot[];
  /** Radius of a symbol. */
  readonly r: number;
  /** Where the rear rows' word stands. */
  readonly rearAt: number;
  readonly height: number;
}

type End = HoleAnswer['joint']['end'];

/** Symbols are as large as the stations leave room for. */
function radiusFor(stations: number): number {
  if (stations > 40) return 1.7;
  return stations > 16 ? 2.6 : 5.5;
}

/** Each hole at its station along the span, those of the front spar over those of the rear, one under the other. */
export function layStrip(answers: readonly HoleAnswer[], stations: ReadonlyMap<string, number>): Strip {
  const ys = [...stations.values()];
  const [y0, y1] = [Math.min(...ys), Math.max(...ys)];
  const toX = (y: number): number => SIDE + ((y - y0) / Math.max(1, y1 - y0)) * (WIDE - 2 * SIDE);
  const r = radiusFor(stations.size);
  const step = 2 * r + (r < 3 ? 1.2 : 3);
  const filled: Record<End, Map<string, number>> = { front: new Map(), rear: new Map() };
  const places = answers.map((answer) => {
    const { station, end } = answer.joint;
    const row = filled[end].get(station) ?? 0;
    filled[end].set(station, row + 1);
    return { answer, row };
  });
  const deep = (end: End): number => Math.max(0, ...filled[end].values());
  const rearAt = TOP + deep('front') * step + 12;
  const top: Record<End, number> = { front: TOP, rear: rearAt + UNDER };
  return {
    spots: places.map(({ answer, row }) => ({
      answer,
      x: toX(stations.get(answer.joint.station) ?? 0),
      y: top[answer.joint.end] + row * step,
    })),
    r,
    rearAt,
    height: top.rear + deep('rear') * step + 4,
  };
}
