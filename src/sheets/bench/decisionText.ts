import { checkName } from '../../checks/questions.ts';
import type { Decision } from '../../model/schema.ts';

/** One thing decided at the bench, as paper says it. */
export interface DecisionText {
  readonly what: string;
  readonly why: string;
  /** Who must be asked or shown it. */
  readonly ask: readonly string[];
  /** Who was asked: the designer, the inspector; empty while nobody was. */
  readonly asked: string;
  readonly date: string;
  /** Each thing that moved: what it was, what it then was. */
  readonly lines: readonly { readonly what: string; readonly before: string; readonly after: string }[];
}

const KIND: Readonly<Record<Decision['kind'], string>> = {
  taken: '',
  accepted: 'Left as it is: ',
  'left-open': 'Still open: ',
};

/** A decision of the panel's file as paper says it. */
export const decisionText = ({ kind, what, why, ask, asked, date, lines }: Decision): DecisionText => ({
  what: `${KIND[kind]}${what}`,
  why,
  ask,
  asked,
  date,
  lines: lines.map((l) => ({
    what: `${checkName(l.check)}, ${l.place}`,
    before: said(l.before),
    after: said(l.after),
  })),
});

const said = (line: { readonly text: string; readonly verdict: string } | undefined): string =>
  line ? `${line.text}: ${line.verdict}` : 'nothing';
