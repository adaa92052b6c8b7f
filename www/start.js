// Starts the page. All else is in the module; this also says so plainly when it fails, and starts
// it once more from the recipe in the address.
import init from './barrowmix.js';

const AGAIN = 'barrowmix.again';

function remembered(change) {
  try { return change(sessionStorage); } catch { return null; }
}

function failed(error) {
  const restarted = remembered((store) => store.getItem(AGAIN));
  const report = document.documentElement.dataset.trap || String(error && error.stack || error);
  if (!restarted && error instanceof WebAssembly.RuntimeError) {
    const kept = remembered((store) => { store.setItem(AGAIN, report); return true; });
    if (kept) { location.reload(); return; }
  }
  document.getElementById('trap-report').value = report + '\n' + location.href;
  document.getElementById('trap').hidden = false;
}

addEventListener('error', (event) => failed(event.error || event.message));
addEventListener('unhandledrejection', (event) => failed(event.reason));

init({ module_or_path: new URL('barrowmix_bg.wasm', import.meta.url) })
  .then(() => setTimeout(() => remembered((store) => store.removeItem(AGAIN)), 5000))
  .catch(failed);
