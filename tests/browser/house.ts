import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type LaunchOptions } from 'playwright-core';
import { build, preview } from 'vite';
import type { TestProject } from 'vitest/node';
import { FLAGS, findBrowser } from './find-browser.ts';

/** The built app, served on loopback. */
export interface Served {
  readonly url: string;
  /** Stops the server and takes the build away. */
  stop(): Promise<void>;
}

/** Builds the app and serves it; `?test` in its address lets the page count its frames. */
export async function serveApp(): Promise<Served> {
  const outDir = mkdtempSync(join(tmpdir(), 'ribtrue-app-'));
  await build({ logLevel: 'error', build: { outDir } });
  const server = await preview({ preview: { host: '127.0.0.1', port: 0 }, logLevel: 'error', build: { outDir } });
  const address = server.resolvedUrls?.local[0];
  if (address === undefined) throw new Error('the built app is served nowhere');
  let stopped: Promise<void> | undefined;
  const stop = async (): Promise<void> => {
    await server.close();
    rmSync(outDir, { recursive: true, force: true });
  };
  return { url: `${address}?test`, stop: () => (stopped ??= stop()) };
}

/** How a browser is started: with the flags of every run, and some more. */
export const howToStart = async (...more: string[]): Promise<LaunchOptions> => ({
  executablePath: await findBrowser(),
  args: [...FLAGS, ...more],
});

/** Only what is 3D is drawn by the software that stands in for a graphics card: pages themselves are drawn faster without. */
const PAGES_PLAIN = ['--disable-gpu-rasterization', '--disable-gpu-compositing'];

/** What every browser file of a run shares: one build, one served app, one browser to connect to. */
interface House {
  readonly url: string;
  readonly endpoint: string;
  close(): Promise<void>;
}

async function open(): Promise<House> {
  const [served, browser] = await Promise.all([
    serveApp(),
    howToStart(...PAGES_PLAIN).then((options) => chromium.launchServer(options)),
  ]);
  let closed: Promise<void> | undefined;
  const close = async (): Promise<void> => {
    await browser.close();
    await served.stop();
  };
  return { url: served.url, endpoint: browser.wsEndpoint(), close: () => (closed ??= close()) };
}

declare module 'vitest' {
  export interface ProvidedContext {
    /** Where the one served app is. */
    appUrl: string;
    /** Where the one browser is. */
    browserEndpoint: string;
  }
}

declare global {
  /** The house of this run: each project of browser files loads this file for itself, and all of them share it. */
  var house: Promise<House> | undefined;
}

/** Opens the house before the first browser file of a run, if there is one, and closes it at the end. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  globalThis.house ??= open();
  const { url, endpoint, close } = await globalThis.house;
  project.provide('appUrl', url);
  project.provide('browserEndpoint', endpoint);
  return close;
}
