import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { terminal } from '../terminal.ts';

/* Templates from the terminal: files by form, bad calls refused with a sentence. */

const out = mkdtempSync(join(tmpdir(), 'templates-'));
afterAll(() => rmSync(out, { recursive: true }));
const ribtrue = terminal();
const run = (...args: string[]) => ribtrue('templates', 'models/plain.json', ...args);

describe('ribtrue templates', () => {
  it('writes the pages and the cut list as PDF', () => {
    const { status, stdout } = run('--out', join(out, 'pdf'), '--paper', 'letter');
    expect(status).toBe(0);
    expect(stdout).toContain('actual size (100 %)');
    expect(readdirSync(join(out, 'pdf')).sort()).toEqual(
      ['cut-list', 'drill-strips', 'flat-patterns', 'rib-templates'].map((n) => `plain-${n}.pdf`),
    );
    for (const f of readdirSync(join(out, 'pdf')))
      expect(
        readFileSync(join(out, 'pdf', f))
          .subarray(0, 5)
          .toString(),
      ).toBe('%PDF-');
  });

  it('writes a DXF for each piece, or for the parts named', () => {
    expect(run('--out', join(out, 'dxf'), '--form', 'dxf', '--only', 'D2,N2').status).toBe(0);
    expect(readdirSync(join(out, 'dxf')).sort()).toEqual(['plain-channel-doubler-D2.dxf', 'plain-nose-rib-N2.dxf']);
    expect(readFileSync(join(out, 'dxf', 'plain-nose-rib-N2.dxf'), 'utf8')).toContain('LWPOLYLINE');
  });

  it.each([
    [['--form', 'pdf'], 'no folder to write to'],
    [['--out', out, '--form', 'png'], '"png" is not a form of templates'],
    [['--out', out, '--only', 'Q9'], '"Q9" is not a part with a template'],
    [['--out', out, '--remake', 'D2'], '"D2" is not a rib of this panel'],
    [['--out', out, '--paper', 'a3'], '"a3" is not a paper'],
  ])('refuses %s', (args, sentence) => {
    const { status, stderr } = run(...args);
    expect(status).toBe(2);
    expect(stderr).toContain(sentence);
  });
});
