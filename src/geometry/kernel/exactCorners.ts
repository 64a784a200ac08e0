/**
 * Corners in single precision, and the step that makes a kernel's copy of them exact again, whatever order it keeps
 * them in.
 */
export function roughened(points: Float64Array): {
  rough: Float32Array;
  exact: (corners: Float64Array, count: number) => void;
} {
  const rough = Float32Array.from(points);
  const bits = new Uint32Array(rough.buffer);
  // An open table of corners by their bits, twice as large as it need be; empty places hold −1.
  const room = 1 << Math.ceil(Math.log2((points.length / 3) * 2 + 1));
  const table = new Int32Array(room).fill(-1);
  const start = (x: number, y: number, z: number): number =>
    ((Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca77) ^ Math.imul(z, 0xc2b2ae3d)) >>> 0) & (room - 1);
  const same = (i: number, x: number, y: number, z: number): boolean =>
    bits[i] === x && bits[i + 1] === y && bits[i + 2] === z;
  const find = (x: number, y: number, z: number): number => {
    let at = start(x, y, z);
    while ((table[at] ?? -1) >= 0 && !same(table[at] ?? 0, x, y, z)) at = (at + 1) & (room - 1);
    return at;
  };
  for (let i = 0; i < bits.length; i += 3) table[find(bits[i] ?? 0, bits[i + 1] ?? 0, bits[i + 2] ?? 0)] = i;
  const one = new Float32Array(3);
  const oneBits = new Uint32Array(one.buffer);
  const exact = (corners: Float64Array, count: number) => {
    for (let i = 0; i < 3 * count; i += 3) {
      for (let k = 0; k < 3; k++) one[k] = corners[i + k] ?? 0;
      const from = table[find(oneBits[0] ?? 0, oneBits[1] ?? 0, oneBits[2] ?? 0)] ?? -1;
      if (from < 0) continue;
      for (let k = 0; k < 3; k++) corners[i + k] = points[from + k] ?? 0;
    }
  };
  return { rough, exact };
}
