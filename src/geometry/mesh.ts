/** A run of triangles that is one named face of a part: `start` and `count` are in triangles. */
export interface FaceGroup {
  readonly name: string;
  readonly start: number;
  readonly count: number;
}

/**
 * A solid as plain arrays, millimetres in the wing frame (x aft, y right along the span, z up); outward normals by
 * winding.
 */
export interface Mesh {
  /** x, y, z of each corner. */
  readonly positions: Float32Array;
  /** Three corner numbers a triangle. */
  readonly triangles: Uint32Array;
  readonly faces: readonly FaceGroup[];
  /** Crisp edges as pairs of points, six numbers a segment. */
  readonly edges: Float32Array;
}

/** Outward normals of length one, three numbers a triangle; 0, 0, 0 where it holds no area. */
export function triangleNormals({ positions, triangles }: Pick<Mesh, 'positions' | 'triangles'>): Float64Array {
  const normals = new Float64Array(triangles.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const i = 3 * triangles[t]!;
    const j = 3 * triangles[t + 1]!;
    const k = 3 * triangles[t + 2]!;
    const ax = positions[j]! - positions[i]!;
    const ay = positions[j + 1]! - positions[i + 1]!;
    const az = positions[j + 2]! - positions[i + 2]!;
    const bx = positions[k]! - positions[i]!;
    const by = positions[k + 1]! - positions[i + 1]!;
    const bz = positions[k + 2]! - positions[i + 2]!;
    const nx = ay * bz - az * by;
    const ny = az * bx - ax * bz;
    const nz = ax * by - ay * bx;
    const size = Math.hypot(nx, ny, nz) || 1;
    normals[t] = nx / size;
    normals[t + 1] = ny / size;
    normals[t + 2] = nz / size;
  }
  return normals;
}
