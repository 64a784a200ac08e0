import { type RefObject, useLayoutEffect, useRef } from 'react';
import type { OrthographicCamera } from 'three';
import type { CutSize } from '../../../scene/cutSizes.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { Eye } from '../onScreen.ts';
import { placed, seen } from './laid.ts';
import type { Box } from './layout.ts';
import { far, HALF_TEXT, LEAST, noteAt, spanAt, spanEnds } from './sizeLines.ts';

/**
 * Lays the sizes of a cut out anew and tells which places on the canvas they take; nothing where they would not be
 * read.
 */
export type LaySizes = (eye: Eye) => readonly Box[];

interface Props {
  readonly sizes: readonly CutSize[];
  readonly light: Light;
  readonly lay: RefObject<LaySizes | null>;
  onChanged(): void;
}

/** Sizes are written where the plane is seen at no flatter than this, the sine of the angle. */
const FLATTEST = 0.45;
/** Room to either side of a number, px; and its width where it cannot be measured. */
const [AROUND, USUAL] = [4, 60];

/** One size on the page: its lines and its number, and how wide that is. */
interface OnPage {
  readonly size: CutSize;
  readonly group: SVGElement;
  readonly wide: number;
}

function onPage(sizes: readonly CutSize[], svg: SVGSVGElement | null): readonly OnPage[] {
  const groups = svg?.querySelectorAll<SVGElement>('g[data-size]') ?? [];
  return sizes.flatMap((size, i): OnPage[] => {
    const group = groups[i];
    const text = group?.querySelector('text')?.getComputedTextLength() ?? USUAL;
    return group ? [{ size, group, wide: text + 2 * AROUND }] : [];
  });
}

/** How squarely the plane of the cut is looked at: 1 along the span, 0 edge on. */
const facing = ({ matrixWorld }: OrthographicCamera): number => Math.abs(matrixWorld.elements[9] ?? 0);

/** Whether the plane is seen squarely enough, and its longest size long enough, for any number to be read. */
function legible(sizes: readonly CutSize[], eye: Eye): boolean {
  const longest = Math.max(0, ...sizes.map((s) => (s.kind === 'span' ? far(...spanEnds(s, eye)) : 0)));
  return facing(eye.camera) > FLATTEST && longest > 3 * LEAST;
}

/** Draws every size where it goes, none over another; what is left out is hidden. */
function layOut(page: readonly OnPage[], eye: Eye): readonly Box[] {
  const read = legible(
    page.map((p) => p.size),
    eye,
  );
  const boxes: Box[] = [];
  for (const { size, group, wide } of page) {
    const at = size.kind === 'span' ? spanAt(size, eye, wide, boxes) : noteAt(size, eye, wide, boxes);
    const drawn = read ? at : undefined;
    seen(group, drawn !== undefined);
    if (!drawn) continue;
    boxes.push(drawn.box);
    group.querySelector('path')?.setAttribute('d', drawn.d);
    placed(group.querySelector('text'), { x: drawn.box.left + AROUND, y: drawn.box.top + HALF_TEXT + 4.5 });
  }
  return boxes;
}

/**
 * The main sizes on a cut, as on a drawing: thin lines from the feature, a measuring line with arrows, the number on
 * it.
 */
export function CutSizes({ sizes, light, lay, onChanged }: Props) {
  const svg = useRef<SVGSVGElement>(null);
  useLayoutEffect(() => {
    const page = onPage(sizes, svg.current);
    lay.current = (eye) => layOut(page, eye);
    onChanged();
    return () => {
      lay.current = null;
    };
  }, [sizes, lay, onChanged]);
  return (
    <svg
      ref={svg}
      width="100%"
      height="100%"
      data-sizes={sizes.length}
      style={{ position: 'absolute', inset: 0, pointerEvents: 'none' }}
      aria-hidden="true"
    >
      {sizes.map((s) => (
        <SizeMark key={s.id} size={s} light={light} />
      ))}
    </svg>
  );
}

function SizeMark({ size, light }: { size: CutSize; light: Light }) {
  const tones = PALETTE[light];
  const note = size.kind === 'note';
  const tone = note ? tones[size.verdict] : tones.ink;
  return (
    <g data-size={size.id} style={{ visibility: 'hidden' }}>
      <path fill="none" stroke={tone} strokeWidth={1} />
      <text
        fill={tone}
        stroke={tones.paper}
        strokeWidth={4}
        paintOrder="stroke"
        strokeLinejoin="round"
        style={{
          font: `${note ? 600 : 500} 13.5px system-ui, sans-serif`,
          fontVariantNumeric: 'tabular-nums',
          fill: tone,
        }}
      >
        {size.text}
      </text>
    </g>
  );
}
