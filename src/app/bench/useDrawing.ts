import { useCallback, useEffect, useState } from 'react';
import { useMoreToCome } from '../state/atRest.ts';

/** How far the metal is cut; `problem` says why it is not drawn in 3D. */
interface Status {
  readonly building: boolean;
  readonly done: number;
  readonly total: number;
  readonly problem?: string;
}

const WAITING: Status = { building: true, done: 0, total: 0 };

const MISSING = 'This browser cannot draw in 3D; the plan and the section do the same job.';
const STILL_NOT =
  'The browser still does not draw in 3D; the plan and the section do the same job. Closing other tabs may help.';
const FAILED = 'The 3D drawing stopped; the plan and the section do the same job, and nothing is lost.';

function canDraw3d(): boolean {
  try {
    const drawing = document.createElement('canvas').getContext('webgl2');
    drawing?.getExtension('WEBGL_lose_context')?.loseContext(); // only asked, not drawn with
    return drawing !== null;
  } catch {
    return false;
  }
}

/** True once the first screen has been painted: the bench and its solids load after it. */
function usePainted(): boolean {
  const [painted, setPainted] = useState(false);
  useEffect(() => {
    const frame = requestAnimationFrame(() => setTimeout(() => setPainted(true), 0));
    return () => cancelAnimationFrame(frame);
  }, []);
  return painted;
}

export interface Drawing {
  /** In 3D, in the plan that stands for it, or in the plan until 3D is there. */
  readonly as: '3D' | 'plan' | 'plan until then';
  readonly status: Status;
  /** Why the plan stands for it. */
  readonly why: string;
  /** Whether asking for 3D again may help. */
  readonly canAsk: boolean;
  onStatus(s: Status): void;
  onFailed(): void;
  again(): void;
}

/** How the bench is drawn now. Once something is amiss in 3D it stays said, until 3D is asked for again. */
export function useDrawing(): Drawing {
  const [able, setAble] = useState(canDraw3d);
  const [status, setStatus] = useState<Status>(WAITING);
  const painted = usePainted();
  useMoreToCome(able && !painted);
  const onStatus = useCallback((s: Status) => setStatus((now) => (now.problem === undefined ? s : now)), []);
  const onFailed = useCallback(() => onStatus({ ...WAITING, building: false, problem: FAILED }), [onStatus]);
  const again = useCallback(() => {
    const can = canDraw3d();
    setAble(can);
    setStatus(can ? WAITING : { ...WAITING, building: false, problem: STILL_NOT });
  }, []);
  const flat = !able || status.problem !== undefined;
  const in3d = painted ? '3D' : 'plan until then';
  return {
    as: flat ? 'plan' : in3d,
    status,
    why: status.problem ?? MISSING,
    canAsk: status.problem !== undefined,
    onStatus,
    onFailed,
    again,
  };
}
