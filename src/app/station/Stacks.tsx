import { best, type Term } from '../../chains/chain.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { QUANTITIES } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import { type SizeBook, sizeBook } from '../../model/sizes.ts';
import { useApp } from '../state/store.ts';
import { SizeField } from './SizeField.tsx';

const FULL = 168;
const WIDE = 46;

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

/** Heights in px of one stack's blocks, the largest broken so that the tops of both stacks differ by the true difference at `scale`. */
function heights(blocks: readonly Block[], top: number, scale: number): number[] {
  const rest = blocks.slice(1).map((b) => Math.max(3, b.amount * scale));
  return blocks.length === 0 ? [] : [Math.max(18, top - rest.reduce((a, b) => a + b, 0)), ...rest];
}

function Stack({ blocks, x, top, scale }: { blocks: readonly Block[]; x: number; top: number; scale: number }) {
  const tall = heights(blocks, top, scale);
  let y = FULL + 14;
  return (
    <g>
      {blocks.map((b, i) => {
        const h = tall[i]!;
        y -= h;
        return (
          <g key={b.key}>
            <rect x={x} y={y} width={WIDE} height={h} className={b.measured ? 'block measured' : 'block drawn'}>
              <title>{`${b.name}: ${b.amount.toFixed(2)}`}</title>
            </rect>
            {i === 0 && (
              <path
                d={`M${x - 3} ${y + h / 2 + 3} l${WIDE / 4 + 1.5} -7 l${WIDE / 4} 7 l${WIDE / 4} -7 l${WIDE / 4 + 4.5} 7`}
                className="break"
              />
            )}
          </g>
        );
      })}
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

/**
 * The chain of a finding as two stacks of blocks: what there is, and what must go in. The long block is broken so that
 * the difference shows; every number can be changed in place.
 */
export function Stacks({ finding, as }: { finding: Finding; as: 'reading' | 'drawing' }) {
  const model = useApp((s) => s.model);
  const plus = blocksOf(finding.restsOn, 1);
  const minus = blocksOf(finding.restsOn, -1);
  if (finding.restsOn.length === 0) return null;
  const sum = (bs: readonly Block[]): number => bs.reduce((a, b) => a + b.amount, 0);
  const diff = sum(plus) - sum(minus);
  const small = Math.max(
    Math.abs(diff),
    ...plus.slice(1).map((b) => b.amount),
    ...minus.slice(1).map((b) => b.amount),
    1e-6,
  );
  const scale = Math.min(60, 52 / small);
  const [left, right] = diff >= 0 ? [FULL, FULL - diff * scale] : [FULL + diff * scale, FULL];
  const sums = finding.check !== 'hole-cleanup' && Math.abs(best(finding.restsOn) - finding.value) < 1e-6;
  const drawn = sums && plus.length > 0 && minus.length > 0 && finding.unit === 'mm';
  const [plusWord, minusWord] = WORDS[finding.check] ?? ['plus', 'minus'];
  const yTop = FULL + 14 - Math.max(left, right);
  const yLow = FULL + 14 - Math.min(left, right);
  const book = sizeBook(model);
  return (
    <div className="stacks">
      {drawn && (
        <svg
          width="150"
          height={FULL + 34}
          viewBox={`0 0 150 ${FULL + 34}`}
          className={finding.verdict}
          role="img"
          aria-label={`What there is against what must go in: ${diff.toFixed(2)} mm apart`}
        >
          <Stack blocks={plus} x={16} top={left} scale={scale} />
          <Stack blocks={minus} x={88} top={right} scale={scale} />
          <line x1="6" x2="144" y1={FULL + 14} y2={FULL + 14} className="ink-line" />
          <line x1="6" x2="144" y1={yTop} y2={yTop} className="dash" />
          <line x1="6" x2="144" y1={yLow} y2={yLow} className="dash" />
          {yLow - yTop > 1 && (
            <rect x={diff >= 0 ? 88 : 16} y={yTop} width={WIDE} height={yLow - yTop} className="difference" />
          )}
          <text x={39} y={FULL + 28} textAnchor="middle" className="tiny">
            {plusWord}
          </text>
          <text x={111} y={FULL + 28} textAnchor="middle" className="tiny">
            {minusWord}
          </text>
        </svg>
      )}
      <ul className="terms">
        {finding.restsOn
          .filter((t) => sums || book.entries.has(t.size.key))
          .map((t) => (
            <li key={t.size.key}>
              <span className="term-name">{t.size.name}</span>
              <span className="adds">{sums ? signed(model, t.c * t.size.best, finding.unit) : ''}</span>
              <span className="term-size">
                {sums && Math.abs(Math.abs(t.c) - 1) > 1e-9
                  ? `${Number(Math.abs(t.c).toFixed(2))}${finding.unit === 'deg' && kindUnit(book, t) === 'mm' ? '° per mm' : ''} × `
                  : ''}
                {book.entries.has(t.size.key) ? (
                  <SizeField size={t.size.key} as={as} />
                ) : (
                  <span className="size fixed">{show(model, t.size.best)}</span>
                )}
                <span className="plusminus">
                  {t.size.u > 0 ? ` ± ${show(model, 2 * t.size.u, kindUnit(book, t))}` : ''}
                  {offDrawing(model, t)}
                </span>
              </span>
            </li>
          ))}
        {sums && (
          <li className="sum">
            <span className="term-name">together</span>
            <span className="adds">{signed(model, best(finding.restsOn), finding.unit)}</span>
          </li>
        )}
      </ul>
    </div>
  );
}
