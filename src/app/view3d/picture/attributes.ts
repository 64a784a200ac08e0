import { BufferAttribute, BufferGeometry } from 'three';

/** A geometry from plain lists: by name, the numbers and how many of them a corner has. */
export function geometryOf(lists: Readonly<Record<string, readonly [values: readonly number[], size: number]>>) {
  const geometry = new BufferGeometry();
  for (const [name, [values, size]] of Object.entries(lists))
    geometry.setAttribute(name, new BufferAttribute(Float32Array.from(values), size));
  return geometry;
}
