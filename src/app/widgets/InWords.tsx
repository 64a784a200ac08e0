import type { StationWords } from '../../scene/inWords.ts';

/** What the picture of the bench shows, for the ear: after the picture, a line a station. */
export function InWords({ lines }: { lines: readonly StationWords[] }) {
  return (
    <ul className="unseen" aria-label="The bench in words">
      {lines.map((l) => (
        <li key={l.station}>{l.words}</li>
      ))}
    </ul>
  );
}
