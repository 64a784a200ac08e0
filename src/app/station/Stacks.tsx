import { best, type Term } from '../../chains/chain.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { QUANTITIES } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import { type SizeBook, sizeBook } from '../../model/sizes.ts';
import { useApp } from '../state/store.ts';
import { SizeField } from './SizeField.tsx';
import type { As } from './typedSize.ts';
import './sizes.css';

/** How tall the taller stack is, where both stand, how wide a block is, and where each begins. */
const FULL = 168;
const FLOOR = FULL + 14;
const WIDE = 46;
const LEFT = 16;
const RIGHT = 88;

interface Block {
  readonly key: string;
  readonly name: string;
  readonly amount: number;
  readonly measured: boolean;
}

const blocksOf = (terms: readonly Term[], sign: 1 | -1): Block[] =>
  terms
    .map((t) => ({
      key: t.size.key,
      name: t.size.name,
      amount: t.c * t.size.best * sign,
      measured: t.size.origin === 'measured',
    }))
    .filter((b) => b.amount > 1e-9)
    .sort((a, b) => b.amount - a.amount);

interface Tall extends Block {
  /** Height in the drawing. */
  readonly h: number;
  /** Where it begins, from above. */
  readonly y: number;
}

/**
 * One stack's blocks from below, the largest broken so that the tops of both stacks differ by the true difference at
 * `scale`.
 */
function stacked(blocks: readonly Block[], top: number, scale: number): Tall[] {
  const [first, ...rest] = blocks;
  if (!first) return [];
  const others = rest.map((block) => ({ block, h: Math.max(3, block.amount * scale) }));
  const above = others.reduce((sum, o) => sum + o.h, 0);
  let y = FLOOR;
  return [{ block: first, h: Math.max(18, top - above) }, ...others].map(({ block, h }) => {
    y -= h;
    return { ...block, h, y };
  });
}

/** The wave that breaks the long block. */
const breakAt = (x: number, y: number): string =>
  `M${x - 3} ${y + 3} l${WIDE / 4 + 1.5} -7 l${WIDE / 4} 7 l${WIDE / 4} -7 l${WIDE / 4 + 4.5} 7`;

function Stack({ blocks, x, top, scale }: { blocks: readonly Block[]; x: number; top: number; scale: number }) {
  return (
    <g>
      {stacked(blocks, top, scale).map((b, i) => (
        <g key={b.key}>
          <rect x={x} y={b.y} width={WIDE} height={b.h} className={b.measured ? 'block measured' : 'block drawn'}>
            <title>{`${b.name}: ${b.amount.toFixed(2)}`}</title>
          </rect>
          {i === 0 && <path d={breakAt(x, b.y + b.h / 2)} className="break" />}
        </g>
      ))}
    </g>
  );
}

/** What the two stacks are, where plain plus and minus say less. */
const WORDS: Partial<Record<Finding['check'], readonly [string, string]>> = {
  'cap-gap': ['there is', 'goes in'],
  'cap-split': ['there is', 'goes in'],
  'chord-gap': ['there is', 'goes in'],
  'skin-step': ['spar', 'rib'],
};

/** `+84.30 mm`, in the finding's unit. */
function signed(model: Model, v: number, unit: Finding['unit']): string {
  const text = show(model, v, unit);
  return text.startsWith('-') ? `−${text.slice(1)}` : `+${text}`;
}

/** How far a measured size is off its drawing: `, drawing +0.25 mm`. */
function offDrawing(model: Model, t: Term): string {
  const nominal = sizeBook(model).nominal(t.size.key);
  if (nominal === undefined || t.size.origin !== 'measured' || Math.abs(t.size.best - nominal) < 0.005) return '';
  return `, drawing ${signed(model, t.size.best - nominal, 'mm')}`;
}

/** The unit a term is read in. */
const kindUnit = (book: SizeBook, t: Term): 'mm' | 'deg' => {
  const kind = book.entries.get(t.size.key)?.kind;
  return kind ? QUANTITIES[kind].unit : 'mm';
};

const sumOf = (blocks: readonly Block[]): number => blocks.reduce((a, b) => a + b.amount, 0);

