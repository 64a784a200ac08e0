/** A run of triangles that is one named face of a part: `start` and `count` are in triangles. */
export interface FaceGroup {
  readonly name: string;
  readonly start: number;
  readonly count: number;
}

/** A solid as plain arrays, millimetres in the wing frame (x aft, y right along the span, z up); outward normals by winding. */
export interface Mesh {
  /** x, y, z of each corner. */
  readonly positions: Float32Array;
  /** Three corner numbers a triangle. */
  readonly triangles: Uint32Array;
  readonly faces: readonly FaceGroup[];
  /** Crisp edges as pairs of points, six numbers a segment. */
  readonly edges: Float32Array;
}
