import { textOf } from '../panels.ts';

// biome-ignore lint/suspicious/noExplicitAny: what is put together here is judged by what reads it
type Plain = Record<string, any>;

/** A right file of `n` stations, each with its ribs, doubler, joint and reading: near the largest there is. */
export function longFile(n: number): string {
  const one = JSON.parse(textOf('plain')) as Plain;
  const numbered = (item: Plain, i: number, id: string) => ({
    ...item,
    id: `${id}${i}`,
    station: `S${i}`,
  });
  const [tip, main, nose] = one.ribs;
  one.stations = Array.from({ length: n }, (_, i) => ({ id: `S${i}`, y: i, nose: 100, washout: 0 }));
  for (const name of ['front', 'rear']) one.spars[name].to = n;
  one.ribs = [
    numbered(tip, 0, 'T'),
    ...Array.from({ length: n - 2 }, (_, k) => [numbered(main, k + 1, 'M'), numbered(nose, k + 1, 'N')]).flat(),
    numbered(tip, n - 1, 'T'),
  ];
  one.doublers = Array.from({ length: n - 2 }, (_, k) => ({
    ...one.doublers[0],
    id: `D${k + 1}`,
    part: `M${k + 1}`,
  }));
  const joint = one.joints[0];
  const named = (part: string, i: number) => (part === 'front' ? part : `${part[0]}${i}`);
  one.joints = Array.from({ length: n - 2 }, (_, k) => ({
    ...numbered(joint, k + 1, 'F'),
    layers: joint.layers.map((p: string) => named(p, k + 1)),
    holes: joint.holes.map((h: Plain) => ({
      ...h,
      layers: h.layers.map((l: Plain) => ({ ...l, part: named(l.part, k + 1) })),
    })),
  }));
  one.stages = [];
  delete one.now;
  one.survey.supports = [];
  one.readings = Array.from({ length: n - 2 }, (_, k) => ({
    size: `M${k + 1}.length`,
    value: 198.45,
    instrument: 'rule',
  }));
  return JSON.stringify(one);
}
