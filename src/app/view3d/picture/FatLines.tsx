import { useEffect, useMemo } from 'react';
import type { Plane } from 'three';
import { LineMaterial } from 'three/addons/lines/LineMaterial.js';
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js';
import type { Vec3 } from '../../../geometry/vector.ts';

interface Props {
  /** Six numbers a segment. */
  readonly segments: Float32Array;
  readonly color: string;
  /** Six numbers a segment, linear; in place of `color`. */
  readonly colors?: Float32Array;
  /** CSS pixels. */
  readonly width: number;
  readonly dash?: number;
  readonly opacity?: number;
  /** Seen through whatever is before it. */
  readonly through?: boolean;
  readonly order?: number;
  readonly clip?: Plane[];
}

const NONE: Plane[] = [];

/** Lines that keep their width on the screen. */
export function FatLines({
  segments,
  color,
  colors,
  width,
  dash,
  opacity = 1,
  through = false,
  order = 3,
  clip = NONE,
}: Props) {
  const lines = useMemo(() => {
    const geometry = new LineSegmentsGeometry();
    geometry.setPositions(segments);
    if (colors) geometry.setColors(colors);
    const material = new LineMaterial({
      color: colors ? 0xffffff : color,
      vertexColors: colors !== undefined,
      linewidth: width,
      transparent: opacity < 1,
      opacity,
      depthTest: !through,
      depthWrite: false,
      clippingPlanes: clip,
    });
    if (dash !== undefined) Object.assign(material, { dashed: true, dashSize: dash, gapSize: dash * 0.7 });
    const made = new LineSegments2(geometry, material);
    if (dash !== undefined) made.computeLineDistances();
    made.renderOrder = order;
    return made;
  }, [segments, color, colors, width, dash, opacity, through, order, clip]);
  useEffect(
    () => () => {
      lines.geometry.dispose();
      lines.material.dispose();
    },
    [lines],
  );
  return segments.length > 0 ? <primitive object={lines} /> : null;
}

/** A line through points as segments. */
export function segmentsOf(lines: readonly (readonly Vec3[])[]): Float32Array {
  const out: number[] = [];
  for (const points of lines) {
    let before: Vec3 | undefined;
    for (const point of points) {
      if (before) out.push(...before, ...point);
      before = point;
    }
  }
  return Float32Array.from(out);
}