/** What there is beside what must go in, the difference between them in the verdict's colour. */
function Drawing({ finding, plus, minus }: { finding: Finding; plus: readonly Block[]; minus: readonly Block[] }) {
  const diff = sumOf(plus) - sumOf(minus);
  const amounts = [...plus.slice(1), ...minus.slice(1)].map((b) => b.amount);
  const scale = Math.min(60, 52 / Math.max(Math.abs(diff), ...amounts, 1e-6));
  const tops = [FULL + Math.min(0, diff * scale), FULL - Math.max(0, diff * scale)] as const;
  const [high, low] = [FLOOR - Math.max(...tops), FLOOR - Math.min(...tops)];
  const [plusWord, minusWord] = WORDS[finding.check] ?? ['plus', 'minus'];
  return (
    <svg
      width="150"
      height={FULL + 34}
      viewBox={`0 0 150 ${FULL + 34}`}
      className={finding.verdict}
      role="img"
      aria-label={`What there is against what must go in: ${diff.toFixed(2)} mm apart`}
    >
      <Stack blocks={plus} x={LEFT} top={tops[0]} scale={scale} />
      <Stack blocks={minus} x={RIGHT} top={tops[1]} scale={scale} />
      <line x1="6" x2="144" y1={FLOOR} y2={FLOOR} className="ink-line" />
      <line x1="6" x2="144" y1={high} y2={high} className="dash" />
      <line x1="6" x2="144" y1={low} y2={low} className="dash" />
      {low - high > 1 && (
        <rect x={diff >= 0 ? RIGHT : LEFT} y={high} width={WIDE} height={low - high} className="difference" />
      )}
      <text x={LEFT + WIDE / 2} y={FULL + 28} textAnchor="middle" className="tiny">
        {plusWord}
      </text>
      <text x={RIGHT + WIDE / 2} y={FULL + 28} textAnchor="middle" className="tiny">
        {minusWord}
      </text>
    </svg>
  );
}

/** What a size counts, where it is not once: `0.13° per mm × `. */
function factorWords(book: SizeBook, term: Term, unit: Finding['unit']): string {
  const factor = Math.abs(term.c);
  if (Math.abs(factor - 1) <= 1e-9) return '';
  const perMm = unit === 'deg' && kindUnit(book, term) === 'mm' ? '° per mm' : '';
  return `${Number(factor.toFixed(2))}${perMm} × `;
}

/** One size of the chain: what it adds, and the size itself, to be changed in place. */
function TermRow({ term, finding, as, sums }: { term: Term; finding: Finding; as: As; sums: boolean }) {
  const model = useApp((s) => s.model);
  const book = sizeBook(model);
  const { size, c } = term;
  const doubt = size.u > 0 ? ` ± ${show(model, 2 * size.u, kindUnit(book, term))}` : '';
  return (
    <li>
      <span className="term-name">{size.name}</span>
      <span className="adds">{sums ? signed(model, c * size.best, finding.unit) : ''}</span>
      <span className="term-size">
        {sums ? factorWords(book, term, finding.unit) : ''}
        {book.entries.has(size.key) ? (
          <SizeField size={size.key} as={as} />
        ) : (
          <span className="size fixed">{show(model, size.best)}</span>
        )}
        <span className="plusminus">
          {doubt}
          {offDrawing(model, term)}
        </span>
      </span>
    </li>
  );
}

/**
 * The chain of a finding as two stacks of blocks: what there is, and what must go in. The long block is broken so that
 * the difference shows; every number can be changed in place.
 */
export function Stacks({ finding, as }: { finding: Finding; as: As }) {
  const model = useApp((s) => s.model);
  const { restsOn, check, unit, value } = finding;
  if (restsOn.length === 0) return null;
  const { entries } = sizeBook(model);
  const [plus, minus] = [blocksOf(restsOn, 1), blocksOf(restsOn, -1)];
  const sums = check !== 'hole-cleanup' && Math.abs(best(restsOn) - value) < 1e-6;
  const drawn = sums && plus.length > 0 && minus.length > 0 && unit === 'mm';
  return (
    <div className="stacks">
      {drawn && <Drawing finding={finding} plus={plus} minus={minus} />}
      <ul className="terms">
        {restsOn
          .filter((t) => sums || entries.has(t.size.key))
          .map((t) => (
            <TermRow key={t.size.key} term={t} finding={finding} as={as} sums={sums} />
          ))}
        {sums && (
          <li className="sum">
            <span className="term-name">together</span>
            <span className="adds">{signed(model, best(restsOn), unit)}</span>
          </li>
        )}
      </ul>
    </div>
  );
}
