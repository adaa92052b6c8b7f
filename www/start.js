// Starts the page, and the shed of tools when one is asked for. All else is in the modules; this
// also says so plainly when they fail, and starts the page once more from what it keeps.
import init from './barrowmix.js';

const AGAIN = 'barrowmix.again';
const at = (name) => new URL(name, import.meta.url);

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

async function fetched() {
  const [module, parts] = await Promise.all([
    import('./shed.js'),
    fetch(at('shed.html')).then((answer) => { if (!answer.ok) throw answer; return answer.text(); }),
  ]);
  await module.default({ module_or_path: at('shed_bg.wasm') });
  module.furnish(new DOMParser().parseFromString(parts, 'text/html'));
  return module;
}

let tools;
// Gives a tool to a control or to dropped files.
async function fetch_tool(use) {
  tools ??= fetched();
  const late = document.getElementById('late');
  let module;
  try {
    module = await tools;
  } catch {
    tools = undefined;
    late.hidden = false;
    return;
  }
  late.hidden = true;
  use(module);
}

const menu = document.querySelector('.menu');
addEventListener('click', (event) => {
  // The menu closes when something of it is chosen, and beside it.
  if (!event.target.closest('summary')) menu.open = false;
  const button = event.target.closest('[data-shed]');
  if (button) fetch_tool((module) => module.open(button));
});
// Files only: a text that is dragged into a box is the browser's.
addEventListener('dragover', (event) => {
  if (event.dataTransfer.types.includes('Files')) event.preventDefault();
});
addEventListener('drop', (event) => {
  const file = event.dataTransfer.files[0];
  if (!file) return;
  event.preventDefault();
  fetch_tool((module) => module.open_file(file));
});

addEventListener('error', (event) => failed(event.error || event.message));
addEventListener('unhandledrejection', (event) => failed(event.reason));

init({ module_or_path: at('barrowmix_bg.wasm') })
  .then(() => setTimeout(() => remembered((store) => store.removeItem(AGAIN)), 5000))
  .catch(failed);
