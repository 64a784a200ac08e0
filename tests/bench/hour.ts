import type { BrowserContext, CDPSession, Page } from 'playwright-core';
import { metalCut, type OpenApp, withoutWebGL } from '../browser/open-app.ts';
import type { Row, Said } from './rows.ts';

/*
 * What an hour's work leaves in the browser's memory. A builder's actions, readings typed, taken back, stations walked,
 * questions changed, cures tried, sheets printed, panels exchanged, come one after another without the thinking between
 * them; then everything that can be collected is, and what is left is counted: after a warm-up and at the end.
 */

/** Actions before the first count: caches and the list of undo steps have filled by then. */
const WARM = 1 / 3;

interface Left {
  readonly heap: number;
  readonly nodes: number;
  readonly listeners: number;
  readonly frames: number;
  /** Things held on the graphics card: buffers, textures, programs, vertex arrays, framebuffers. */
  readonly graphics: number;
  readonly wasm: number;
  readonly workerHeap: number;
}

/** Runs in the page before anything else: counts what is made on the graphics card and not given back. */
function countGraphics(): void {
  const seen = { live: 0 };
  (window as unknown as { graphics: typeof seen }).graphics = seen;
  const proto = WebGL2RenderingContext.prototype as unknown as Record<string, (...a: unknown[]) => unknown>;
  for (const kind of ['Buffer', 'Texture', 'Program', 'Shader', 'VertexArray', 'Framebuffer', 'Renderbuffer']) {
    const [create, remove] = [proto[`create${kind}`]!, proto[`delete${kind}`]!];
    proto[`create${kind}`] = function (...a) {
      seen.live++;
      return create.apply(this, a);
    };
    proto[`delete${kind}`] = function (...a) {
      if (a[0]) seen.live--;
      return remove.apply(this, a);
    };
  }
}

/** Put before the solids worker's own text: notes the WASM memories that are started. */
const WATCH_WASM = `self.wasmMemories = []; { const note = (r) => { for (const x of Object.values((r.instance ?? r).exports)) if (x instanceof WebAssembly.Memory) self.wasmMemories.push(x); return r; };
for (const way of ['instantiate', 'instantiateStreaming']) { const own = WebAssembly[way]; WebAssembly[way] = (...a) => own.apply(WebAssembly, a).then(note); } };
`;

