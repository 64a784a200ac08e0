import type { Answer } from '../answer.ts';
import { FitStation } from '../station/FitStation.tsx';
import type { ListedAct } from '../workers/listed.ts';
import { ActLine } from './ActLine.tsx';
import { useHours, useTonight } from './useTonight.ts';
import './tonight.css';

/** Lines open before the rest is folded. */
const OPEN = 5;

/** How long an evening may be, hours. */
const EVENINGS = [1, 1.5, 2, 2.5, 3, 4] as const;

function HowLong() {
  const hours = useHours((s) => s.hours);
  return (
    <label className="tonight-hours">
      I have{' '}
      <select
        value={hours ?? ''}
        onChange={(e) => useHours.setState({ hours: e.target.value === '' ? undefined : Number(e.target.value) })}
      >
        <option value="">as long as it takes</option>
        {EVENINGS.map((h) => (
          <option key={h} value={h}>
            {h} {h === 1 ? 'hour' : 'hours'}
          </option>
        ))}
      </select>
    </label>
  );
}

/** Acts behind one line that counts them. */
function Folded({ acts, summary }: { acts: readonly ListedAct[]; summary: string }) {
  if (acts.length === 0) return null;
  return (
    <details className="tonight-more">
      <summary>{summary}</summary>
      <ol className="acts">
        {acts.map((a) => (
          <ActLine key={a.key} act={a} />
        ))}
      </ol>
    </details>
  );
}

/** What is to be done tonight in one sentence, and why nothing may be drilled. */
function TonightHead() {
  const { list, failed } = useTonight();
  if (failed) return <h1 role="alert">{failed}</h1>;
  if (!list) return <h1>Putting the evening in order…</h1>;
  return (
    <>
      <h1>{list.sentence}</h1>
      {!list.drill.yes && <p className="lead">{list.drill.why}</p>}
    </>
  );
}

/** The acts in order, about five open; what no longer fits into the evening after them. */
function TonightList() {
  const { list, fresh } = useTonight();
  if (!list) return null;
  const { acts, later } = list;
  const rest = acts.slice(OPEN);
  return (
    <section className="tonight" aria-label="What to do, in order" aria-busy={!fresh}>
      <HowLong />
      <ol className="acts" aria-label="First">
        {acts.slice(0, OPEN).map((a) => (
          <ActLine key={a.key} act={a} first={a.n === 1} />
        ))}
      </ol>
      <Folded acts={rest} summary={`${rest.length} more`} />
      <Folded acts={later} summary={`Then, another evening: ${later.length}`} />
      {list.unasked.length > 0 && (
        <details className="tonight-more">
          <summary>{list.unasked.length === 1 ? 'One size' : `${list.unasked.length} sizes`} nobody asks about</summary>
          <ul className="small">
            {list.unasked.map((u) => (
              <li key={u}>{u}</li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** The acts at one station. */
function TonightStation({ station }: { station: string }) {
  const { list } = useTonight();
  const here = (list?.acts ?? []).filter((a) => a.stations.includes(station));
  if (here.length === 0) return null;
  return (
    <ol className="acts" aria-label={`To do at ${station}, in order`}>
      {here.map((a) => (
        <ActLine key={a.key} act={a} first={a.n === 1} />
      ))}
    </ol>
  );
}

/** What first, tonight? One ordered list over everything; each line is done from the line. */
export const TONIGHT: Answer = {
  headline: () => '',
  Head: TonightHead,
  Whole: TonightList,
  Station: ({ bay }) => (
    <>
      <TonightStation station={bay.station.id} />
      <FitStation bay={bay} />
    </>
  ),
};
