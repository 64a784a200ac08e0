/*
 * The worker that keeps every file of the app, so that it opens with the network off. A newer version is fetched
 * whole beside the older one and takes over when the last window of that is closed: no window ever mixes two. Only
 * files of the app's own place are asked for, and only by name from its list. It is built as a file of its own and
 * imports nothing.
 */

/** What a worker of this kind has; the page's own library does not say it. */
interface Waiting extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface Asking extends Waiting {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Keeper {
  readonly location: Location;
  readonly clients: { claim(): Promise<void> };
  addEventListener(kind: 'install' | 'activate', does: (e: Waiting) => void): void;
  addEventListener(kind: 'fetch', does: (e: Asking) => void): void;
}

/** Put in by the build: a name that changes with any file, and the files. */
declare const KEPT_AS: string;
declare const KEPT_FILES: readonly string[];

const keeper = self as unknown as Keeper;
const OURS = 'ribtrue-';
const NAME = `${OURS}${KEPT_AS}`;
const MATCH: CacheQueryOptions = { ignoreSearch: true, ignoreVary: true };

async function keepAll(): Promise<void> {
  const cache = await caches.open(NAME);
  await cache.addAll(KEPT_FILES.map((file) => new Request(file, { cache: 'reload' })));
}

async function dropOlder(): Promise<void> {
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith(OURS) && name !== NAME);
  await Promise.all(older.map((name) => caches.delete(name)));
  await keeper.clients.claim();
}

async function keptOrFetched(request: Request): Promise<Response> {
  const wanted = request.mode === 'navigate' ? './' : request;
  const cache = await caches.open(NAME);
  return (await cache.match(wanted, MATCH)) ?? fetch(request);
}

keeper.addEventListener('install', (e) => e.waitUntil(keepAll()));
keeper.addEventListener('activate', (e) => e.waitUntil(dropOlder()));
keeper.addEventListener('fetch', (e) => {
  const isOurs = new URL(e.request.url).origin === keeper.location.origin;
  if (e.request.method === 'GET' && isOurs) e.respondWith(keptOrFetched(e.request));
});
