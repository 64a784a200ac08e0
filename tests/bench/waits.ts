import fc from 'fast-check';
import { openKernel } from '../../src/geometry/kernel.ts';
import { minimumZone, touchingLine } from '../../src/geometry/zone.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { stepPicture } from '../../src/sheets/steps/stepPicture.ts';
import { stepsOf } from '../../src/sheets/steps/steps.ts';
import { parseLength } from '../../src/units/read.ts';
import { damaged, damages } from '../damage.ts';
import { longFile } from '../model/file/longFile.ts';
import { textOf } from '../model/panels.ts';
import type { Row } from './rows.ts';
import { least, PLAIN, plainLoop, timed } from './yardstick.ts';

/* What a person waits for where the program could be made to dawdle: long files, damaged ones, junk in a box, pictures. */

/** Milliseconds of the slowest of so many damaged files. */
function slowestDamaged(many: number): number {
  const file = textOf('narrow-tail');
  const harms = fc.sample(damages({ size: 12, length: 6, letters: '{}[]",:0123456789.-+eE truefalsn' }), {
    seed: 11,
    numRuns: many,
  });
  return Math.max(...harms.map((harm) => timed(() => void parseModel(damaged(file, harm)))));
}

/** Milliseconds of the slowest megabyte of one sign, read as a length. */
function slowestJunk(): number {
  const signs = ['1', ' ', '1 ', '-', '1/', '"', '½', 'a'];
  return Math.max(...signs.map((sign) => timed(() => void parseLength(sign.repeat(1_000_000 / sign.length)))));
}

function manyFitted(): void {
  const x = Array.from({ length: 100_000 }, (_, i) => i);
  const y = x.map((s) => Math.sin(s * 12.9898) * 5);
  touchingLine(x, y);
  minimumZone(x, y, 'vertical');
}

/** Milliseconds of the picture in the middle, of a step of each kind. */
async function middlePicture(model: Model): Promise<number> {
  const kernel = await openKernel();
  const parts = solidsOf(skeletonOf(model), { magnify: 1 }).map((p) => ({ id: p.id, mesh: kernel.build(p.solid) }));
  const kinds = [...new Map(stepsOf(model).map((s) => [s.kind, s])).values()];
  const times = kinds.map((step) => least(1, () => void stepPicture(step, parts), 1)).sort((a, b) => a - b);
  return times[times.length >> 1] ?? Number.NaN;
}

export async function waitsRows(model: Model): Promise<Row[]> {
  const loop = plainLoop();
  const long = longFile(4000);
  const figures: readonly (readonly [what: string, ms: number])[] = [
    ['a file of 4000 stations read', least(2, () => void parseModel(long), 0)],
    ['slowest of 1000 damaged files', slowestDamaged(1000)],
    ['slowest megabyte of one sign, as a length', slowestJunk()],
    ['line and lane of 100 000 readings', least(5, manyFitted)],
    ['a step’s picture, the middle of every kind', await middlePicture(model)],
  ];
  return figures.map(([what, figure]) => ({
    what,
    figure,
    unit: 'ms',
    ratio: figure / loop,
    against: PLAIN,
    sense: 'time',
  }));
}
