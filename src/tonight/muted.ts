import type { CheckId, Finding } from '../checks/finding.ts';
import { causesOf } from '../checks/fit/causes.ts';
import type { Draft } from './act.ts';
import type { Scope } from './scope.ts';

/*
 * Causes before what they cause: what hangs on an open cause is not listed beside it; it is said once, behind it, and
 * asked again when the cause is put right.
 */

/** Findings behind their cause: by the finding's id, the key of the act that puts the cause right. */
export type Muted = ReadonlyMap<string, string>;

const CAPS: ReadonlySet<CheckId> = new Set<CheckId>(['cap-gap', 'cap-split', 'skin-step']);
const ROWS: ReadonlySet<CheckId> = new Set<CheckId>(['hole-cleanup', 'edge-distance', 'rows']);

/**
 * What is felt between the caps over a doubler that rides is untrue until it lies home; what binds anyway is no
 * effect of it.
 */
function overRiding({ model }: Scope, f: Finding, acts: readonly Draft[]): string | undefined {
  const riding = acts.find((a) => a.phase === 'cause');
  if (!riding || !CAPS.has(f.check) || f.verdict === 'act') return undefined;
  const over = model.doublers.some((d) => d.part === f.at.part && d.end === f.at.end && riding.parts.includes(d.id));
  return over ? riding.key : undefined;
}

/** A rib that stands clear of the spar because another rib holds the spar off. */
function heldOff({ skeleton, along }: Scope, f: Finding, acts: readonly Draft[]): string | undefined {
  if (f.check !== 'seating') return undefined;
  const parts = new Set(f.restsOn.map((t) => skeleton.book.entryOf(t.size.key)?.of.part));
  parts.delete(f.at.part);
  const behind = acts.filter((a) => a.phase === 'metal' && a.parts.some((p) => parts.has(p)));
  const far = (a: Draft): number => Math.abs(along(a.stations[0]) - along(f.station));
  return [...behind].sort((a, b) => far(a) - far(b) || (a.key < b.key ? -1 : 1))[0]?.key;
}

/** A nose that follows the spar's bow, a tip, or the rib behind it. */
function followed({ model }: Scope, f: Finding, acts: readonly Draft[]): string | undefined {
  if (f.check !== 'nose-line' && f.check !== 'nose-kink') return undefined;
  const first = causesOf(model, f)?.list[0];
  if (first?.kind === 'spar bow') return acts.find((a) => a.phase === 'straighten' && a.parts.includes('front'))?.key;
  if (first?.kind !== 'chord' && first?.kind !== 'main rib') return undefined;
  return acts.find((a) => a.phase === 'metal' && a.stations.includes(first.station ?? ''))?.key;
}

/** A row that moves when its rib is squared. */
function onSquaring(f: Finding, acts: readonly Draft[]): string | undefined {
  if (!ROWS.has(f.check)) return undefined;
  return acts.find((a) => a.phase === 'square' && a.settles.length > 0 && a.stations.includes(f.station ?? ''))?.key;
}

/** The skin's pull follows the noses. */
function pulled(f: Finding, acts: readonly Draft[]): string | undefined {
  return f.check === 'forced-fit' ? acts.find((a) => a.phase === 'nose' || a.phase === 'straighten')?.key : undefined;
}

/** The act that puts a finding's cause right; undefined where it stands for itself. */
export const causeOf = (scope: Scope, f: Finding, acts: readonly Draft[]): string | undefined =>
  overRiding(scope, f, acts) ??
  heldOff(scope, f, acts) ??
  followed(scope, f, acts) ??
  onSquaring(f, acts) ??
  pulled(f, acts);

/** Findings that no act answers itself, behind the acts that answer their causes. */
export function mutedBehind(scope: Scope, acts: readonly Draft[]): Muted {
  const settled = new Set(acts.flatMap((a) => a.settles));
  const muted = new Map<string, string>();
  for (const f of scope.open) {
    const cause = settled.has(f.id) ? undefined : causeOf(scope, f, acts);
    if (cause !== undefined) muted.set(f.id, cause);
  }
  return muted;
}
