import type { Kind } from '../../model/quantities.ts';
import type { Box, Ink } from '../paper/page.ts';
import { arrowHead, line, placed } from '../paper/path.ts';

/*
 * Where to put the jaws: one small drawing a kind of size, 220 wide and 140 tall. Metal is drawn thick, the size with
 * two arrows; the same few drawings serve all kinds, on the screen and on paper.
 */

type Arrow = readonly [x1: number, y1: number, x2: number, y2: number];

export interface JawsDrawing {
  readonly metal: readonly string[];
  readonly thin?: readonly string[];
  readonly arrows: readonly Arrow[];
  readonly dots?: readonly (readonly [number, number])[];
}

export const JAWS_SIZE = { width: 220, height: 140 } as const;

const CHANNEL = 'M120 24L64 24C56 24 52 28 52 36L52 104C52 112 56 116 64 116L120 116';
const RIB = 'M24 40L196 52L196 92L24 104Z';
const RIB_ENDS = 'M24 40L24 104M196 52L196 92';
const WEBS: readonly string[] = ['M20 36L200 36', 'M20 104L200 104'];

export const JAWS: Readonly<Record<Kind, JawsDrawing>> = {
  thickness: {
    metal: ['M30 60L190 60', 'M30 76L190 76'],
    arrows: [
      [110, 36, 110, 60],
      [110, 100, 110, 76],
    ],
  },
  depth: { metal: [CHANNEL], thin: ['M120 24L156 24', 'M120 116L156 116'], arrows: [[150, 24, 150, 116]] },
  clear: { metal: [CHANNEL], arrows: [[84, 30, 84, 110]] },
  cap: { metal: [CHANNEL], arrows: [[52, 12, 120, 12]] },
  droop: {
    metal: [CHANNEL],
    arrows: [
      [112, 30, 112, 110],
      [72, 30, 72, 110],
    ],
  },
  radius: { metal: [CHANNEL], thin: ['M57 31C59.2 28.6 62.6 27.4 66 28'], arrows: [[80, 62, 60, 34]] },
  bow: { metal: ['M20 70C80 52.67 140 52.67 200 70'], thin: ['M20 70L200 70'], arrows: [[110, 70, 110, 57]] },
  camber: { metal: ['M20 64C80 82.67 140 82.67 200 64'], thin: ['M20 64L200 64'], arrows: [[110, 64, 110, 78]] },
  height: { metal: [RIB], thin: [RIB_ENDS, 'M24 40L44 40', 'M24 104L44 104'], arrows: [[34, 40, 34, 103]] },
  open: {
    metal: ['M60 110L60 50C60 43.33 63.33 40 70 40L150 30'],
    thin: ['M70 40L150 40'],
    arrows: [[146, 40, 146, 31]],
  },
  bias: {
    metal: [CHANNEL, 'M116 46L76 46L76 98L116 98'],
    arrows: [
      [100, 24, 100, 46],
      [100, 98, 100, 116],
    ],
  },
  joggle: { metal: ['M20 60L90 60L104 76L200 76'], thin: ['M20 60L200 60'], arrows: [[150, 60, 150, 76]] },
  width: { metal: ['M60 112L60 44C60 37.33 63.33 34 70 34L150 34'], arrows: [[60, 20, 150, 20]] },
  row: { metal: ['M60 112L60 44C60 37.33 63.33 34 70 34L150 34'], arrows: [[60, 20, 110, 20]], dots: [[110, 34]] },
  relief: {
    metal: [RIB],
    thin: [
      RIB_ENDS,
      'M67 43C67 46.87 63.87 50 60 50C56.13 50 53 46.87 53 43C53 39.13 56.13 36 60 36C63.87 36 67 39.13 67 43Z',
    ],
    arrows: [[24, 28, 60, 28]],
  },
  length: { metal: [RIB], thin: [RIB_ENDS], arrows: [[24, 122, 196, 122]] },
  noseLength: {
    metal: ['M190 34C103.33 34 50 46.67 30 72C50 97.33 103.33 110 190 110Z'],
    arrows: [[30, 124, 190, 124]],
  },
  tipLength: {
    metal: ['M200 52L110 40C66 40 36.67 50.67 22 72C36.67 93.33 66 104 110 104L200 92Z'],
    arrows: [[22, 122, 200, 122]],
  },
  webToWeb: { metal: [...WEBS], thin: ['M60 36L60 104', 'M160 36L160 104'], arrows: [[110, 36, 110, 104]] },
  protrusion: {
    metal: ['M110 30L110 114', 'M110 40C66 42.67 39.33 53.33 30 72C39.33 90.67 66 101.33 110 104'],
    arrows: [[30, 124, 110, 124]],
  },
  lean: { metal: ['M108 112L124 34'], thin: ['M108 112L108 34', 'M40 112L180 112'], arrows: [[108, 40, 123, 40]] },
  skew: {
    metal: [...WEBS],
    thin: ['M60 36L60 104', 'M160 36L160 104', 'M110 36L126 104'],
    arrows: [[110, 104, 126, 104]],
  },
  diagonal: { metal: [...WEBS], thin: ['M60 36L60 104', 'M160 36L160 104'], arrows: [[60, 36, 160, 104]] },
  heightOver: { metal: ['M60 40L160 40'], thin: ['M20 116L200 116'], arrows: [[110, 116, 110, 40]] },
  bench: { metal: ['M20 84C80 100 140 100 200 84'], thin: ['M20 80L200 80'], arrows: [[110, 80, 110, 96]] },
  level: { metal: ['M40 92L180 70'], thin: ['M40 92L180 92', 'M84 72L136 64L138 78L86 86Z'], arrows: [] },
  plumb: { metal: ['M40 92L180 70'], thin: ['M60 24L60 120'], arrows: [[60, 60, 110, 60]] },
  offset: {
    metal: ['M20 54L200 54', 'M20 88L200 88'],
    arrows: [[100, 36, 118, 36]],
    dots: [
      [100, 54],
      [118, 88],
    ],
  },
  hole: { metal: ['M20 72L90 72M130 72L200 72'], arrows: [[90, 50, 130, 50]] },
  edge: { metal: ['M20 40L170 40L170 104L20 104'], arrows: [[120, 72, 170, 72]], dots: [[120, 72]] },
  step: {
    metal: ['M20 60L104 60', 'M116 78L200 78'],
    thin: ['M10 56L210 56'],
    arrows: [[158, 56, 158, 77]],
  },
  gap: { metal: ['M20 50L200 50', 'M20 92L200 92'], thin: ['M140 71L200 71'], arrows: [[80, 50, 80, 92]] },
};

