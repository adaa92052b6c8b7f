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

async function kept(name) {
  if (!await caches.has(CACHE)) return undefined;
  const cache = await caches.open(CACHE);
  const answer = await cache.match(address(name), { ignoreVary: true });
  // A part is lost: the rest goes too, or two releases would mix.
  if (!answer) await caches.delete(CACHE);
  return answer;
}

async function answer(event, name) {
  const own = await kept(name).catch(() => undefined);
  if (own) return own;
  // All comes from the host until the release is whole again, which needs it to be there still.
  if (event.request.mode === 'navigate') event.waitUntil(keep().catch(() => undefined));
  return fetch(event.request);
}

self.addEventListener('install', (event) => event.waitUntil(keep()));
self.addEventListener('activate', (event) => event.waitUntil(tidy()));
// It waits until all pages of the release before are closed, or until someone asks for it.
self.addEventListener('message', (event) => {
  if (event.data === 'use') self.skipWaiting();
});
self.addEventListener('fetch', (event) => {
  const name = event.request.method === 'GET' && file_of(new URL(event.request.url));
  if (name) event.respondWith(answer(event, name));
});
