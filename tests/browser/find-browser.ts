import { accessSync, constants, mkdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';

const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge',
  'chromium-headless-shell',
];
const PLACES = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

const NONE = [
  'The browser tests need Chromium or Chrome, and none was found.',
  '  Debian or Ubuntu: apt-get install chromium',
  '  macOS or Windows: install Chrome',
  '  elsewhere: set BROWSER_PATH to a Chromium program.',
].join('\n');

function runnable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The one that came with the npm packages (64-bit Linux only); undefined where it cannot be had. */
async function packaged(): Promise<string | undefined> {
  if (process.platform !== 'linux' || process.arch !== 'x64') return undefined;
  process.env.AWS_LAMBDA_JS_RUNTIME ??= 'nodejs20.x'; // makes the package unpack its own libraries; must stand before the import
  try {
    const path = await (await import('@sparticuz/chromium')).default.executablePath();
    const fonts = join(tmpdir(), 'ribtrue-test-fonts');
    mkdirSync(fonts, { recursive: true });
    writeFileSync(
      join(fonts, 'fonts.conf'),
      `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>/usr/share/fonts</dir><dir>${join(tmpdir(), 'fonts')}</dir><cachedir>${join(fonts, 'cache')}</cachedir></fontconfig>`,
    );
    process.env.FONTCONFIG_PATH = fonts;
    return path;
  } catch {
    return undefined;
  }
}

/** A Chromium to test with: the one named by BROWSER_PATH, one where people have them, or the one an npm package ships. Throws with a sentence when there is none. */
export async function findBrowser(): Promise<string> {
  const named = process.env.BROWSER_PATH;
  if (named !== undefined) {
    if (runnable(named)) return named;
    throw new Error(`BROWSER_PATH is set to "${named}", but no program can be run there; correct it or unset it.`);
  }
  const onPath = (process.env.PATH ?? '').split(delimiter).flatMap((folder) => NAMES.map((name) => join(folder, name)));
  const found = [...onPath, ...PLACES].find(runnable) ?? (await packaged());
  if (found === undefined) throw new Error(NONE);
  return found;
}

/** What every browser run is started with: software drawing, no calls home. */
export const FLAGS = [
  '--no-sandbox',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
];
