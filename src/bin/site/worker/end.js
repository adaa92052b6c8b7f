// Takes the place of the worker that kept releases, lets go of all it kept, and leaves.
const OURS = `barrowmix ${new URL(self.registration.scope).pathname} `;

async function leave() {
  for (const name of await caches.keys()) {
    if (name.startsWith(OURS)) await caches.delete(name);
  }
  await self.registration.unregister();
}

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(leave()));
