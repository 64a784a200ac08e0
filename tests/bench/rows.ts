/**
 * One line of the table: a figure, and the same as a ratio to a yardstick measured in the same run. Milliseconds belong to
 * one machine on one day; ratios travel.
 */
export interface Row {
  readonly what: string;
  readonly figure: number;
  readonly unit: string;
  /** figure ÷ yardstick, and the yardstick's name; absent where there is none to set it against. */
  readonly ratio?: number | undefined;
  readonly against?: string;
  /** What a change of the ratio is called: a longer time is slower, a greater size larger, a smaller speed-up slower. */
  readonly sense: Sense;
  /** The aim, or what else is worth saying. */
  readonly note?: string;
}

export type Sense = 'time' | 'size' | 'amount' | 'speed';

/** A row that only says something: a compiler that is missing, a part that failed. */
export interface Said {
  readonly what: string;
  readonly said: string;
}

export interface Part {
  readonly name: string;
  readonly rows: readonly (Row | Said)[];
}

export const isRow = (r: Row | Said): r is Row => 'figure' in r;

/** What a row is recorded under. */
export const keyOf = (part: string, row: { readonly what: string }): string => `${part}: ${row.what}`;

/** A figure in four places or so, never more digits than it is worth. */
export function plainly(v: number): string {
  const size = Math.abs(v);
  if (v === 0) return '0';
  if (size >= 100) return v.toFixed(0);
  if (size >= 10) return v.toFixed(1);
  if (size >= 1) return v.toFixed(2);
  return size >= 0.01 ? v.toFixed(3) : v.toExponential(1);
}

/** The whole table as lines of text; `marks` are what is said of a row beside the record. */
export function tableText(parts: readonly Part[], marks: ReadonlyMap<string, string>): string[] {
  const cells = parts.flatMap(({ name, rows }) =>
    rows.filter(isRow).map((r) => cellsOf(r, marks.get(keyOf(name, r)) ?? '')),
  );
  const head = ['', 'figure', 'unit', 'ratio', 'against', 'since recorded'];
  const widths = head.map((h, i) => Math.max(h.length, ...cells.map((c) => c[i]!.length)));
  const right = [false, true, false, true, false, false];
  const line = (c: readonly string[]): string =>
    c
      .map((text, i) => (right[i] ? text.padStart(widths[i] ?? 0) : text.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd();
  const out = [line(head)];
  for (const { name, rows } of parts) {
    out.push('', name);
    for (const r of rows)
      out.push(isRow(r) ? line(cellsOf(r, marks.get(keyOf(name, r)) ?? '')) : `  ${r.what}: ${r.said}`);
  }
  return out;
}

function cellsOf({ what, figure, unit, ratio, against, note }: Row, mark: string): string[] {
  return [
    `  ${what}`,
    plainly(figure),
    unit,
    ratio === undefined ? '' : plainly(ratio),
    against ?? '',
    mark,
    note ?? '',
  ];
}
