import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import { onPaper } from '../../drilling/onPaper.ts';
import { mirrorPanel } from '../../model/edits/mirror.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import { faultText } from '../../model/file/parse.ts';
import type { Model } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { walkingOrder } from '../../model/walk.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { capital } from '../../units/capital.ts';
import { formatLength } from '../../units.ts';
import type { Answer } from '../answer.ts';
import { useApp } from '../state/store.ts';
import { Groups } from '../station/Findings.tsx';
import { StationSizes } from '../station/SizeList.tsx';
import { Settings } from '../widgets/Settings.tsx';
import { useDesk } from './desk.ts';
import { FieldHelp } from './FieldHelp.tsx';
import { SHEET_NAMES } from './sheetNames.ts';

/** The sheets that say what the panel is, and a way to a new one. */
function Sheets() {
  const sheet = useDesk((s) => s.sheet);
  const { open } = useDesk.getState();
  const list = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    // A sheet that is put away gives the focus back to what takes it out, which was not on the page meanwhile.
    const { putBack } = useDesk.getState();
    if (document.activeElement === document.body)
      list.current?.querySelector<HTMLElement>(`[data-takes-out="${putBack}"]`)?.focus({ preventScroll: true });
  }, []);
  return (
    <div ref={list} className="build-list">
      <ul className="build-sheets">
        {SHEET_NAMES.map((s) => (
          <li key={s.id}>
            <button
              type="button"
              data-takes-out={s.id}
              aria-pressed={sheet === s.id}
              onClick={() => open(sheet === s.id ? null : s.id)}
            >
              <b>{capital(s.name)}</b> <span className="small">{s.says}</span>
            </button>
          </li>
        ))}
      </ul>
      <p className="starts">
        <button type="button" className="take" data-takes-out="start" onClick={() => open('start')}>
          Start a new panel
        </button>
        <OtherHand />
      </p>
    </div>
  );
}

/** Turns the panel into the one for the other side; undo turns it back. What cannot be turned is said. */
function OtherHand() {
  const model = useApp((s) => s.model);
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  if (model.hand === 'both') return null;
  return (
    <>
      <button type="button" className="quiet" onClick={() => setFaults(useApp.getState().edit(mirrorPanel(model)))}>
        Mirror it to the {model.hand === 'right' ? 'left' : 'right'} hand
      </button>
      {faults.length > 0 && (
        <output className="refused" role="alert">
          {faults.slice(0, 3).map(faultText).join(' ')}
        </output>
      )}
    </>
  );
}

/** What the drawing says of itself, before anything is measured, and the way to the first own finding. */
function OnPaper() {
  const model = useApp((s) => s.model);
  const read = useApp((s) => s.read);
  const off = useMemo(() => onPaper(model).filter((f) => f.verdict !== 'fits'), [model]);
  const [amiss, close] = [off.filter((f) => f.verdict !== 'watch'), off.filter((f) => f.verdict === 'watch')];
  const first = walkingOrder(model).find(
    (e) => e.nominal !== undefined && sizeBook(model).readingsOf(e.key).length === 0,
  );
  return (
    <section className="on-paper">
      <h2>On paper</h2>
      {off.length === 0 && <p>By the drawing alone everything fits. What was made is another matter: measure it.</p>}
      {amiss.length > 0 && (
        <>
          <p>By the drawing alone this does not fit. Look for a slip in the typing first, then ask the designer.</p>
          <Groups findings={amiss} />
        </>
      )}
      {close.length > 0 && (
        <>
          <p>By the drawing alone this fits but is close: it leaves little for what was made to be off.</p>
          <Groups findings={close} />
        </>
      )}
      {model.readings.length === 0 && first && (
        <p className="starts">
          <button type="button" className="take" onClick={() => read(first.key)}>
            Measure the first size: {first.name}
          </button>
        </p>
      )}
    </section>
  );
}

function Whole() {
  const cell = useDesk((s) => s.cell);
  const sheet = useDesk((s) => s.sheet);
  if (cell) return <FieldHelp />;
  return sheet === null ? (
    <>
      <Sheets />
      <OnPaper />
      <Settings />
    </>
  ) : (
    <>
      <p className="small">Choose a cell in the table: what it is, and where a drawing has it, is said here.</p>
      <OnPaper />
    </>
  );
}

/** The field in hand, with the station's other sizes below. */
function StationBuild({ bay }: { bay: Bay }) {
  const cell = useDesk((s) => s.cell);
  const sheet = useDesk((s) => s.sheet);
  const { open } = useDesk.getState();
  return (
    <>
      <FieldHelp />
      {!cell && sheet === null && (
        <p className="starts">
          <button type="button" className="quiet" onClick={() => open('stations')}>
            All stations as a table
          </button>
          <button type="button" className="quiet" onClick={() => open('ribs')}>
            All ribs as a table
          </button>
        </p>
      )}
      {cell ? (
        <details>
          <summary>All drawing sizes at {bay.station.id}</summary>
          <StationSizes bay={bay} as="drawing" />
        </details>
      ) : (
        <StationSizes bay={bay} as="drawing" />
      )}
    </>
  );
}

/** From the first station to the last, mm. */
const spanOf = ({ stations }: Model): number => (stations.at(-1)?.y ?? 0) - (stations[0]?.y ?? 0);

/** What am I building? The drawing's sizes as sheets and in place, and whether they fit on paper. */
export const BUILD: Answer = {
  headline: (model) =>
    `${model.name}: ${model.stations.length} stations, ${formatLength(spanOf(model), model.units)} between the ends.`,
  lead: (model) => model.note ?? 'Choose a station to see and change its drawing sizes.',
  Whole: () => <Whole />,
  Station: ({ bay }: { bay: Bay }) => <StationBuild bay={bay} />,
};
