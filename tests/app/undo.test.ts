import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { stepped, useApp } from '../../src/app/state/store.ts';
import { measure, redraw } from '../../src/model/edits/edits.ts';
import { writeModel } from '../../src/model/file/write.ts';
import type { Model } from '../../src/model/schema.ts';
import { parseReadings } from '../../src/model/tables/readingRows.ts';

/* Undo and redo over many steps: nothing is lost, the list has an end, and panels far off are bare copies that hold nothing worked out. Expected by laws: going back and forth is the way there. */

const now = () => useApp.getState();
const text = (): string => writeModel(now().model);

/** So many readings one after another; the text after each, and the panels as they were on screen. */
function worked(steps: number): { texts: string[]; shown: Model[] } {
  const size = now().model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
  const texts = [text()];
  const shown = [now().model];
  for (let i = 1; i <= steps; i++) {
    expect(now().edit(measure(now().model, size, [83 + i / 1000], { instrument: 'caliper' }))).toEqual([]);
    texts.push(text());
    shown.push(now().model);
  }
  return { texts, shown };
}

/** Each step begins where the one before it ended. */
function linked(): void {
  const { past, future, model } = now();
  const all = [...past, ...future];
  for (let i = 1; i < all.length; i++) expect(all[i]!.before).toBe(all[i - 1]!.after);
  if (past.length > 0) expect(past.at(-1)!.after).toBe(model);
  if (future.length > 0) expect(future[0]!.before).toBe(model);
}

beforeEach(() => {
  useApp.setState({ model: undefined as unknown as Model, past: [], future: [] });
  expect(now().open(readFileSync('models/narrow-tail.json', 'utf8'), 'narrow-tail.json')).toBe(true);
});

describe('many steps', () => {
  it('are all taken back and all done again, text for text', () => {
    const { texts } = worked(60);
    linked();
    for (let i = 59; i >= 0; i--) {
      now().undo();
      expect(text()).toBe(texts[i]);
      linked();
    }
    for (let i = 1; i <= 60; i++) {
      now().redo();
      expect(text()).toBe(texts[i]);
      linked();
    }
  });

  it('let go of what was worked out of panels far off, and keep the near ones as they were', () => {
    const { shown } = worked(60);
    const had = new Set(shown);
    const held = (list: readonly { readonly before: Model; readonly after: Model }[]): number =>
      new Set(list.flatMap((s) => [s.before, s.after]).filter((m) => had.has(m))).size;
    expect(held(now().past)).toBeLessThan(12);
    expect(now().past.at(-1)!.before).toBe(shown[59]);
    for (let i = 0; i < 60; i++) now().undo();
    expect(held(now().future)).toBeLessThan(12);
    expect(now().future).toHaveLength(60);
  });

  it('let go of panels whose drawing was changed too: what is worked out of them hangs on no list of undo', () => {
    const size = now().model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
    const panels = new Set<unknown>([now().model]);
    for (let i = 1; i <= 40; i++) {
      expect(now().edit(redraw(now().model, size, 83 + i / 1000)!)).toEqual([]);
      panels.add(now().model);
    }
    expect(panels.size).toBe(41);
    const held = (list: readonly { readonly before: Model; readonly after: Model }[]): number =>
      new Set(list.flatMap((s) => [s.before, s.after]).filter((m) => panels.has(m))).size;
    expect(held(now().past)).toBeLessThan(12);
    linked();
    for (let i = 0; i < 40; i++) now().undo();
    expect(held(now().future)).toBeLessThan(12);
    linked();
  });

  it('end at five hundred, panels opened counted with them', () => {
    const panels = ['plain.json', 'narrow-tail.json'].map(
      (file) => [file, readFileSync(`models/${file}`, 'utf8')] as const,
    );
    for (let i = 0; i < 505; i++) now().open(panels[i % 2]![1], panels[i % 2]![0]);
    expect(now().past).toHaveLength(500);
    linked();
  });
});

describe('one step more, tried', () => {
  it('is made of the history it is given and of nothing else, and changes nothing', () => {
    worked(3);
    const before = now();
    const size = before.model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
    const tried = (value: number) => {
      const done = stepped(before, measure(before.model, size, [value], { instrument: 'caliper' }));
      if (!done.ok) throw new Error(done.faults.map((f) => f.sentence).join(' '));
      return done.history;
    };
    const [first, second] = [tried(83.1), tried(83.2)];
    expect(now()).toBe(before);
    for (const { past, model } of [first, second]) {
      expect(past).toHaveLength(before.past.length + 1);
      expect(past.at(-1)).toMatchObject({ before: before.model, after: model });
    }
    // Put in place of one another, one step of undo leads back to where it began.
    useApp.setState(first);
    useApp.setState(second);
    linked();
    now().undo();
    expect(text()).toBe(writeModel(before.model));
  });
});

describe('the unit that lengths are shown in', () => {
  const size = (): string => now().model.readings.find((r) => r.size.endsWith('.front.height'))!.size;

  it('is no step: switched, there is nothing more to undo, and the steps there are stay', () => {
    worked(2);
    now().show('in');
    expect(now().model.units).toBe('in');
    expect(now().past).toHaveLength(2);
    expect(now().future).toEqual([]);
    linked();
  });

  it('undoing and redoing an edit made before it was switched leaves it as it is, and all else comes back', () => {
    const { texts } = worked(3);
    now().show('in');
    for (let i = 2; i >= 0; i--) {
      now().undo();
      expect(now().model.units).toBe('in');
      expect(text()).toBe(writeModel({ ...(JSON.parse(texts[i]!) as Model), units: 'in' }));
      linked();
    }
    now().show('mm');
    expect(now().future).toHaveLength(3);
    for (let i = 1; i <= 3; i++) {
      now().redo();
      expect(text()).toBe(texts[i]);
      linked();
    }
  });

  it('an edit made after it was switched is undone to what was shown then', () => {
    worked(1);
    now().show('in');
    const shown = text();
    expect(now().edit(measure(now().model, size(), [83.2], { instrument: 'caliper' }))).toEqual([]);
    now().undo();
    expect(text()).toBe(shown);
    linked();
  });

  it('a bare number pasted after an undo is read in the unit on screen', () => {
    worked(1);
    now().show('in');
    now().undo();
    const { model } = now();
    const read = parseReadings(model, 'size,value\nM2.length,10.325\n');
    expect(read.ok && read.readings[0]!.value).toBeCloseTo(262.255, 9);
    expect(model.units).toBe('in');
  });

  it('another panel comes back in its own', () => {
    now().show('in');
    expect(now().open(readFileSync('models/plain.json', 'utf8'), 'plain.json')).toBe(true);
    expect(now().model.units).toBe('mm');
    now().undo();
    expect([now().model.name, now().model.units]).toEqual(['narrow tail', 'in']);
    now().redo();
    expect(now().model.units).toBe('mm');
  });
});
