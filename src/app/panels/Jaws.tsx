import type { Kind } from '../../model/quantities.ts';

/*
 * Where to put the jaws: one small drawing a kind of size. Metal is drawn thick, the size with two arrows; the same few
 * drawings serve all kinds.
 */

const channel = 'M120 24 H64 Q52 24 52 36 V104 Q52 116 64 116 H120';
const rib = 'M24 40 L196 52 V92 L24 104 Z';

type Arrow = readonly [x1: number, y1: number, x2: number, y2: number];

interface Picture {
  readonly metal: readonly string[];
  readonly thin?: readonly string[];
  readonly arrows: readonly Arrow[];
  readonly dots?: readonly (readonly [number, number])[];
}

const onChannel = (arrows: readonly Arrow[], thin: readonly string[] = []): Picture => ({ metal: [channel], thin, arrows });
const ends = 'M24 40 V104 M196 52 V92';
const onRib = (arrows: readonly Arrow[], thin: readonly string[] = []): Picture => ({ metal: [rib], thin: [ends, ...thin], arrows });
const plan: readonly string[] = ['M20 36 H200', 'M20 104 H200'];
const onPlan = (arrows: readonly Arrow[], thin: readonly string[] = []): Picture => ({ metal: plan, thin: ['M60 36 V104', 'M160 36 V104', ...thin], arrows });

const PICTURES: Record<string, Picture> = {
  thickness: { metal: ['M30 60 H190', 'M30 76 H190'], arrows: [[110, 36, 110, 60], [110, 100, 110, 76]] },
  depth: onChannel([[150, 24, 150, 116]], ['M120 24 H156', 'M120 116 H156']),
  clear: onChannel([[84, 30, 84, 110]]),
  cap: onChannel([[52, 12, 120, 12]]),
  droop: onChannel([[112, 30, 112, 110], [72, 30, 72, 110]]),
  radius: onChannel([[80, 62, 60, 34]], ['M57 31 A10 10 0 0 1 66 28']),
  bow: { metal: ['M20 70 Q110 44 200 70'], thin: ['M20 70 H200'], arrows: [[110, 70, 110, 57]] },
  camber: { metal: ['M20 64 Q110 92 200 64'], thin: ['M20 64 H200'], arrows: [[110, 64, 110, 78]] },
  height: onRib([[34, 40, 34, 103]], ['M24 40 H44', 'M24 104 H44']),
  open: { metal: ['M60 110 V50 Q60 40 70 40 L150 30'], thin: ['M70 40 H150'], arrows: [[146, 40, 146, 31]] },
  bias: { metal: [channel, 'M116 46 H76 V98 H116'], arrows: [[100, 24, 100, 46], [100, 98, 100, 116]] },
  joggle: { metal: ['M20 60 H90 L104 76 H200'], thin: ['M20 60 H200'], arrows: [[150, 60, 150, 76]] },
  width: { metal: ['M60 112 V44 Q60 34 70 34 H150'], arrows: [[60, 20, 150, 20]] },
  row: { metal: ['M60 112 V44 Q60 34 70 34 H150'], arrows: [[60, 20, 110, 20]], dots: [[110, 34]] },
  relief: onRib([[24, 28, 60, 28]], ['M60 36 a7 7 0 1 0 0.1 0']),
  length: onRib([[24, 122, 196, 122]]),
  noseLength: { metal: ['M190 34 Q60 34 30 72 Q60 110 190 110 Z'], arrows: [[30, 124, 190, 124]] },
  tipLength: { metal: ['M200 52 L110 40 Q44 40 22 72 Q44 104 110 104 L200 92 Z'], arrows: [[22, 122, 200, 122]] },
  webToWeb: onPlan([[110, 36, 110, 104]]),
  protrusion: { metal: ['M110 30 V114', 'M110 40 Q44 44 30 72 Q44 100 110 104'], arrows: [[30, 124, 110, 124]] },
  lean: { metal: ['M108 112 L124 34'], thin: ['M108 112 V34', 'M40 112 H180'], arrows: [[108, 40, 123, 40]] },
  skew: onPlan([[110, 104, 126, 104]], ['M110 36 L126 104']),
  diagonal: onPlan([[60, 36, 160, 104]]),
  heightOver: { metal: ['M60 40 H160'], thin: ['M20 116 H200'], arrows: [[110, 116, 110, 40]] },
  bench: { metal: ['M20 84 Q110 108 200 84'], thin: ['M20 80 H200'], arrows: [[110, 80, 110, 96]] },
  level: { metal: ['M40 92 L180 70'], thin: ['M40 92 H180', 'M84 72 L136 64 L138 78 L86 86 Z'], arrows: [] },
  plumb: { metal: ['M40 92 L180 70'], thin: ['M60 24 V120'], arrows: [[60, 60, 110, 60]] },
  offset: { metal: ['M20 54 H200', 'M20 88 H200'], arrows: [[100, 36, 118, 36]], dots: [[100, 54], [118, 88]] },
  hole: { metal: ['M20 72 H90 M130 72 H200'], arrows: [[90, 50, 130, 50]] },
  edge: { metal: ['M20 40 H170 V104 H20'], arrows: [[120, 72, 170, 72]], dots: [[120, 72]] },
  gap: { metal: ['M20 50 H200', 'M20 92 H200'], thin: ['M140 71 H200'], arrows: [[80, 50, 80, 92]] },
};

function head([x1, y1, x2, y2]: Arrow): string {
  const a = Math.atan2(y2 - y1, x2 - x1);
  const tip = (x: number, y: number, t: number): string => `M${x + 7 * Math.cos(t + 0.42)} ${y + 7 * Math.sin(t + 0.42)} L${x} ${y} L${x + 7 * Math.cos(t - 0.42)} ${y + 7 * Math.sin(t - 0.42)}`;
  return `${tip(x2, y2, a + Math.PI)} ${tip(x1, y1, a)}`;
}

/** The drawing for a kind of size: what to hold against what. */
export function Jaws({ kind, where }: { kind: Kind; where: string }) {
  const picture = PICTURES[kind];
  if (!picture) return null;
  return (
    <svg className="jaws" viewBox="0 0 220 140" role="img" aria-label={`Where to measure: ${where}`}>
      {(picture.thin ?? []).map((d) => <path key={d} d={d} className="leader" />)}
      {picture.metal.map((d) => <path key={d} d={d} className="jaws-metal" />)}
      {(picture.dots ?? []).map(([x, y]) => <circle key={`${x} ${y}`} cx={x} cy={y} r="4.5" className="jaws-dot" />)}
      {picture.arrows.map((a) => <path key={a.join(' ')} d={`M${a[0]} ${a[1]} L${a[2]} ${a[3]} ${head(a)}`} className="jaws-arrow" />)}
    </svg>
  );
}
