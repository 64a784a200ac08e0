import type { Locator, Page } from 'playwright-core';

/** Two hands that count: a click is one, a character typed is one, a key is one, a choice from a list is two clicks, a paste two keys. */
export class Hands {
  clicks = 0;
  keys = 0;
  readonly page: Page;
  constructor(page: Page) {
    this.page = page;
  }
  async click(what: Locator): Promise<void> {
    await what.click();
    this.clicks++;
  }
  async type(text: string): Promise<void> {
    await this.page.keyboard.insertText(text);
    this.keys += text.length;
  }
  async key(name: string): Promise<void> {
    await this.page.keyboard.press(name);
    this.keys++;
  }
  async choose(list: Locator, value: string): Promise<void> {
    await list.selectOption(value);
    this.clicks += 2;
  }
  /** A field clicked and typed over. */
  async fill(label: string | RegExp, text: string): Promise<void> {
    await this.click(this.page.getByLabel(label).first());
    await this.type(text);
  }
  /** Opens the fold of a group of questions, which takes its first question in hand. */
  async unfold(group: Locator, first: string): Promise<void> {
    await this.click(group.getByText('More:'));
    await group.getByLabel(first).and(this.page.locator(':focus')).waitFor();
  }
  async paste(text: string): Promise<void> {
    await this.page.evaluate((t) => {
      const data = new DataTransfer();
      data.setData('text', t);
      document.activeElement?.dispatchEvent(
        new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
      );
    }, text);
    this.keys += 2;
  }
  button(name: string | RegExp): Locator {
    return this.page.getByRole('button', { name, exact: typeof name === 'string' });
  }
  get count(): number {
    return this.clicks + this.keys;
  }
}
