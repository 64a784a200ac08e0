import { expose, transfer } from 'comlink';
import wasmUrl from 'manifold-3d/manifold.wasm?url';
import type { Frame } from '../../geometry/frame.ts';
import { type Kernel, openKernel } from '../../geometry/kernel.ts';
import type { Mesh } from '../../geometry/mesh.ts';
import { type ShadedMesh, shaded } from '../../geometry/shade.ts';
import type { Solid } from '../../geometry/solids.ts';
import type { Model } from '../../model/schema.ts';
import { once } from '../../once.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import type { PartKind, PlacedSolid } from '../../parts/placed/build.ts';
import { solidsOf } from '../../parts/placed/solids.ts';
import { type Cut, cutOf } from '../../scene/cut.ts';
import type { Step } from '../../sheets/steps/step.ts';
import type { PartMesh } from '../../sheets/steps/stepInk.ts';
import { type StepPicture, stepPicture } from '../../sheets/steps/stepPicture.ts';

/*
 * Builds the solids of a panel, and cuts them open, away from the screen. A mesh is known by its recipe: what has not
 * changed since the last answer is neither built nor sent again. A newer request ends an older one at its next part.
 */

export interface BuildRequest {
  readonly model: Model;
  readonly magnify: number;
  readonly skin: boolean;
  /** Keys of the meshes the asker already has. */
  readonly known: readonly string[];
}

export interface BuiltPart {
  readonly id: string;
  readonly kind: PartKind;
  readonly mark: string;
  readonly station: string | null;
  readonly on: PlacedSolid['on'];
  /** Names the mesh: equal keys are equal metal. */
  readonly key: string;
  /** Where the part's own axes lie; none for what is drawn in the wing's. */
  readonly frame: Frame | null;
  /** Absent where the asker knows the key. */
  readonly mesh?: ShadedMesh;
}

export type BuildAnswer =
  | {
      readonly state: 'built';
      readonly parts: readonly BuiltPart[] /** Parts that could not be built, each with its sentence. */;
      readonly problems: readonly string[];
    }
  | { readonly state: 'overtaken' }
  | { readonly state: 'failed'; readonly sentence: string };

type Progress = (done: number, total: number) => void;

/** Parts built in one go before the worker listens for a newer request, ms. */
const TURN = 40;
/** Surfaces kept at most, bytes: two enlargements of a panel of 80 stations. */
const MOST_KEPT = 96_000_000;

const meshes = new Map<string, ShadedMesh>();
let kept = 0;
let latest = 0;

const bytesOf = ({ positions, normals, triangles, edges }: ShadedMesh): number =>
  positions.byteLength + normals.byteLength + triangles.byteLength + edges.byteLength;

/** 53 bits of the recipe's text, and its length: two recipes with one key would need both to agree. */
const keyOf = once((solid: Solid): string => {
  const text = JSON.stringify(solid);
  let [a, b] = [0xdeadbeef, 0x41c6ce57];
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    a = Math.imul(a ^ c, 2654435761);
    b = Math.imul(b ^ c, 1597334677);
  }
  return `${(a >>> 0).toString(36)}${(b >>> 0).toString(36)}-${text.length}`;
});

const rest = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

const says = (e: unknown): string => (e instanceof Error ? e.message : String(e)).replace(/\.$/, '');

function meshOf(kernel: Kernel, part: PlacedSolid, key: string): ShadedMesh {
  let mesh = meshes.get(key);
  if (!mesh) {
    mesh = shaded(kernel.build(part.solid));
    kept += bytesOf(mesh);
  } else meshes.delete(key);
  meshes.set(key, mesh);
  // The longest unasked goes first; the one asked for now stays whatever it weighs.
  for (const [oldest, gone] of meshes) {
    if (kept <= MOST_KEPT || oldest === key) break;
    meshes.delete(oldest);
    kept -= bytesOf(gone);
  }
  return mesh;
}

/** A copy to give away; the worker keeps its own. */
function copied(mesh: ShadedMesh): ShadedMesh {
  return {
    positions: mesh.positions.slice(),
    normals: mesh.normals.slice(),
    triangles: mesh.triangles.slice(),
    faces: mesh.faces,
    edges: mesh.edges.slice(),
  };
}

type Failed = Extract<BuildAnswer, { state: 'failed' }>;
const failed = (sentence: string): Failed => ({ state: 'failed', sentence });

/** The solid modeller, or why there is none. */
async function kernelOr(): Promise<Kernel | Failed> {
  try {
    return await openKernel(wasmUrl);
  } catch (e) {
    const why = `The solid modeller could not be started (${says(e)});`;
    return failed(`${why} reload the page, or work in plan and section.`);
  }
}