/** The drawing for a kind of size, as large as the box lets it be. */
export function jawsInk(kind: Kind, box: Box): Ink[] {
  const { metal, thin = [], arrows, dots = [] } = JAWS[kind];
  const scale = Math.min(box.width / JAWS_SIZE.width, box.height / JAWS_SIZE.height);
  const [x, y] = [
    box.x + (box.width - JAWS_SIZE.width * scale) / 2,
    box.y + (box.height - JAWS_SIZE.height * scale) / 2,
  ];
  const at = (px: number, py: number): [number, number] => [x + px * scale, y + py * scale];
  const path = (d: string, stroke: 'hairline' | 'heavy'): Ink => ({
    kind: 'path',
    d: placed(d, { scale, x, y }),
    stroke,
    fill: 'none',
  });
  return [
    ...thin.map((d) => path(d, 'hairline')),
    ...metal.map((d) => path(d, 'heavy')),
    ...dots.map(
      ([px, py]): Ink => ({
        kind: 'circle',
        x: at(px, py)[0],
        y: at(px, py)[1],
        r: 4.5 * scale,
        stroke: 'outline',
        fill: 'paper',
      }),
    ),
    ...arrows.flatMap(([x1, y1, x2, y2]): Ink[] => {
      const [a, b] = [at(x1, y1), at(x2, y2)];
      const head = Math.min(1.6, 0.45 * Math.hypot(b[0] - a[0], b[1] - a[1]));
      return [
        line([a, b], 'outline'),
        arrowHead(...b, b[0] - a[0], b[1] - a[1], head),
        arrowHead(...a, a[0] - b[0], a[1] - b[1], head),
      ];
    }),
  ];
}
