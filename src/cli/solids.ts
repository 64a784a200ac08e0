import { skeletonOf } from '../parts/layout/skeleton.ts';
import { stem } from '../sheets/files.ts';
import type { Command } from './command.ts';
import { writeInto } from './files.ts';
import { folderOf, formOf, OUT } from './flags.ts';

/** The parts as drawn, for another program to look at. */
export const solidsCommand: Command = {
  says: 'writes the parts as drawn in measured size',
  flags: [
    OUT,
    {
      name: '--form',
      value: 'glb|stl',
      wants: 'glb or stl',
      says: 'glb (one file, every part by its name, metres) or stl (a file a part, mm); glb unless told',
    },
  ],
  async run(model, flags) {
    const folder = folderOf(flags, 'solids');
    const form = formOf(flags, ['glb', 'stl'], 'solids');
    const [{ openKernel }, { solidsOf }, { glb }, { stl }] = await Promise.all([
      import('../geometry/kernel.ts'),
      import('../parts/placed/solids.ts'),
      import('../scene/glb.ts'),
      import('../scene/stl.ts'),
    ]);
    const kernel = await openKernel();
    const parts = kernel.together(() =>
      solidsOf(skeletonOf(model), { magnify: 1, skin: true, rivets: true }).map(({ id, solid }) => ({
        name: id,
        mesh: kernel.build(solid),
      })),
    );
    const whole = `${stem(model.name)}.glb`;
    const files =
      form === 'glb'
        ? [{ name: whole, bytes: glb(parts, model.name) }]
        : parts.map(({ name, mesh }) => ({ name: `${stem(name)}.stl`, bytes: stl(mesh, name) }));
    await writeInto(folder, files);
    const written = files.length === 1 ? (files[0]?.name ?? whole) : `${files.length} files`;
    const axes = form === 'glb' ? 'metres, y up' : 'millimetres, z up';
    return { text: `${parts.length} parts in ${written}, ${axes}`, code: 0 };
  },
};