/** The parts in their places, or why they have none. */
function placedOr({ model, magnify, skin }: BuildRequest): readonly PlacedSolid[] | Failed {
  try {
    return solidsOf(skeletonOf(model), { magnify, skin });
  } catch (e) {
    const smaller = magnify > 1 ? ' Try a smaller enlargement.' : '';
    return failed(`The skeleton could not be drawn at ×${magnify}: ${says(e)}.${smaller}`);
  }
}

/** A part cut, its mesh with it where it is new; `have` are the keys of the meshes that are known already. */
function cutPart(kernel: Kernel, part: PlacedSolid, have: Set<string>): BuiltPart {
  const { id, kind, mark, on, solid } = part;
  const key = keyOf(solid);
  const frame = solid.kind === 'placed' ? solid.frame : null;
  const same = { id, kind, mark, station: part.station ?? null, on, key, frame };
  const cut = have.has(key) ? same : { ...same, mesh: copied(meshOf(kernel, part, key)) };
  have.add(key);
  return cut;
}

async function build(asked: BuildRequest, progress: Progress): Promise<BuildAnswer> {
  const mine = ++latest;
  const kernel = await kernelOr();
  if ('state' in kernel) return kernel;
  if (mine !== latest) return { state: 'overtaken' };
  const solids = placedOr(asked);
  if ('state' in solids) return solids;
  const have = new Set(asked.known);
  const parts: BuiltPart[] = [];
  const problems: string[] = [];
  let since = performance.now();
  for (const [i, part] of solids.entries()) {
    try {
      parts.push(cutPart(kernel, part, have));
    } catch (e) {
      problems.push(`${part.mark} could not be drawn at ×${asked.magnify} (${says(e)}); try a smaller enlargement.`);
    }
    if (performance.now() - since < TURN) continue;
    progress(i + 1, solids.length);
    await rest();
    if (mine !== latest) return { state: 'overtaken' };
    since = performance.now();
  }
  const answer: BuildAnswer = { state: 'built', parts, problems };
  return transfer(
    answer,
    parts.flatMap(({ mesh }) =>
      mesh ? [mesh.positions.buffer, mesh.normals.buffer, mesh.triangles.buffer, mesh.edges.buffer] : [],
    ),
  );
}

/** The skeletons last asked about, newest last, by the number their model goes by. */
const skeletons = new Map<number, Skeleton>();
const MOST_SKELETONS = 3;

function skeletonFor(number: number, model: Model | undefined): Skeleton {
  const skeleton = skeletons.get(number) ?? (model && skeletonOf(model));
  if (!skeleton) throw new Error('the panel has changed meanwhile');
  skeletons.delete(number);
  skeletons.set(number, skeleton);
  const [oldest] = skeletons.keys();
  if (oldest !== undefined && skeletons.size > MOST_SKELETONS) skeletons.delete(oldest);
  return skeleton;
}

/** The numbers of the models whose skeletons are still here; any other has to be sent along. */
function known(): readonly number[] {
  return [...skeletons.keys()];
}

export interface SectionRequest {
  /** The number a model goes by; the model itself only where the worker does not know the number yet. */
  readonly number: number;
  readonly model?: Model | undefined;
  readonly magnify: number;
  /** Where along the span the plane stands. */
  readonly y: number;
  readonly skin: boolean;
}

/** The skeleton cut open at a place along the span. Rejects with a sentence where it cannot be. */
async function section({ number, model, magnify, y, skin }: SectionRequest): Promise<Cut> {
  const kernel = await openKernel(wasmUrl);
  return cutOf(kernel, skeletonFor(number, model), { magnify, y, skin });
}

/** Surfaces for pictures, by recipe: what has not changed is not built again. */
const surfaces = new WeakMap<Solid, Mesh>();

/**
 * The picture of a step, its parts in measured size and place, and how the whole panel lies. Rejects with a sentence
 * where it cannot be drawn.
 */
async function picture({ number, model, step }: PictureRequest): Promise<StepPicture> {
  const kernel = await openKernel(wasmUrl);
  const parts: PartMesh[] = [];
  let since = performance.now();
  for (const part of solidsOf(skeletonFor(number, model), { magnify: 1 })) {
    let mesh = surfaces.get(part.solid);
    if (!mesh) {
      mesh = kernel.build(part.solid);
      surfaces.set(part.solid, mesh);
    }
    parts.push({ id: part.id, mesh, ...(part.on ? { spar: part.on.spar } : {}) });
    if (performance.now() - since < TURN) continue;
    await rest();
    since = performance.now();
  }
  return stepPicture(step, parts);
}

export interface PictureRequest {
  readonly number: number;
  readonly model?: Model | undefined;
  readonly step: Step;
}

/** Ends whatever is being built. */
function cancel(): void {
  latest++;
}

const service = { build, cancel, known, section, picture };
export type SolidsService = typeof service;

expose(service);
