import type { CDPSession, Page } from 'playwright-core';
import { atRest, frames } from './open-app.ts';

/*
 * A person at the keyboard who cannot see the screen: goes by Tab and keys, and knows where she is only by the role and the
 * name that the browser itself hands to a screen reader (its accessibility tree). At every stop the sighted keyboard user is
 * asked too: is the focus on something, is it marked, is it on the screen and not under something else?
 */

export interface Stop {
  readonly role: string;
  readonly name: string;
  /** `checked`, `expanded`, `selected`, `pressed`, `disabled` as a screen reader hears them. */
  readonly states: Readonly<Record<string, unknown>>;
  /** What is wrong with this stop; empty where nothing is. */
  readonly faults: readonly string[];
}

export class Keyboard {
  /** Every fault met on the way, each with where it was. */
  readonly faults: string[] = [];
  readonly page: Page;
  private readonly devtools: CDPSession;
  private last = 'the top';

  private constructor(page: Page, devtools: CDPSession) {
    this.page = page;
    this.devtools = devtools;
  }

  static async at(page: Page): Promise<Keyboard> {
    return new Keyboard(page, await page.context().newCDPSession(page));
  }

  /** Where the focus is. */
  async here(): Promise<Stop> {
    const seen = await this.page.evaluate(() => {
      const e = document.activeElement;
      if (!e || e === document.body) return ['the focus is on nothing'];
      const faults: string[] = [];
      const box = e.getBoundingClientRect();
      const style = getComputedStyle(e);
      const marked =
        e.matches(':focus-visible') && style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
      if (!marked) faults.push('the focus is not marked');
      const [left, right] = [Math.max(box.left, 0), Math.min(box.right, innerWidth)];
      const [top, bottom] = [Math.max(box.top, 0), Math.min(box.bottom, innerHeight)];
      if (right <= left || bottom <= top)
        faults.push(`it is off the screen (${Math.round(box.left)}, ${Math.round(box.top)})`);
      else {
        const at = (fx: number, fy: number) =>
          document.elementFromPoint(left + (right - left) * fx, top + (bottom - top) * fy);
        const points = [
          [0.5, 0.5],
          [0.1, 0.2],
          [0.9, 0.2],
          [0.1, 0.8],
          [0.9, 0.8],
        ].map(([x, y]) => at(x!, y!));
        if (
          !points.some(
            (p) => p !== null && (e.contains(p) || (p.contains(e) && p.tagName !== 'BODY' && p.tagName !== 'HTML')),
          )
        )
          faults.push('it lies under something else');
      }
      return faults;
    });
    const { result } = await this.devtools.send('Runtime.evaluate', { expression: 'document.activeElement' });
    const heard = await this.heard(result.objectId!);
    const unnamed =
      heard.name === '' && !['generic', 'RootWebArea', 'none'].includes(heard.role)
        ? [`a ${heard.role} without a name`]
        : [];
    return { ...heard, faults: [...seen, ...unnamed] };
  }

  /** What is said of the option that the arrow keys are on, in a list that keeps the focus itself. */
  async option(): Promise<Stop> {
    const { result } = await this.devtools.send('Runtime.evaluate', {
      expression: "document.getElementById(document.activeElement.getAttribute('aria-activedescendant'))",
    });
    return {
      ...(result.objectId ? await this.heard(result.objectId) : { role: '', name: '', states: {} }),
      faults: [],
    };
  }

  private async heard(objectId: string): Promise<Omit<Stop, 'faults'>> {
    const { nodes } = await this.devtools.send('Accessibility.getPartialAXTree', { objectId, fetchRelatives: false });
    const node = nodes[0]!;
    return {
      role: String(node.role?.value ?? ''),
      name: String(node.name?.value ?? '')
        .replace(/\s+/g, ' ')
        .trim(),
      states: Object.fromEntries((node.properties ?? []).map((p) => [p.name, p.value.value])),
    };
  }

  private async look(): Promise<Stop> {
    let stop = await this.here();
    // A change that comes late is given its turn: what is wrong for a moment is not seen, what stays wrong is.
    if (stop.faults.length > 0) {
      await atRest(this.page);
      stop = await this.here();
    }
    for (const f of stop.faults) this.faults.push(`${f}: ${stop.role} "${stop.name.slice(0, 60)}", after ${this.last}`);
    this.last = `${stop.role} "${stop.name.slice(0, 60)}"`;
    return stop;
  }

  /** Presses a key on what has the focus, and waits until the focus is somewhere. */
  async press(key: string): Promise<Stop> {
    this.last = `${key} on ${this.last}`;
    await this.page.keyboard.press(key);
    await frames(this.page, 4); // what the change gives the focus to comes after the change
    await this.page
      .waitForFunction(() => document.activeElement !== document.body, null, { timeout: 2000 })
      .catch(() => undefined);
    return this.look();
  }

  async type(text: string): Promise<void> {
    await this.page.keyboard.type(text);
  }

  /** Goes on by Tab until the stop of that role and name; every stop on the way is looked at too. */
  async tabTo(role: string, name: string | RegExp, { back = false, most = 260 } = {}): Promise<Stop> {
    const is = (s: Stop): boolean =>
      s.role === role && (typeof name === 'string' ? s.name === name : name.test(s.name));
    const passed: string[] = [];
    for (let i = 0; i < most; i++) {
      await this.page.keyboard.press(back ? 'Shift+Tab' : 'Tab');
      // Past the last stop the focus is with the browser's own bars for a moment.
      if (await this.page.evaluate(() => document.activeElement === document.body)) continue;
      const stop = await this.look();
      if (is(stop)) return stop;
      passed.push(`${stop.role} "${stop.name.slice(0, 40)}"`);
    }
    throw new Error(`${role} ${name} is never reached by Tab; passed ${passed.slice(0, 60).join(', ')}`);
  }

  /** Every stop from here to the end of the page, in order. */
  async tour(most = 400): Promise<Stop[]> {
    const stops: Stop[] = [];
    for (let i = 0; i < most; i++) {
      await this.page.keyboard.press('Tab');
      if (await this.page.evaluate(() => document.activeElement === document.body)) return stops;
      stops.push(await this.look());
    }
    throw new Error(
      `Tab never comes to the end; the last stops: ${stops
        .slice(-6)
        .map((s) => `${s.role} "${s.name}"`)
        .join(', ')}`,
    );
  }

  /** Waits until what is said aloud matches. */
  async hears(words: RegExp): Promise<void> {
    const said = this.page.getByRole('status', { name: 'What changed' });
    await this.page
      .waitForFunction(
        ([source, flags]) =>
          new RegExp(source!, flags).test(
            document.querySelector('[role=status][aria-label="What changed"]')?.textContent ?? '',
          ),
        [words.source, words.flags] as const,
        { timeout: 20_000 },
      )
      .catch(async () => {
        throw new Error(`never said aloud: ${words}; but: ${await said.textContent()}`);
      });
  }
}
