// Asks the browser to keep this release for when there is no network, and says when a newer one is
// ready. The page works without: everything here may be missing or throw.

const line = document.getElementById('fresh');
let ask = () => location.reload();

// A newer release waits, or has come behind this page's back.
export function fresh(worker) {
  ask = () => {
    if (!worker || worker.state !== 'installed') { location.reload(); return; }
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
    worker.postMessage('use');
  };
  line.hidden = false;
}

line.querySelector('[data-fresh=use]').addEventListener('click', () => ask());
line.querySelector('[data-fresh=later]').addEventListener('click', () => { line.hidden = true; });

function watch(worker) {
  worker?.addEventListener('statechange', () => {
    // Without a worker before it, it is this release's own.
    if (worker.state === 'installed' && navigator.serviceWorker.controller) fresh(worker);
  });
}

export async function keep(script) {
  const workers = navigator.serviceWorker;
  if (!workers || navigator.connection?.saveData) return;
  let held = !!workers.controller;
  const registered = await workers.register(script, { updateViaCache: 'none' });
  if (registered.waiting && held) fresh(registered.waiting);
  watch(registered.installing);
  registered.addEventListener('updatefound', () => watch(registered.installing));
  // The first one takes this page over; after that another tab has asked for a newer one.
  workers.addEventListener('controllerchange', () => {
    if (held) fresh();
    held = true;
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') registered.update().catch(() => undefined);
  });
}
