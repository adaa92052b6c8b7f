// Asks the browser to keep this release for when there is no network, and says when a newer one is
// ready. The page works without: everything here may be missing or throw.

const line = document.getElementById('fresh');
const own = document.querySelector('meta[name=release]').content;
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

// What a worker keeps; nothing from one that is not of this page, or is leaving.
function release_of(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(resolve, 3000);
    worker.postMessage('release', [port2]);
  });
}

async function compare(worker) {
  const release = worker && await release_of(worker);
  if (!release) return;
  if (release !== own) fresh(worker);
  // The host gave this page's release already, and the one kept before it is not needed.
  else if (worker.state === 'installed') worker.postMessage('use');
}

function watch(worker) {
  worker?.addEventListener('statechange', () => {
    if (worker.state === 'installed') compare(worker);
  });
}

export async function keep(script) {
  const workers = navigator.serviceWorker;
  if (!workers || navigator.connection?.saveData) return;
  const registered = await workers.register(script, { updateViaCache: 'none' });
  compare(registered.waiting);
  watch(registered.installing);
  registered.addEventListener('updatefound', () => watch(registered.installing));
  // Another tab may have asked for a newer one.
  workers.addEventListener('controllerchange', () => compare(workers.controller));
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') registered.update().catch(() => undefined);
  });
}