/** Runs in the page: so many actions of a builder, by a fixed draw of lots that goes on from call to call. */
async function work(count: number): Promise<Record<string, number>> {
  const page = window as unknown as { lots?: { s: number; done: Record<string, number> } };
  page.lots ??= { s: 20260101, done: {} };
  const state = page.lots;
  const lot = (n: number): number => {
    state.s = (Math.imul(state.s, 1664525) + 1013904223) >>> 0;
    return Math.floor((state.s / 4294967296) * n);
  };
  const all = <T extends HTMLElement>(selector: string): T[] =>
    [...document.querySelectorAll<T>(selector)].filter((e) => !(e as unknown as HTMLButtonElement).disabled);
  const frame = (): Promise<void> => new Promise((done) => setTimeout(done, 12));
  const said = (e: Element): string => e.getAttribute('aria-label') ?? e.textContent ?? '';
  const press = (selector: string, words?: RegExp): boolean => {
    const found = all(selector).filter((e) => !words || words.test(said(e)));
    found[lot(found.length)]?.dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true })); // a mark of the rail has no click() of its own
    return found.length > 0;
  };
  const until = async (there: () => boolean, most: number): Promise<boolean> => {
    const from = performance.now();
    while (!there() && performance.now() - from < most) await new Promise((done) => setTimeout(done, 20));
    return there();
  };
  const type = (input: HTMLInputElement, text: string): void => {
    Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!.call(input, text);
    input.dispatchEvent(new Event('input', { bubbles: true }));
  };
  const ask = (name: string): boolean => press('.questions button', new RegExp(`^${name}$`));
  const station = (): boolean => press('[id^="rail-"]');
  const actions: readonly (readonly [share: number, name: string, act: () => Promise<boolean> | boolean])[] = [
    [26, 'station walked', station],
    [
      26,
      'reading typed',
      async () => {
        if (!document.querySelector('.card .size')) {
          ask('Fit');
          await frame();
          station();
          await frame();
        }
        if (!press('.card button.size', /^Change the (?!drawing)/)) return false;
        await frame();
        const input = document.querySelector<HTMLInputElement>('.card input[aria-label^="New "]');
        if (!input) return false;
        const value = Number.parseFloat(input.value);
        if (Number.isFinite(value)) type(input, (value + (lot(21) - 10) / 200).toFixed(3));
        await frame();
        press('.card form.size-edit button', /^Take$/);
        await frame();
        press('.card form.size-edit button', /^(Yes, that|Leave)/); // a doubtful one: yes, or leave it
        return true;
      },
    ],
    [12, 'undone', () => press('.tools button', /^Undo/)],
    [6, 'done again', () => press('.tools button', /^Redo/)],
    [12, 'question changed', () => press('.questions button')],
    [6, 'finding opened', () => press('.card button', /^(act|watch|unsettled|fits) /)],
    [
      4,
      'enlarged or looked at anew',
      () => {
        if (lot(2) === 0) return press('.bench-tools button');
        const range = document.querySelector<HTMLInputElement>('.magnify input');
        if (!range) return false;
        type(range, String(lot(6)));
        return true;
      },
    ],
    [
      4,
      'cure tried',
      async () => {
        ask('Remedy');
        await frame();
        station();
        await frame();
        if (!(await until(() => document.querySelector('.try-buttons') !== null, 3000))) return false;
        press('.card .try-buttons button', /^Try it$/);
        await frame();
        await frame();
        return lot(3) === 0 ? press('.card button', /^Take it$/) : press('button', /^Put it back$/);
      },
    ],
    [
      1,
      'sheet printed',
      async () => {
        ask('Drill');
        await frame();
        document.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true }));
        await frame();
        if (!press('.card button', /^Print the hole ledger$/)) return false;
        const shown = await until(() => document.querySelector('.sheet-view .sheet-page') !== null, 8000);
        if (shown) press('.sheet-view button', /^Print$/);
        await frame();
        press('.sheet-view button', /^Close the sheet$/);
        return shown;
      },
    ],
    [
      2,
      'panel exchanged',
      async () => {
        press('.panel-name');
        await frame();
        return press('.menu button', /^(narrow tail, measured|washed-out|plain)/);
      },
    ],
    [1, 'light or dark, mm or in', () => press('.tools button', /screen$|^mm$|^in$/)],
  ];
  const total = actions.reduce((sum, [share]) => sum + share, 0);
  for (let i = 0; i < count; i++) {
    let at = lot(total);
    const [, name, act] = actions.find(([share]) => {
      at -= share;
      return at < 0;
    })!;
    if (await act()) state.done[name] = (state.done[name] ?? 0) + 1;
    await frame();
    if (i % 20 === 19)
      await until(() => !/^Cutting/.test(document.querySelector('.bench-note')?.textContent ?? ''), 4000);
  }
  return state.done;
}

