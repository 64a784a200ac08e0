import { validateBytes } from 'gltf-validator';
import { describe, expect, it } from 'vitest';
import { openKernel } from '../../src/geometry/kernel.ts';
import { cross, dot, type Vec3 } from '../../src/geometry/vector.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { glb } from '../../src/scene/glb.ts';
import { stl } from '../../src/scene/stl.ts';
import { panel } from '../model/panels.ts';

const kernel = await openKernel();
const parts = solidsOf(skeletonOf(panel('narrow-tail')), { magnify: 1, skin: true }).map(({ id, solid }) => ({
  name: id,
  mesh: kernel.build(solid),
}));

interface Json {
  readonly nodes: readonly {
    readonly name: string;
    readonly mesh?: number;
    readonly children?: readonly number[];
    readonly rotation?: readonly number[];
  }[];
  readonly meshes: readonly {
    readonly name: string;
    readonly extras: { readonly faces: readonly { readonly name: string }[] };
  }[];
  readonly accessors: readonly { readonly min?: readonly number[]; readonly max?: readonly number[] }[];
}

function jsonOf(bytes: Uint8Array): Json {
  const view = new DataView(bytes.buffer);
  return JSON.parse(new TextDecoder().decode(bytes.slice(20, 20 + view.getUint32(12, true)))) as Json;
}

describe('a glb file', () => {
  const bytes = glb(parts, 'narrow tail');

  it('is what the standard’s own validator wants: no error, no warning', async () => {
    const { issues, info } = await validateBytes(bytes);
    expect(issues.messages.filter((m) => m.severity < 2)).toEqual([]);
    expect(info.totalTriangleCount).toBe(parts.reduce((sum, p) => sum + p.mesh.triangles.length / 3, 0));
  });

  it('an empty panel is a file too', async () => {
    expect((await validateBytes(glb([], 'nothing'))).issues.numErrors).toBe(0);
  });

  it('has every part by its name under one node that turns z up to y up, in metres', () => {
    const json = jsonOf(bytes);
    const root = json.nodes.find((n) => n.name === 'panel')!;
    expect(root.children!.map((k) => json.nodes[k]!.name)).toEqual(parts.map((p) => p.name));
    const [qx, , , qw] = root.rotation as [number, number, number, number];
    // Rotating (0, 0, 1) by the quaternion gives (0, 1, 0).
    expect([-2 * qx * qw, 1 - 2 * qx * qx]).toEqual([expect.closeTo(1, 12), expect.closeTo(0, 12)]);
    const front = json.nodes.find((n) => n.name === 'front')!.mesh!;
    const box = kernel.bounds(solidsOf(skeletonOf(panel('narrow-tail')), { magnify: 1 })[0]!.solid);
    expect(json.accessors[2 * front]!.min![1]).toBeCloseTo(box.low[1] / 1000, 6);
    expect(json.meshes[front]!.extras.faces.map((f) => f.name)).toContain('top cap inside');
  });
});

describe('an stl file', () => {
  it('is 84 bytes and 50 a triangle, in millimetres, wound outward', () => {
    const { mesh, name } = parts.find((p) => p.name === 'M2')!;
    const bytes = stl(mesh, name);
    expect(bytes.length).toBe(84 + (50 * mesh.triangles.length) / 3);
    const view = new DataView(bytes.buffer);
    expect(view.getUint32(80, true)).toBe(mesh.triangles.length / 3);
    expect(new TextDecoder().decode(bytes.slice(0, 5))).not.toBe('solid');
    let six = 0;
    for (let t = 0; t < mesh.triangles.length / 3; t++) {
      const v = (k: number) => view.getFloat32(84 + 50 * t + 4 * k, true);
      const at = (k: number): Vec3 => [v(k), v(k + 1), v(k + 2)];
      six += dot(at(3), cross(at(6), at(9)));
      expect(Math.hypot(v(0), v(1), v(2))).toBeLessThan(1 + 1e-6);
    }
    expect(six / 6).toBeCloseTo(
      kernel.volume(solidsOf(skeletonOf(panel('narrow-tail')), { magnify: 1 }).find((p) => p.id === 'M2')!.solid),
      -1,
    );
  });
});
