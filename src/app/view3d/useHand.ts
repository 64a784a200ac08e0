import { type PointerEvent, useRef, useState } from 'react';
import type { Spot } from './onScreen.ts';
import type { Hit } from './pick.ts';

/** A hand that slips by fewer pixels than this has tapped. */
const SLIP = 5;
/** Two taps are one double tap within so many milliseconds and pixels. */
const TWICE = { within: 450, apart: 24 };

interface Tap {
  readonly at: Spot;
  readonly time: number;
}

/** Where words about what is under the pointer stand, px from the corner of the bench. */
export interface Hint {
  readonly at: Spot;
  readonly text: string;
}

interface Asked {
  /** What lies under a spot of the window. */
  readonly hitAt: (spot: Spot) => Hit | undefined;
  readonly inWords: (hit: Hit) => string;
  readonly onTap: (hit: Hit | undefined) => void;
  readonly onTwice: (hit: Hit | undefined) => void;
}

const spotOf = (e: PointerEvent): Spot => [e.clientX, e.clientY];
const apart = (a: Spot, b: Spot): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Tells a tap from a drag, and the second of two taps from the first. */
function useTaps({ hitAt, onTap, onTwice }: Asked) {
  const down = useRef<Spot | null>(null);
  const last = useRef<Tap | null>(null);
  return {
    onPointerDown: (e: PointerEvent): void => {
      down.current = spotOf(e);
    },
    onPointerUp: (e: PointerEvent): void => {
      const start = down.current;
      down.current = null;
      const at = spotOf(e);
      if (!start || e.button !== 0 || apart(at, start) > SLIP) return;
      const before = last.current;
      const twice = before !== null && e.timeStamp - before.time < TWICE.within && apart(at, before.at) < TWICE.apart;
      last.current = twice ? null : { at, time: e.timeStamp };
      (twice ? onTwice : onTap)(hitAt(at));
    },
  };
}

/** What the pointer is over, looked for once a frame. */
function useHover({ hitAt, inWords }: Asked) {
  const [hovered, setHovered] = useState<string | null>(null);
  const [hint, setHint] = useState<Hint | null>(null);
  const frame = useRef(0);
  const look = (at: Spot, box: DOMRect): void => {
    const hit = hitAt(at);
    setHovered(hit?.part?.id ?? hit?.gap?.part ?? null);
    const text = hit ? inWords(hit) : '';
    setHint(text === '' ? null : { at: [at[0] - box.left, at[1] - box.top], text });
  };
  return {
    hovered,
    hint,
    hush: (): void => setHint(null),
    leave: (): void => {
      cancelAnimationFrame(frame.current);
      setHovered(null);
      setHint(null);
    },
    move: (e: PointerEvent): void => {
      if (e.buttons !== 0 || e.pointerType === 'touch') return;
      cancelAnimationFrame(frame.current);
      const [at, box] = [spotOf(e), e.currentTarget.getBoundingClientRect()];
      frame.current = requestAnimationFrame(() => look(at, box));
    },
  };
}

/** A hand or a pointer on the bench: what it is over, and what it taps. */
export function useHand(asked: Asked) {
  const { hovered, hint, hush, leave, move } = useHover(asked);
  const taps = useTaps({
    ...asked,
    onTwice: (hit) => {
      leave();
      asked.onTwice(hit);
    },
  });
  return {
    hovered,
    hint,
    handlers: {
      onPointerDown: (e: PointerEvent): void => {
        taps.onPointerDown(e);
        hush();
      },
      onPointerUp: taps.onPointerUp,
      onPointerMove: move,
      onPointerLeave: leave,
    },
  };
}
