// Starts the page, and the shed of tools when one is asked for. All else is in the modules; this
// also says so plainly when they fail, and starts the page once more from what it keeps.
import init from './barrowmix.js';

const AGAIN = 'barrowmix.again';
// How the browser writes numbers and dates in the language of the page; English ones without a country.
const root = document.documentElement;
const tag = root.lang === 'en' ? 'en-GB' : root.lang;
root.dataset.number = new Intl.NumberFormat(tag, { minimumFractionDigits: 1 }).format(1234567.5);
function days() {
  const format = new Intl.DateTimeFormat(tag, { dateStyle: 'long', timeZone: 'UTC' });
  const month = (_, at) => format.format(Date.UTC(2033, at, 22)).replace('22', '{0}').replace('2033', '{1}');
  return Array.from({ length: 12 }, month).join('\n');
}

const at = (name) => new URL(name, import.meta.url);
const told = (page, name) => page.querySelector(`meta[name=${name}]`)?.content;

function remembered(change) {
  try { return change(sessionStorage); } catch { return null; }
}

function failed(error) {
  const restarted = remembered((store) => store.getItem(AGAIN));
  const report = String(error && error.stack || error);
  if (!restarted && error instanceof WebAssembly.RuntimeError) {
    const kept = remembered((store) => { store.setItem(AGAIN, report); return true; });
    if (kept) { location.reload(); return; }
  }
  document.getElementById('trap-report').value = report + '\n' + location.href;
  document.getElementById('trap').hidden = false;
}

async function parsed(name) {
  const answer = await fetch(at(name));
  if (!answer.ok) throw answer;
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
  if (told(page, 'release') === told(document, 'release')) return page;
  // The host has another release by now; tools of that one would not fit this page.
  import('./offline.js').then(({ fresh }) => fresh(), () => undefined);
  throw 'fresh';
}

async function furnished() {
  const [module, parts] = await Promise.all([import('./shed.js'), parsed('shed.html')]);
  await module.default({ module_or_path: at('shed_bg.wasm') });
  module.furnish(parts, days());
  return module;
}

const kept = {};
// What was fetched once stays; what failed is tried again the next time.
function once(name, get) {
  return kept[name] ??= get(name).catch((error) => { delete kept[name]; throw error; });
}

// Gives a tool to a control or to dropped files, with the page of all materials if it shows one.
async function fetch_tool(use, sheets) {
  // Behind an open dialog nobody would see the page's own alert.
  const late = document.getElementById('late');
  const says = document.querySelector('dialog[open] #shed-says');
  let module, page;
  try {
    [module, page] = await Promise.all([once('shed', furnished), sheets && once(sheets, parsed)]);
  } catch (error) {
    // The line of a newer release says what helps; it lies behind a dialog.
    const line = error === 'fresh' ? document.querySelector('#fresh span') : late;
    if (says) says.textContent = line.textContent;
    late.hidden = !!says || error === 'fresh';
    return;
  }
  late.hidden = true;
  use(module, page);
}

const menu = document.querySelector('.menu');
addEventListener('click', (event) => {
  // A place in the page is gone to without its name in the address, where the recipe stands.
  const place = event.defaultPrevented ? null : event.target.closest('a[href^="#"]');
  const there = place && document.getElementById(place.hash.slice(1));
  if (there) {
    event.preventDefault();
    there.tabIndex = -1;
    there.focus({ preventScroll: true });
    there.scrollIntoView();
  }
  // Another language opens with what stands in the address.
  const other = event.target.closest('a[hreflang]');
  if (other) other.href = other.href.split(/[?#]/)[0] + location.search.replace(/([?&])lang=[^&]*&?/, '$1').replace(/[?&]$/, '') + location.hash;
  // The menu closes when something of it is chosen, and beside it.
  if (!event.target.closest('summary')) menu.open = false;
  const button = event.target.closest('[data-shed]');
  if (!button) return;
  const sheets = button.dataset.shed === 'sheet' ? 'materials.html' : undefined;
  fetch_tool((module, page) => module.open(button, page), sheets);
});
// What is wider than its box is moved by keys: then the box is a stop with a name of its own.
function reach() {
  for (const box of document.querySelectorAll('.scroll')) {
    const wide = box.scrollWidth > box.clientWidth + 1;
    if (wide === box.hasAttribute('tabindex')) continue;
    const [what] = box.children;
    const told = what.caption ?? document.getElementById(what.getAttribute('aria-labelledby'));
    const name = what.ariaLabel ?? told?.textContent;
    for (const [key, value] of [['tabindex', 0], ['role', 'region'], ['aria-label', name]]) {
      if (wide) box.setAttribute(key, value); else box.removeAttribute(key);
    }
  }
}
addEventListener('keydown', (event) => {
  if (event.key === 'Tab') reach();
  if (event.key !== 'Escape' || !menu.open) return;
  menu.open = false;
  menu.firstElementChild.focus();
}, true);
// A menu that is left by keys lies over nothing.
addEventListener('focusout', ({ target, relatedTarget }) => {
  const left = target.closest('.menu, .lectern-more');
  if (left && relatedTarget && !left.contains(relatedTarget)) left.open = false;
});
// Alt+L, or `?lectern` in the address, shows it large; `?lectern=half_sand` a ready sequence.
const large = document.getElementById('lectern-open');
const embedded = 'embed' in root.dataset;
addEventListener('keydown', (event) => {
  if (!embedded && event.altKey && !event.ctrlKey && event.code === 'KeyL' && !document.querySelector('dialog[open]')) {
    event.preventDefault();
    large.click();
  }
});
function enlarged() {
  const which = new URLSearchParams(location.search).get('lectern');
  if (which === null || embedded) return;
  large.dataset.of = which;
  large.click();
}
// `?system=uk` opens the section on texture elsewhere with that system.
function elsewhere() {
  const which = new URLSearchParams(location.search).get('system');
  if (!which || embedded) return;
  const button = document.getElementById('systems-open');
  button.dataset.of = which;
  button.click();
}
// A link that is copied later is for the recipe.
addEventListener('close', ({ target }) => {
  const address = new URL(location);
  if (target.id !== 'lectern' || !address.searchParams.has('lectern')) return;
  address.searchParams.delete('lectern');
  try { history.replaceState(null, '', address); } catch { /* it stays */ }
}, true);
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

// The address of a file, or of a frame without one, leads nobody here.
if (!location.protocol.startsWith('http')) document.querySelector('[data-do=copy-link]').hidden = true;

addEventListener('error', (event) => failed(event.error || event.message));
addEventListener('unhandledrejection', (event) => failed(event.reason));

// Once the outcome stands: keeps this release for when there is no network, unless the page is a
// part of another one or no site at all.
function keep() {
  const script = told(document, 'worker');
  if (!script || embedded || location.protocol === 'file:') return;
  const idle = window.requestIdleCallback ?? setTimeout;
  idle(() => import('./offline.js').then((offline) => offline.keep(at(script))).catch(() => undefined));
}

init({ module_or_path: at('barrowmix_bg.wasm') })
  .then(() => {
    enlarged();
    elsewhere();
    setTimeout(() => remembered((store) => store.removeItem(AGAIN)), 5000);
    keep();
  })
  .catch(failed);
