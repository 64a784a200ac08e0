import type { Finding } from '../../checks/finding.ts';
import { lockIn } from '../../truing/lockIn.ts';
import { useApp } from '../state/store.ts';
import { SkinLine } from './SkinLine.tsx';
import './skinPull.css';

/** A size of which two digits are known, in plain figures. */
function small(v: number): string {
  if (v === 0) return '0';
  return v >= 100 ? String(Number(v.toPrecision(2))) : v.toPrecision(2);
}

/** The cells of the skinned panel, in the order of their flows. */
const cellsOf = (many: number): readonly string[] =>
  many > 1 ? ['nose cell', 'box between the spars'] : ['closed cell'];

/**
 * What the skin does: how much stiffer it makes the panel in twist, what the twist left in it would take to hold out,
 * and how it would lie over the noses.
 */
export function SkinPull({ findings }: { findings: readonly Finding[] }) {
  const model = useApp((s) => s.model);
  const found = lockIn(model);
  if (!found) return null;
  const cells = cellsOf(found.flows.length).map((cell, i) => ({ cell, flow: found.flows[i] ?? 0 }));
  const twisted = found.twist !== undefined && Math.abs(found.twist) >= 0.005;
  return (
    <section className="packing skin-answer" aria-label="Once the skin is on">
      <h2>Once the skin is on</h2>
      <p className="big-times">
        <b>{String(Number(found.times.toPrecision(2))).replace(/\B(?=(\d{3})+$)/g, '\u202f')}</b> times stiffer in twist
        after the skin, an estimate
      </p>
      {twisted && (
        <table>
          <thead>
            <tr>
              <th>To hold the found twist out</th>
              <th>bare</th>
              <th>skinned</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <td>torque</td>
              <td>{small(found.torqueBare)} N·m</td>
              <td>{small(found.torque)} N·m</td>
            </tr>
            {cells.map(({ cell, flow }) => (
              <tr key={cell}>
                <td>shear flow, {cell}</td>
                <td />
                <td>{small(Math.abs(flow))} N/mm</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="small">{found.sentence}</p>
      <SkinLine findings={findings} />
    </section>
  );
}
