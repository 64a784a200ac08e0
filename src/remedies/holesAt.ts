import type { Model } from '../model/schema.ts';

/** Drilled holes of one part at one spar: what is lost when its end is bent again. */
export function drilledHoles(model: Model, part: string, spar: 'front' | 'rear'): number {
  return model.joints
    .filter((j) => j.end === spar)
    .flatMap((j) => j.holes)
    .filter((h) => h.layers.some((l) => l.part === part && l.state !== 'none')).length;
}

/** Drilled holes of one part at both spars: what is lost when it stands elsewhere. */
export const drilledHolesOf = (model: Model, part: string): number =>
  drilledHoles(model, part, 'front') + drilledHoles(model, part, 'rear');
