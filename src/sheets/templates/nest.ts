/*
 * Rectangles laid on the sheet on hand: a guillotine packing, best of a handful of orders and ways to split.
 *
 * Every cut goes right across what is left, as on a shear. Lengths mm; a blank's width runs along the grain. It is a
 * good packing, not the best there is: `least` says how many blanks no packing can do without.
 */

export interface NestPiece {
  readonly id: string;
  /** Along the grain, and across it. */
  readonly along: number;
  readonly across: number;
  /** May lie either way. */
  readonly turns: boolean;
}

export interface NestBlank {
  readonly width: number;
  readonly height: number;
  readonly count: number;
}

export interface PlacedPiece<P extends NestPiece = NestPiece> {
  readonly piece: P;
  readonly x: number;
  readonly y: number;
  /** As it lies: along and across the grain. */
  readonly width: number;
  readonly height: number;
  readonly turned: boolean;
}

export interface UsedBlank<P extends NestPiece = NestPiece> {
  readonly blank: NestBlank;
  readonly placed: readonly PlacedPiece<P>[];
}

export interface Nesting<P extends NestPiece = NestPiece> {
  readonly used: readonly UsedBlank<P>[];
  /** What found no place. */
  readonly left: readonly P[];
  /** No fewer blanks hold the placed pieces, by their area alone. */
  readonly least: number;
}

interface Free {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}
interface Open<P extends NestPiece> {
  readonly blank: NestBlank;
  free: Free[];
  placed: PlacedPiece<P>[];
}
type Order = (a: NestPiece, b: NestPiece) => number;
type Split = 'shorter' | 'longer';
/**
 * Which free place a piece takes: the least left on the tighter side, on the wider side, or those lying one way
 * first.
 */
type Fit = 'tight' | 'wide' | 'straight' | 'turned';
/** How well a place fits, from what it leaves over along and across: less is better. */
type Rank = (dx: number, dy: number, turned: boolean) => { readonly first: number; readonly second: number };
const RANKS: Readonly<Record<Fit, Rank>> = {
  tight: (dx, dy) => ({ first: Math.min(dx, dy), second: Math.max(dx, dy) }),
  wide: (dx, dy) => ({ first: Math.max(dx, dy), second: Math.min(dx, dy) }),
  straight: (dx, dy, turned) => ({ first: turned ? 1 : 0, second: Math.min(dx, dy) }),
  turned: (dx, dy, turned) => ({ first: turned ? 0 : 1, second: Math.min(dx, dy) }),
};

interface Manner {
  readonly order: Order;
  readonly split: Split;
  readonly fit: Fit;
  readonly gap: number;
  readonly smallFirst: boolean;
}

const long = (p: NestPiece): number => Math.max(p.along, p.across);
const area = (p: NestPiece): number => p.along * p.across;
const ORDERS: readonly Order[] = [
  (a, b) => area(b) - area(a),
  (a, b) => long(b) - long(a),
  (a, b) => b.across - a.across || b.along - a.along,
  (a, b) => b.along - a.along || b.across - a.across,
];

/** Lays pieces on blanks with `gap` between neighbours; the gap is not needed at a blank's edge. */
export function nested<P extends NestPiece>(pieces: readonly P[], blanks: readonly NestBlank[], gap = 0): Nesting<P> {
  const manners = ORDERS.flatMap((order) =>
    (['shorter', 'longer'] as const).flatMap((split) =>
      (['tight', 'wide', 'straight', 'turned'] as const).flatMap((fit) =>
        [true, false].map((smallFirst): Manner => ({ order, split, fit, gap, smallFirst })),
      ),
    ),
  );
  const tries = manners.map((manner) => packedBy(pieces, blanks, manner));
  const best = tries.reduce((a, b) => (better(b, a) ? b : a), tries[0] ?? { used: [], left: [...pieces] });
  return {
    ...best,
    least: leastBlanks(
      best.used.flatMap((u) => u.placed.map((p) => p.piece)),
      blanks,
    ),
  };
}

type Packing<P extends NestPiece = NestPiece> = Omit<Nesting<P>, 'least'>;

const total = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);
const sheetUsed = (p: Packing): number => total(p.used.map((u) => u.blank.width * u.blank.height));

/** Less left out, then less sheet begun, then the larger offcut in one piece kept at the end of the last blank. */
function better(a: Packing, b: Packing): boolean {
  const [la, lb] = [total(a.left.map(area)), total(b.left.map(area))];
  if (Math.abs(la - lb) > 1e-6) return la < lb;
  const [ua, ub] = [sheetUsed(a), sheetUsed(b)];
  if (Math.abs(ua - ub) > 1e-6) return ua < ub;
  return reach(a) < reach(b) - 1e-6;
}

