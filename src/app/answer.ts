import type { ComponentType } from 'react';
import type { Finding } from '../checks/finding.ts';
import type { Model } from '../model/schema.ts';
import type { Bay } from '../parts/layout/layout.ts';

/** How the card answers one question: the whole panel's answer, a station's, and what it adds to a finding. */
export interface Answer {
  /** One sentence in large type, from what was asked and all findings; `ahead` is the stage looked ahead to. */
  readonly headline: (model: Model, asked: readonly Finding[], all: readonly Finding[], ahead: string | null) => string;
  /** The first thing to do; absent: the worst finding's. */
  readonly lead?: (model: Model) => string | null;
  /** In place of the one sentence and the first thing to do, where they take longer to find than to draw. */
  readonly Head?: ComponentType<{ headline: string }>;
  readonly Whole: ComponentType<{ asked: readonly Finding[] }>;
  readonly Station: ComponentType<{ bay: Bay }>;
  readonly Finding?: ComponentType<{ finding: Finding }>;
}
