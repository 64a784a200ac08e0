import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useRef } from 'react';
import { lessMotion } from '../lessMotion.ts';
import type { Share } from './hatch.ts';

/** How long parts take to come apart, ms. */
const PULL = 180;

/** Moves the parts to where they are wanted: at once where the person asked for less motion. */
export function Pulling({ share, wanted }: { share: Share; wanted: number }) {
  const invalidate = useThree((s) => s.invalidate);
  const way = useRef<{ from: number; start: number } | null>(null);
  useEffect(() => {
    way.current = lessMotion() ? null : { from: share.value, start: performance.now() };
    if (!way.current) share.value = wanted;
    invalidate();
  }, [share, wanted, invalidate]);
  useFrame(() => {
    if (!way.current) return;
    const t = Math.min((performance.now() - way.current.start) / PULL, 1);
    share.value = way.current.from + (wanted - way.current.from) * t * t * (3 - 2 * t);
    if (t < 1) invalidate();
    else way.current = null;
  });
  return null;
}
