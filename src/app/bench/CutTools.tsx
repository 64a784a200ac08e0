import { type KeyboardEvent, useEffect, useEffectEvent } from 'react';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { flangePlane, nearestBay, placeInWords } from '../../scene/cutPlace.ts';
import { useApp, useFindings } from '../state/store.ts';
import { endsOf } from '../widgets/alongSpan.ts';
import { worst } from '../widgets/worst.ts';
import './bench.css';

/** The finest step of the plane along the span, mm. */
const STEP = 0.5;

/** Which way a page key goes along the span. */
const WAYS: Readonly<Record<string, 1 | -1>> = { PageUp: 1, PageDown: -1 };

/** The next flange plane that way from where the skeleton is cut; undefined past the last. */
function nextPlane(skeleton: Skeleton, cut: number, way: 1 | -1): number | undefined {
  const here = nearestBay(skeleton, cut);
  if (!here) return undefined;
  const off = flangePlane(skeleton, here) - cut;
  const ahead = Math.abs(off) > STEP && Math.sign(off) === way;
  const next = ahead ? here : skeleton.bays[here.index + way];
  return next && flangePlane(skeleton, next);
}

/** Where along the span the skeleton is cut; page keys go from station to station. */
function CutSlider({ skeleton, cut }: { skeleton: Skeleton; cut: number }) {
  const set = useApp((s) => s.set);
  const [first, last] = endsOf(skeleton.bays);
  const words = placeInWords(skeleton, cut);
  const onKey = (e: KeyboardEvent): void => {
    const way = WAYS[e.key];
    if (!way) return;
    e.preventDefault();
    const next = nextPlane(skeleton, cut, way);
    if (next !== undefined) set({ cut: next });
  };
  return (
    <input
      type="range"
      min={Math.floor(first - 1)}
      max={Math.ceil(last + 1)}
      step={STEP}
      value={cut}
      aria-label="Where the skeleton is cut"
      aria-valuetext={words}
      title={words}
      onChange={(e) => set({ cut: Number(e.target.value) })}
      onKeyDown={onKey}
    />
  );
}

/** How far the parts stand apart. */
function ApartSlider({ apart }: { apart: number }) {
  const set = useApp((s) => s.set);
  const percent = Math.round(apart * 100);
  return (
    <input
      type="range"
      min={0}
      max={100}
      step={5}
      value={percent}
      aria-label="How far the parts stand apart"
      aria-valuetext={`${percent} percent`}
      onChange={(e) => set({ apart: Number(e.target.value) / 100 })}
    />
  );
}

/** A station chosen while the skeleton is open is cut through its flanges. */
function useCutFollows(skeleton: Skeleton, bay: Bay | undefined): void {
  const follow = useEffectEvent(() => {
    const { cut, set } = useApp.getState();
    if (bay && cut !== null) set({ cut: flangePlane(skeleton, bay) });
  });
  const id = bay?.station.id;
  // biome-ignore lint/correctness/useExhaustiveDependencies: it follows the station that is chosen, not the sizes that change there
  useEffect(follow, [id]);
}

/** Cuts the skeleton open on a plane square to the span, and pulls its parts apart; one at a time. */
export function CutTools() {
  const skeleton = skeletonOf(useApp((s) => s.model));
  const station = useApp((s) => s.station);
  const cut = useApp((s) => s.cut);
  const apart = useApp((s) => s.apart);
  const set = useApp((s) => s.set);
  const findings = useFindings();
  const { bays } = skeleton;
  const bay = bays.find((b) => b.station.id === station);
  useCutFollows(skeleton, bay);
  /** Opened at the chosen station, else where the worst is, else in the middle. */
  const open = (): void => {
    const place = worst(findings.filter((f) => f.station !== null))?.station;
    const at = bay ?? bays.find((b) => b.station.id === place) ?? bays[Math.floor(bays.length / 2)];
    set({ cut: at ? flangePlane(skeleton, at) : 0, apart: null });
  };
  return (
    <>
      <span className="tool">
        <button
          type="button"
          className="toggle"
          aria-pressed={cut !== null}
          title="Cut the skeleton open square to the span"
          onClick={() => (cut === null ? open() : set({ cut: null }))}
        >
          cut
        </button>
        <button
          type="button"
          className="toggle"
          aria-pressed={apart !== null}
          title="Pull the parts apart in the order they go together"
          onClick={() => set(apart === null ? { apart: 1, cut: null } : { apart: null })}
        >
          apart
        </button>
      </span>
      <span className="tool slot">
        {cut !== null && <CutSlider skeleton={skeleton} cut={cut} />}
        {apart !== null && <ApartSlider apart={apart} />}
      </span>
    </>
  );
}
