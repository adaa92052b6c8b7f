// Keeps one release of the page for when there is no network. The first two lines below are written
// by `cargo site`: the release, and each file with its SHA-256. What does not fit that is not kept,
// so a release is here as a whole or not at all.
const RELEASE = '';
const FILES = {};

const scope = new URL(self.registration.scope).pathname;
// Others of this origin have caches too, and so may this page in another folder.
const OURS = `barrowmix ${scope} `;
const CACHE = OURS + RELEASE;

const address = (name) => new URL(name, self.registration.scope).href;
const fetched = (name) => fetch(address(name), { cache: 'reload', integrity: FILES[name] });

async function keep() {
  const files = await Promise.all(Object.keys(FILES).map(async (name) => {
    const answer = await fetched(name);
    if (!answer.ok) throw new Error(`${answer.status} ${name}`);
    // A host that sends elsewhere: a page would not be opened with such an answer.
    const { status, statusText, headers } = answer;
    return [name, new Response(await answer.blob(), { status, statusText, headers })];
  }));
  try {
    const cache = await caches.open(CACHE);
    await Promise.all(files.map(([name, answer]) => cache.put(address(name), answer)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

async function tidy() {
  for (const name of await caches.keys()) {
    if (name.startsWith(OURS) && name !== CACHE) await caches.delete(name);
  }
  // So that the first visit's tools come from here too.
  await self.clients.claim();
}

// The file of an address, if it is one of the release; some hosts leave out `.html`.
function file_of(url) {
  if (url.origin !== self.location.origin || !url.pathname.startsWith(scope)) return undefined;
  const name = url.pathname.slice(scope.length) || 'index.html';
  return [name, `${name}.html`].find((each) => Object.hasOwn(FILES, each));
}

async function answer(event, name) {
  const here = await caches.has(CACHE).catch(() => false);
  const cache = here ? await caches.open(CACHE).catch(() => undefined) : undefined;
  const own = await cache?.match(address(name), { ignoreVary: true });
  if (event.request.mode !== 'navigate') {
    // What was lost since its page came may only be replaced by the same.
    return own ?? (cache ? fetched(name) : fetch(event.request));
  }
  // A page comes from here only if all of its release is here.
  if (own && (await cache.keys()).length === Object.keys(FILES).length) return own;
  // Else the rest goes too: all comes from the host, until the release is whole again, which needs it
  // to be there still.
  await caches.delete(CACHE).catch(() => undefined);
  event.waitUntil(keep().catch(() => undefined));
  return fetch(event.request);
}

self.addEventListener('install', (event) => event.waitUntil(keep()));
self.addEventListener('activate', (event) => event.waitUntil(tidy()));
// It waits until all pages of the release before are closed, or until someone asks for it.
self.addEventListener('message', (event) => {
  if (event.data === 'use') self.skipWaiting();
  if (event.data === 'release') event.ports[0].postMessage(RELEASE);
});
self.addEventListener('fetch', (event) => {
  const name = event.request.method === 'GET' && file_of(new URL(event.request.url));
  if (name) event.respondWith(answer(event, name));
});
