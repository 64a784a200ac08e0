import { useApp, type ViewName } from '../state/store.ts';
import { CutTools } from './CutTools.tsx';
import './bench.css';

/** The ways the bench is looked at, and the key of each. */
export const VIEWS: readonly { readonly id: ViewName; readonly name: string; readonly key: string }[] = [
  { id: 'bench', name: 'bench', key: '1' },
  { id: 'plan', name: 'above', key: '2' },
  { id: 'front', name: 'behind', key: '3' },
  { id: 'along', name: 'along', key: '4' },
];

/** How much deviations may be enlarged. */
const STEPS = [1, 2, 5, 10, 20, 50] as const;

function Magnify() {
  const magnify = useApp((s) => s.magnify);
  const set = useApp((s) => s.set);
  return (
    <label className="magnify">
      <span>
        deviations <b>×{magnify}</b>
      </span>
      <input
        type="range"
        min={0}
        max={STEPS.length - 1}
        value={STEPS.findIndex((m) => m >= magnify)}
        aria-label="Enlarge deviations"
        aria-valuetext={`times ${magnify}`}
        onChange={(e) => set({ magnify: STEPS[Number(e.target.value)] ?? 1 })}
      />
    </label>
  );
}

/** How much every deviation is enlarged, which way the bench is seen, whether the skin is shown, and what opens it. */
export function BenchTools() {
  const view = useApp((s) => s.view);
  const skin = useApp((s) => s.skin);
  const { set, look } = useApp.getState();
  return (
    <div className="bench-tools">
      <Magnify />
      <fieldset className="pair" aria-label="Look">
        {VIEWS.map((v) => (
          <button
            key={v.id}
            type="button"
            aria-pressed={view === v.id}
            title={`${v.name} (key ${v.key})`}
            data-word={v.name}
            onClick={() => look(v.id)}
          >
            {v.name}
          </button>
        ))}
      </fieldset>
      <button type="button" className="toggle" aria-pressed={skin} onClick={() => set({ skin: !skin })}>
        skin
      </button>
      <CutTools />
    </div>
  );
}
