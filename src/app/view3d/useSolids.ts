import { proxy } from 'comlink';
import { useEffect, useState } from 'react';
import type { Frame } from '../../geometry/frame.ts';
import type { ShadedMesh } from '../../geometry/shade.ts';
import type { Model } from '../../model/schema.ts';
import type { PartKind, PlacedSolid } from '../../parts/placed/build.ts';
import { awaited } from '../state/atRest.ts';
import { cutter, whenBroken } from '../workers/cutter.ts';
import { useLatest } from './useLatest.ts';

/** A part on the screen: what it is and its surface. */
export interface ShownPart {
  readonly id: string;
  readonly kind: PartKind;
  readonly mark: string;
  readonly station: string | null;
  readonly on: PlacedSolid['on'];
  readonly key: string;
  readonly mesh: ShadedMesh;
}

/**
 * The parts as last built, and what they were built from: until a newer build is there, the picture stays whole and
 * old.
 */
export interface ShownSolids {
  /** Where each part's own axes lie, by part id. */
  readonly frames: ReadonlyMap<string, Frame>;
  readonly parts: readonly ShownPart[];
  readonly model: Model;
  readonly magnify: number;
}

export interface SolidsStatus {
  readonly building: boolean;
  readonly done: number;
  readonly total: number;
  /** Nothing can be drawn in 3D. */
  readonly problem?: string;
  /** Drawn, but for a part. */
  readonly note?: string;
}

interface Wanted {
  readonly model: Model;
  readonly magnify: number;
  readonly skin: boolean;
}

const UNBUILT: SolidsStatus = { building: false, done: 0, total: 0 };
const BROKEN = 'The solids could not be built in the background; reload the page.';

/**
 * What the worker answers: built, with the meshes that are new; failed, with a sentence; or overtaken by a newer
 * wish.
 */
type Answer = Awaited<ReturnType<ReturnType<typeof cutter>['build']>>;
type Built = Extract<Answer, { readonly state: 'built' }>;

/** The meshes that have come, by their keys: the worker sends each of them once. */
type Meshes = Map<string, ShadedMesh>;

/** The parts of an answer with their meshes; meshes that it has no use for are let go. */
function partsOf(built: Built, meshes: Meshes): readonly ShownPart[] {
  const parts = built.parts.flatMap(({ mesh: _, frame: __, ...part }): ShownPart[] => {
    const mesh = meshes.get(part.key);
    return mesh ? [{ ...part, mesh }] : [];
  });
  const used = new Set(parts.map((p) => p.key));
  for (const key of meshes.keys()) if (!used.has(key)) meshes.delete(key);
  return parts;
}

const framesOf = ({ parts }: Built): ShownSolids['frames'] =>
  new Map(parts.flatMap((p): [string, Frame][] => (p.frame ? [[p.id, p.frame]] : [])));

/** Asks for the solids of a wish. What it tells is told only while it is still wanted. */
async function ask(
  { model, magnify, skin }: Wanted,
  meshes: Meshes,
  wanted: () => boolean,
  tell: (s: SolidsStatus) => void,
): Promise<ShownSolids | undefined> {
  // Progress comes on a way of its own and may come after the answer: then it is no news any more.
  let answered = false;
  const progress = proxy((done: number, total: number) => {
    if (wanted() && !answered) tell({ building: true, done, total });
  });
  tell({ building: true, done: 0, total: 0 });
  const answer = await cutter().build({ model, magnify, skin, known: [...meshes.keys()] }, progress);
  answered = true;
  if (answer.state === 'failed' && wanted()) tell({ ...UNBUILT, problem: answer.sentence });
  if (answer.state !== 'built') return undefined;
  // Meshes that came for a wish already overtaken are kept all the same: the next answer may count on them.
  for (const { key, mesh } of answer.parts) if (mesh) meshes.set(key, mesh);
  if (!wanted()) return undefined;
  const parts = partsOf(answer, meshes);
  const [note] = answer.problems;
  tell({ building: false, done: parts.length, total: parts.length, ...(note === undefined ? {} : { note }) });
  return { parts, frames: framesOf(answer), model, magnify };
}

/** The solids of a model, built in a worker; the newest wish wins and the last picture stays until it is ready. */
export function useSolids({ model, magnify, skin }: Wanted, onStatus: (s: SolidsStatus) => void): ShownSolids | null {
  const [shown, setShown] = useState<ShownSolids | null>(null);
  const [meshes] = useState((): Meshes => new Map());
  const tell = useLatest(onStatus);

  useEffect(() => {
    const unheard = whenBroken(() => tell({ ...UNBUILT, problem: BROKEN }));
    return () => {
      unheard();
      meshes.clear();
    };
  }, [meshes, tell]);

  useEffect(() => {
    let wanted = true;
    awaited(ask({ model, magnify, skin }, meshes, () => wanted, tell))
      .then((solids) => {
        if (solids) setShown(solids);
      })
      .catch((e: unknown) => {
        const why = e instanceof Error ? e.message : String(e);
        if (wanted) tell({ ...UNBUILT, problem: `The solids could not be built (${why}); reload the page.` });
      });
    return () => {
      wanted = false;
    };
  }, [model, magnify, skin, meshes, tell]);

  return shown;
}