/** The worker's own heap, asked through the page's session, which has its workers beneath it. */
class Beneath {
  #count = 0;
  #ids: string[] = [];
  readonly #cdp: CDPSession;
  constructor(cdp: CDPSession) {
    this.#cdp = cdp;
  }
  async open(): Promise<void> {
    this.#cdp.on('Target.attachedToTarget', (e) => {
      if (e.targetInfo.type === 'worker') this.#ids.push(e.sessionId);
    });
    this.#cdp.on('Target.detachedFromTarget', (e) => {
      this.#ids = this.#ids.filter((id) => id !== e.sessionId);
    });
    await this.#cdp.send('Target.setAutoAttach', { autoAttach: true, waitForDebuggerOnStart: false, flatten: false });
  }
  async #ask(sessionId: string, method: string): Promise<Record<string, unknown>> {
    const id = ++this.#count;
    const answer = new Promise<Record<string, unknown>>((done) => {
      const hear = (e: { sessionId: string; message: string }): void => {
        const said = JSON.parse(e.message) as { id?: number; result?: Record<string, unknown> };
        if (e.sessionId !== sessionId || said.id !== id) return;
        this.#cdp.off('Target.receivedMessageFromTarget', hear);
        done(said.result ?? {});
      };
      this.#cdp.on('Target.receivedMessageFromTarget', hear);
      setTimeout(() => done({}), 5000);
    });
    await this.#cdp.send('Target.sendMessageToTarget', { sessionId, message: JSON.stringify({ id, method }) });
    return answer;
  }
  /** Bytes of all workers' heaps, arrays with them, once collected; NaN where no worker answers. */
  async heap(): Promise<number> {
    let sum = Number.NaN;
    for (const id of this.#ids) {
      await this.#ask(id, 'HeapProfiler.collectGarbage');
      const { usedSize, backingStorageSize } = await this.#ask(id, 'Runtime.getHeapUsage');
      if (typeof usedSize === 'number')
        sum =
          (Number.isNaN(sum) ? 0 : sum) + usedSize + (typeof backingStorageSize === 'number' ? backingStorageSize : 0);
    }
    return sum;
  }
}

/** Runs in the page: puts everything opened away, so that each count is of the same screen. */
async function tidied(): Promise<void> {
  const rest = (): Promise<void> => new Promise((done) => setTimeout(done, 60));
  const press = (selector: string, words: RegExp): void =>
    [...document.querySelectorAll<HTMLElement>(selector)]
      .find((e) => words.test(e.getAttribute('aria-label') ?? e.textContent ?? ''))
      ?.click();
  press('.sheet-view button', /^Close the sheet$/);
  press('button', /^Put it back$/);
  await rest();
  press('.questions button', /^Fit$/);
  await rest();
  press('.card button', /^Back to the whole panel$/);
  await rest();
}

async function left(page: Page, cdp: CDPSession, beneath: Beneath): Promise<Left> {
  await page.evaluate(tidied);
  await page.evaluate(() => new Promise((done) => setTimeout(done, 1500)));
  await page.waitForFunction(() => !/^Cutting/.test(document.querySelector('.bench-note')?.textContent ?? ''), null, {
    timeout: 240_000,
  });
  const workerHeap = await beneath.heap();
  for (let i = 0; i < 3; i++) {
    await cdp.send('HeapProfiler.collectGarbage');
    await page.waitForTimeout(200);
  }
  const arrays = ((await cdp.send('Runtime.getHeapUsage')) as { backingStorageSize?: number }).backingStorageSize ?? 0;
  const { metrics } = await cdp.send('Performance.getMetrics');
  const of = (name: string): number => metrics.find((m) => m.name === name)?.value ?? Number.NaN;
  const graphics = await page.evaluate(() => (window as unknown as { graphics: { live: number } }).graphics.live);
  let wasm = 0;
  for (const w of page.workers())
    wasm += await w.evaluate(() =>
      ((self as unknown as { wasmMemories?: WebAssembly.Memory[] }).wasmMemories ?? []).reduce(
        (sum, m) => sum + m.buffer.byteLength,
        0,
      ),
    );
  return {
    heap: of('JSHeapUsedSize') + arrays,
    nodes: of('Nodes'),
    listeners: of('JSEventListeners'),
    frames: of('Frames'),
    graphics,
    wasm,
    workerHeap,
  };
}

/** `actions` in all, on the bench in 3D or, much quicker in software drawing, in plan and section; `tell` hears each count as it is taken. */
export async function hourRows(
  app: OpenApp,
  actions: number,
  bench: '3D' | 'plan',
  tell: (words: string) => void,
): Promise<(Row | Said)[]> {
  const context = await app.browser.newContext({ viewport: { width: 700, height: 480 }, serviceWorkers: 'block' });
  try {
    return await worked(context, app.url, actions, bench, tell);
  } finally {
    await context.close();
  }
}

