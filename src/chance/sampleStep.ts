/** How a value comes from rows of the matrix. Plain data, for it goes to a worker. */
export type SampleStep =
  | { readonly kind: 'sum'; readonly row: number }
  | { readonly kind: 'relief'; readonly row: number; readonly gap: number }
  | {
      readonly kind: 'hole';
      readonly along: readonly number[];
      readonly up: readonly number[];
      readonly radii: readonly number[];
      readonly final: number;
    }
  | { readonly kind: 'ride'; readonly row: number; readonly half: number; readonly radius: number }
  | { readonly kind: 'seat'; readonly rows: readonly number[]; readonly ys: readonly number[]; readonly at: number };
