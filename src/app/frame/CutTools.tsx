import { type KeyboardEvent, useEffect } from 'react';
import { severity } from '../../checks/finding.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { flangePlane, nearestBay, placeInWords } from '../../scene/cutPlace.ts';
import { useApp, useFindings } from '../state/store.ts';

/** The finest step of the plane along the span, mm. */
const STEP = 0.5;

/** Cuts the skeleton open on a plane square to the span, and pulls its parts apart; one at a time. */
export function CutTools() {
  const model = useApp((s) => s.model);
  const station = useApp((s) => s.station);
  const cut = useApp((s) => s.cut);
  const apart = useApp((s) => s.apart);
  const findings = useFindings();
  const { set } = useApp.getState();
  const skeleton = skeletonOf(model);
  const { bays } = skeleton;
  const [first, last] = [bays[0], bays[bays.length - 1]];
  const [low, high] = [Math.floor((first?.station.y ?? 0) - 1), Math.ceil((last?.station.y ?? 0) + 1)];
  const bay = bays.find((b) => b.station.id === station);

  // A station chosen while the skeleton is open is cut through its flanges.
  useEffect(() => {
    if (bay && useApp.getState().cut !== null) set({ cut: flangePlane(skeleton, bay) });
  }, [bay?.station.id, set]);

  const open = (): void => {
    const worst = findings.reduce(
      (a, f) => (f.station !== null && (!a || severity(f.verdict) > severity(a.verdict)) ? f : a),
      undefined as (typeof findings)[number] | undefined,
    );
    const at = bay ?? bays.find((b) => b.station.id === worst?.station) ?? bays[Math.floor(bays.length / 2)];
    set({ cut: at ? flangePlane(skeleton, at) : 0, apart: null });
  };
  /** Page keys go from station to station. */
  const onKey = (e: KeyboardEvent): void => {
    const way = e.key === 'PageUp' ? 1 : e.key === 'PageDown' ? -1 : 0;
    const here = cut === null ? undefined : nearestBay(skeleton, cut);
    if (way === 0 || !here || cut === null) return;
    e.preventDefault();
    const off = flangePlane(skeleton, here) - cut;
    const next = Math.abs(off) > STEP && Math.sign(off) === way ? here : bays[here.index + way];
    if (next) set({ cut: flangePlane(skeleton, next) });
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
        {cut !== null && (
          <input
            type="range"
            min={low}
            max={high}
            step={STEP}
            value={cut}
            aria-label="Where the skeleton is cut"
            aria-valuetext={placeInWords(skeleton, cut)}
            title={placeInWords(skeleton, cut)}
            onChange={(e) => set({ cut: Number(e.target.value) })}
            onKeyDown={onKey}
          />
        )}
        {apart !== null && (
          <input
            type="range"
            min={0}
            max={100}
            step={5}
            value={Math.round(apart * 100)}
            aria-label="How far the parts stand apart"
            aria-valuetext={`${Math.round(apart * 100)} percent`}
            onChange={(e) => set({ apart: Number(e.target.value) / 100 })}
          />
        )}
      </span>
    </>
  );
}