/** How much of the blanks' lengths is begun: what lies beyond it is one clean offcut. */
const reach = (p: Packing): number =>
  total(p.used.map((u) => Math.max(0, ...u.placed.map((q) => q.x + q.width)) * u.blank.height));

function packedBy<P extends NestPiece>(pieces: readonly P[], blanks: readonly NestBlank[], manner: Manner): Packing<P> {
  const { order, gap, smallFirst } = manner;
  const larger = smallFirst ? 1 : -1;
  const stock = blanks
    .map((blank) => ({ blank, left: blank.count }))
    .sort((a, b) => larger * (a.blank.width * a.blank.height - b.blank.width * b.blank.height));
  const open: Open<P>[] = [];
  const left: P[] = [];
  for (const piece of [...pieces].sort(order)) {
    if (open.some((o) => put(o, piece, manner))) continue;
    const next = stock.find((s) => s.left > 0 && fitsOn(piece, s.blank));
    if (next === undefined) {
      left.push(piece);
      continue;
    }
    next.left -= 1;
    // A gap's width more each way, so that the last piece needs none behind it.
    const fresh: Open<P> = {
      blank: next.blank,
      free: [{ x: 0, y: 0, w: next.blank.width + gap, h: next.blank.height + gap }],
      placed: [],
    };
    open.push(fresh);
    put(fresh, piece, manner);
  }
  return { used: open.map(({ blank, placed }) => ({ blank, placed })), left };
}

const SLACK = 1e-9;
/** How a piece may lie. */
interface Way {
  readonly w: number;
  readonly h: number;
  readonly turned: boolean;
}

const waysOf = (p: NestPiece): Way[] => [
  { w: p.along, h: p.across, turned: false },
  ...(p.turns ? [{ w: p.across, h: p.along, turned: true }] : []),
];
export const fitsOn = (p: NestPiece, { width, height }: Pick<NestBlank, 'width' | 'height'>): boolean =>
  waysOf(p).some(({ w, h }) => w <= width + SLACK && h <= height + SLACK);

/** Puts a piece in the free rectangle it fits best and splits what is left of it. */
function put<P extends NestPiece>(open: Open<P>, piece: P, manner: Manner): boolean {
  const best = bestPlace(open, piece, manner);
  if (!best) return false;
  const { at, free } = best;
  open.placed.push({ piece, x: free.x, y: free.y, width: best.w, height: best.h, turned: best.turned });
  open.free.splice(at, 1, ...leftOf(free, { w: best.w + manner.gap, h: best.h + manner.gap }, manner.split));
  return true;
}

/**
 * A free rectangle with the piece in its corner one way round, and how well that fits: the less the better, `first`
 * before `second`.
 */
interface Place extends Way {
  readonly at: number;
  readonly free: Free;
  readonly first: number;
  readonly second: number;
}

function bestPlace(
  { free: rooms }: Pick<Open<NestPiece>, 'free'>,
  piece: NestPiece,
  { fit, gap }: Manner,
): Place | undefined {
  const places = rooms.flatMap((free, at) =>
    waysOf(piece).flatMap((way): Place[] => {
      const [dx, dy] = [free.w - way.w - gap, free.h - way.h - gap];
      return dx < -SLACK || dy < -SLACK ? [] : [{ at, free, ...way, ...RANKS[fit](dx, dy, way.turned) }];
    }),
  );
  return places.reduce<Place | undefined>((a, b) => (a && !fitsBetter(b, a) ? a : b), undefined);
}

const fitsBetter = (a: Place, b: Place): boolean =>
  a.first < b.first - SLACK || (Math.abs(a.first - b.first) <= SLACK && a.second < b.second);

/** What is left of a free rectangle when a piece with its gap is in its lower left corner. */
function leftOf({ x, y, w, h }: Free, piece: { readonly w: number; readonly h: number }, split: Split): Free[] {
  const [dx, dy] = [w - piece.w, h - piece.h];
  // A cut along x leaves the strip above the piece whole; a cut along y the strip beside it.
  const alongX = split === 'shorter' ? dx <= dy : dx > dy;
  const right: Free = { x: x + piece.w, y, w: dx, h: alongX ? piece.h : h };
  const over: Free = { x, y: y + piece.h, w: alongX ? w : piece.w, h: dy };
  return [right, over].filter((r) => r.w > SLACK && r.h > SLACK);
}

/** Fewest blanks whose areas together hold the pieces', the largest blanks first: no packing does with fewer. */
export function leastBlanks(pieces: readonly NestPiece[], blanks: readonly NestBlank[]): number {
  let needed = total(pieces.map(area));
  let count = 0;
  for (const b of [...blanks].sort((p, q) => q.width * q.height - p.width * p.height)) {
    for (let k = 0; k < b.count && needed > 1e-6; k++) {
      needed -= b.width * b.height;
      count += 1;
    }
  }
  return count;
}
