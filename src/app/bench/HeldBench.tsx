import { useRibHold } from '../build/useRibHold.ts';
import { Bench, type BenchProps } from '../view3d/Bench.tsx';

/**
 * The bench, with the chosen station's rib in hand while one builds. Loaded after the first screen, with all that
 * asks what a move would do.
 */
export function HeldBench(props: Omit<BenchProps, 'ribHold'>) {
  return <Bench {...props} ribHold={useRibHold()} />;
}
