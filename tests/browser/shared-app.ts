import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, inject } from 'vitest';
import { appAt, type OpenApp } from './open-app.ts';

/** The one served app and the one browser of the run, for the tests of a file; what they leave open is closed after the last. */
export function sharedApp(): OpenApp {
  const url = inject('appUrl');
  let connected: Browser | undefined;
  const browser = (): Browser => {
    if (!connected) throw new Error('the browser is there once the tests have begun');
    return connected;
  };
  beforeAll(async () => {
    connected = await chromium.connect(inject('browserEndpoint'));
  });
  afterAll(() => connected?.close());
  return {
    url,
    get browser() {
      return browser();
    },
    page: (options) => appAt(url, browser()).page(options),
  };
}