async function worked(
  context: BrowserContext,
  url: string,
  actions: number,
  bench: '3D' | 'plan',
  tell: (words: string) => void,
): Promise<(Row | Said)[]> {
  const page = await context.newPage();
  page.setDefaultTimeout(240_000);
  const errors: string[] = [];
  page.on('pageerror', (e) => errors.push(e.message));
  page.on('dialog', (d) => void d.dismiss());
  await page.addInitScript('globalThis.__name = (f) => f;'); // what the runner wraps named functions in
  await page.addInitScript(countGraphics);
  if (bench === 'plan') await page.addInitScript(withoutWebGL);
  await context.route(/solids\.worker[^/]*\.js/, async (route) => {
    const answer = await route.fetch();
    await route.fulfill({ response: answer, body: WATCH_WASM + (await answer.text()) });
  });
  const cdp = await context.newCDPSession(page);
  const beneath = new Beneath(cdp);
  await beneath.open();
  await cdp.send('Performance.enable');
  await page.goto(url);
  if (bench === '3D') await metalCut(page);
  else await page.waitForSelector('.card h1');
  const steps = 12;
  const counts: [number, Left][] = [];
  let done: Record<string, number> = {};
  for (let step = 1; step <= steps; step++) {
    done = await page.evaluate(work, Math.round(actions / steps));
    const now = await left(page, cdp, beneath);
    counts.push([(step * actions) / steps, now]);
    // What is counted must be what it is called.
    if (bench === '3D' && (await page.locator('.bench canvas').count()) === 0)
      errors.push(`no more drawn in 3D: ${(await page.locator('.bench-note').allInnerTexts()).join(' ')}`);
    tell(
      `after ${Math.round((step * actions) / steps)} actions: ${Object.entries(now)
        .map(([k, v]) => `${k} ${Math.round(v)}`)
        .join(', ')}`,
    );
  }
  const warm = counts[Math.round(WARM * steps) - 1]!;
  const end = counts.at(-1)!;
  const row = (what: string, unit: string, scale: number, of: (l: Left) => number): Row | Said => {
    const [was, is] = [of(warm[1]) / scale, of(end[1]) / scale];
    if (!Number.isFinite(was) || !Number.isFinite(is) || was === 0)
      return { what, said: 'not reachable in this browser' };
    const each = ((is - was) * 1000) / (end[0] - warm[0]);
    const digits = scale > 1 ? 1 : 0;
    return {
      what,
      figure: is,
      unit,
      ratio: is / was,
      against: 'after warm-up',
      sense: scale > 1 ? 'size' : 'amount',
      note: `${was.toFixed(digits)} after ${warm[0]} actions, ${is.toFixed(digits)} after ${end[0]}: ${each >= 0 ? '+' : ''}${each.toFixed(digits)} per 1,000`,
    };
  };
  const rows = [
    row('heap of the page, arrays too', 'MB', 1e6, (l) => l.heap),
    row('heap of its workers, arrays too', 'MB', 1e6, (l) => l.workerHeap),
    row("the kernel's own memory (WASM)", 'MB', 1e6, (l) => l.wasm),
    ...(bench === '3D' ? [row('things on the graphics card', '', 1, (l) => l.graphics)] : []),
    row('nodes', '', 1, (l) => l.nodes),
    row('listeners', '', 1, (l) => l.listeners),
    row('frames in the page', '', 1, (l) => l.frames),
  ];
  const acts = Object.entries(done)
    .map(([k, v]) => `${v} ${k}`)
    .join(', ');
  return [
    ...rows,
    {
      what: 'what was done',
      said: `${acts}${errors.length > 0 ? `; ERRORS: ${[...new Set(errors)].join(' | ')}` : ''}`,
    },
  ];
}
