import { proxy } from 'comlink';
import { useEffect, useRef, useState } from 'react';
import type { Frame } from '../../geometry/frame.ts';
import type { ShadedMesh } from '../../geometry/shade.ts';
import type { Model } from '../../model/schema.ts';
import type { PartKind, PlacedSolid } from '../../parts/placed/build.ts';
import { awaited } from '../state/atRest.ts';
import { cutter, whenBroken } from '../workers/cutter.ts';

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

/** The parts as last built, and what they were built from: until a newer build is there, the picture stays whole and old. */
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

/** The solids of a model, built in a worker; the newest wish wins and the last picture stays until it is ready. */
export function useSolids({ model, magnify, skin }: Wanted, onStatus: (s: SolidsStatus) => void): ShownSolids | null {
  const [shown, setShown] = useState<ShownSolids | null>(null);
  const meshes = useRef(new Map<string, ShadedMesh>());
  const tell = useRef(onStatus);
  tell.current = onStatus;

  useEffect(() => {
    const kept = meshes.current;
    const unheard = whenBroken(() =>
      tell.current({
        building: false,
        done: 0,
        total: 0,
        problem: 'The solids could not be built in the background; reload the page.',
      }),
    );
    return () => {
      unheard();
      kept.clear();
    };
  }, []);

  useEffect(() => {
    let wanted = true;
    // Progress comes on a way of its own and may come after the answer: then it is no news any more.
    let answered = false;
    const progress = proxy((done: number, total: number) => {
      if (wanted && !answered) tell.current({ building: true, done, total });
    });
    const ask = async (): Promise<void> => {
      tell.current({ building: true, done: 0, total: 0 });
      const answer = await cutter().build({ model, magnify, skin, known: [...meshes.current.keys()] }, progress);
      answered = true;
      if (answer.state !== 'built') {
        if (wanted && answer.state === 'failed')
          tell.current({ building: false, done: 0, total: 0, problem: answer.sentence });
        return;
      }
      // Meshes that came for a wish already overtaken are kept all the same: the next answer may count on them.
      for (const { key, mesh } of answer.parts) if (mesh) meshes.current.set(key, mesh);
      if (!wanted) return;
      const parts = answer.parts.flatMap(({ mesh: _, frame: __, ...part }): ShownPart[] => {
        const mesh = meshes.current.get(part.key);
        return mesh ? [{ ...part, mesh }] : [];
      });
      const used = new Set(parts.map((p) => p.key));
      for (const key of meshes.current.keys()) if (!used.has(key)) meshes.current.delete(key);
      const frames = new Map(answer.parts.flatMap((p): [string, Frame][] => (p.frame ? [[p.id, p.frame]] : [])));
      setShown({ parts, frames, model, magnify });
      const many = parts.length;
      tell.current({
        building: false,
        done: many,
        total: many,
        ...(answer.problems[0] === undefined ? {} : { note: answer.problems[0] }),
      });
    };
    awaited(ask()).catch((e: unknown) => {
      if (wanted)
        tell.current({
          building: false,
          done: 0,
          total: 0,
          problem: `The solids could not be built (${e instanceof Error ? e.message : String(e)}); reload the page.`,
        });
    });
    return () => {
      wanted = false;
    };
  }, [model, magnify, skin]);

  return shown;
}
