import { type BasisWord, basisMarked, basisOfEdges, basisOfHole } from '../checks/basis.ts';
import { show } from '../checks/describe.ts';
import { drillText } from '../checks/holes/nextSize.ts';
import { type Bag, bagList } from '../checks/holes/rivets.ts';
import { CAUTION, type FindingRecord, findingRecord } from '../checks/report.ts';
import { asDecided } from '../model/edits/work.ts';
import type { Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { askHoles } from './drill.ts';
import type { Gate, GateAnswer, GateItem } from './gate.ts';
import { gatesOf } from './gates.ts';
import type { HoleAnswer, HoleState } from './hole.ts';

/** Holes in drilling order, a row each, as plain data: what the terminal prints and the paper shows. */
export interface LedgerRow {
  readonly hole: string;
  readonly station: string;
  readonly layers: string;
  readonly now: string;
  readonly final: string;
  readonly offset: number | null;
  readonly margin: number | null;
  readonly state: HoleState;
  readonly how: string;
  readonly why: string;
  /** Each layer's hole in words: "front opened early #30 (0.1285 in)". */
  readonly each: readonly string[];
  /** Least edge distance over the layers where the drill goes, in D, at final and at next size. */
  readonly edge: number | null;
  readonly edgeNext: number | null;
  /** Least room between the rivet's head and a bend, mm. */
  readonly bend: number | null;
  /** Chance that every layer cleans up at final size, on the best axis. */
  readonly chance: number | null;
  /** What its row's gate says of the next bit. */
  readonly gate: GateAnswer;
  /** What offset, margin and chance rest on, and what the room to its edges does. */
  readonly basis: BasisWord;
  readonly edgeBasis: BasisWord;
}

const least = (values: readonly (number | undefined)[]): number | null => {
  const known = values.filter((v): v is number => v !== undefined);
  return known.length > 0 ? Math.min(...known) : null;
};

/** A hole's answer as a row of the ledger. */
export function ledgerRow(skeleton: Skeleton, a: HoleAnswer): LedgerRow {
  const sizes = [...new Set(a.circles.map((c) => c.diameter))].sort((p, q) => p - q);
  return {
    hole: `${a.joint.id} ${a.hole.id}`,
    station: a.joint.station,
    layers: a.joint.layers.join(' / '),
    now: sizes.length > 0 ? sizes.map(drillText).join(', ') : 'none',
    final: drillText(a.joint.final),
    offset: a.need ? Math.hypot(a.need.widest.along.best, a.need.widest.up.best) : null,
    margin: a.bestMargin ?? null,
    state: a.state,
    how: a.how,
    why: a.why,
    each: a.layers.map(
      (l) =>
        `${l.part} ${l.state}${l.size > 0 ? ` ${drillText(l.size)}` : ''}${l.through === 'apart' ? ', drilled apart' : ''}`,
    ),
    edge: least(a.edges.map((e) => e.final)),
    edgeNext: least(a.edges.map((e) => e.next)),
    bend: least(a.edges.map((e) => e.bend)),
    chance: a.bestChance ?? null,
    gate: a.gate,
    basis: basisOfHole(skeleton, a.joint.id, a.hole.id),
    edgeBasis: basisOfEdges(skeleton, a.joint.id),
  };
}

/** The hole ledger of a panel at a stage. */
export function ledgerOf(model: Model, stage?: string): LedgerRow[] {
  const skeleton = skeletonOf(model);
  return askHoles(skeleton, { stage }).map((a) => ledgerRow(skeleton, a));
}

function holeText(model: Model, r: LedgerRow): string {
  const margin = r.margin === null ? '' : `margin ${show(model, r.margin).padStart(8)}`;
  return `${r.state.toUpperCase().padEnd(9)} ${r.hole.padEnd(9)} ${r.layers.padEnd(24)} ${margin}  ${r.why} (${basisMarked(r.basis)})`;
}

function gateText(g: Gate): string[] {
  const rows = g.id === 'skin' ? '' : `, ${g.rows.yes} of ${g.rows.of} rows`;
  const open = g.items.filter((i) => i.answer !== 'yes');
  return [
    `${g.question} ${g.answer}${rows}`,
    ...open.map((i) => `  ${i.says} (${basisMarked(i.basis)}). ${i.first}${i.note ? ` ${i.note}` : ''}`),
  ];
}

function bagText(model: Model, b: Bag): string {
  const was = b.was ? `; ${b.was}` : '';
  const count = String(b.count).padStart(3);
  return `${b.changed ? '*' : ' '} ${b.joint.id.padEnd(5)} ${count} of ${b.take}; grip ${show(model, b.grip)}${was}`;
}

/** The ledger, the gates and the rivet bags as text for the terminal. */
export function ledgerText(model: Model, stage?: string): string {
  const rows = ledgerOf(model, stage);
  const named = model.stages.find((s) => s.id === (stage ?? model.now));
  const at = named ? `, stage “${named.name}”` : '';
  return [
    `${model.name}, revision ${model.revision}${at}: ${rows.length} holes`,
    '',
    ...rows.map((r) => holeText(model, r)),
    '',
    ...gatesOf(model, stage).flatMap(gateText),
    '',
    'Rivet bags (* changed by what was added):',
    ...bagList(skeletonOf(asDecided(model))).map((b) => bagText(model, b)),
    '',
    CAUTION,
  ].join('\n');
}

/** A gate as plain data: its items with their findings as `check` gives them. */
export interface GateRecord extends Omit<Gate, 'items'> {
  readonly items: readonly (Omit<GateItem, 'finding'> & { readonly finding?: FindingRecord })[];
}

/** The three gates of a panel at a stage as plain data. */
export function gateRecords(model: Model, stage?: string): GateRecord[] {
  const skeleton = skeletonOf(model);
  return gatesOf(model, stage).map((gate) => ({
    ...gate,
    items: gate.items.map(({ finding, ...rest }) => ({
      ...rest,
      ...(finding ? { finding: findingRecord(skeleton, finding) } : {}),
    })),
  }));
}
