import { notedOn, noteText } from '../../checks/accepting.ts';
import type { Finding } from '../../checks/finding.ts';
import { useApp } from '../state/store.ts';
import './findings.css';

/** The note on a finding that was accepted or left open, in one line. */
export function NoteLine({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const noted = notedOn(model, finding);
  return noted ? <p className="note-line">{noteText(noted)}</p> : null;
}
