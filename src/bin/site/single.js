// Stands before the modules of the page where all of it is in one file: what elsewhere lies beside
// `index.html` is brought along, as data, and no network is asked.
const part_of = (name) => document.querySelector(`script[data-part="${name}"]`);

const fetch = async (name) => {
  const part = part_of(name);
  if (!part) return new Response(null, { status: 404 });
  const letters = atob(part.textContent);
  const bytes = new Uint8Array(letters.length);
  for (let at = 0; at < bytes.length; at += 1) bytes[at] = letters.charCodeAt(at);
  const kind = name.endsWith('.wasm') ? 'application/wasm' : 'text/html';
  return new Response(bytes, { headers: { 'Content-Type': kind } });
};

// Pages beside this one are read in its place, until a link leads back.
const reading = document.createElement('div');
const own_title = document.title;
let stood_at = 0;

// The way back is the browser's own. Some frames have no history to write to.
function note(page) {
  try { history.pushState(page, ''); } catch { /* the links lead back */ }
}

function leave_page() {
  if (!reading.isConnected) return;
  reading.remove();
  delete document.documentElement.dataset.reading;
  document.title = own_title;
  scrollTo(0, stood_at);
}

async function read_page(name, place) {
  if (reading.dataset.page !== name) {
    const page = new DOMParser().parseFromString(await (await fetch(name)).text(), 'text/html');
    reading.replaceChildren(...page.body.childNodes);
    reading.dataset.page = name;
    reading.dataset.title = page.title;
  }
  document.querySelector('dialog[open]')?.close();
  if (!reading.isConnected) {
    stood_at = scrollY;
    document.body.append(reading);
    document.documentElement.dataset.reading = '';
  }
  document.title = reading.dataset.title;
  const target = place && reading.querySelector(`#${CSS.escape(place)}`);
  const heading = target || reading.querySelector('h1');
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
  if (target) target.scrollIntoView(); else scrollTo(0, 0);
}

addEventListener('click', (event) => {
  const link = event.target.closest('a[href]');
  if (!link) return;
  const [name, place] = link.getAttribute('href').split('#');
  const inside = reading.contains(link);
  if (inside && name === './') {
    event.preventDefault();
    note({});
    leave_page();
  } else if (inside && !name) {
    event.preventDefault();
    note({ name: reading.dataset.page, place });
    read_page(reading.dataset.page, place);
  } else if (part_of(name)) {
    event.preventDefault();
    note({ name, place });
    read_page(name, place);
  }
});
addEventListener('popstate', ({ state }) => {
  if (state?.name) read_page(state.name, state.place); else leave_page();
});

const made = {};
const brought = (name) => made[name] ??= modules[name]();
