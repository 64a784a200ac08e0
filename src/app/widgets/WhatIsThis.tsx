import './whatIsThis.css';

interface Props {
  /** What is asked; "What is this?" unless told. */
  readonly ask?: string;
  readonly says: string;
}

/** A quiet line that a newcomer opens: what lies before them, in two or three sentences. */
export function WhatIsThis({ ask = 'What is this?', says }: Props) {
  return (
    <details className="what-is-this">
      <summary>{ask}</summary>
      <p>{says}</p>
    </details>
  );
}
