// How the address wants the page shown, before anything is drawn: `theme` anywhere, and `?embed` for
// the frame of another site, with `show` and `units`. `lang` leads to the page of another language, if
// there is one. What is not understood counts as not asked for.
'use strict';
{
  const root = document.documentElement;
  const asked = new URLSearchParams(location.search);
  const one = (name, of) => of.find((word) => word === asked.get(name)?.trim().toLowerCase());

  const spoken = asked.get('lang')?.trim().toLowerCase().split('-')[0];
  const page = /^[a-z]+$/.test(spoken ?? '') && spoken !== root.lang
    && document.querySelector(`link[rel=alternate][hreflang=${spoken}]`);
  if (page) {
    asked.delete('lang');
    location.replace(`${page.href}${asked.size ? '?' + asked : ''}${location.hash}`);
  }

  const theme = one('theme', ['light', 'dark']);
  if (theme) root.dataset.theme = theme;

  if (asked.has('embed')) {
    const parts = ['ground', 'barrow', 'verdict', 'figures', 'triangle', 'column'];
    const wanted = asked.getAll('show').join().toLowerCase().split(/[\s,]+/);
    const shown = parts.filter((part) => wanted.includes(part));
    root.dataset.embed = '';
    root.dataset.show = (shown.length ? shown : parts.slice(1)).join(' ');
    keep_nothing(one('units', ['metric', 'us']));
    lead_out();
    place_dialogs();
    if (parent !== window) tell_height(parent);
  }

  // An embedded page has a memory of its own, which ends with it: several on one page, and the
  // reader's own recipe at the address it comes from, stay apart.
  function keep_nothing(units) {
    const held = new Map(units && [['barrowmix.units', units]]);
    const value = {
      get length() { return held.size; },
      key: (at) => [...held.keys()][at] ?? null,
      getItem: (name) => held.get(name) ?? null,
      setItem: (name, text) => { held.set(name, text); },
      removeItem: (name) => { held.delete(name); },
    };
    try { Object.defineProperty(window, 'localStorage', { value }); } catch { /* then it is as it is */ }
  }

  // The link to the whole page carries the recipe as it stands, and other pages open beside the
  // host's: in the frame there would be no way back.
  function lead_out() {
    for (const kind of ['pointerdown', 'focusin']) {
      addEventListener(kind, ({ target }) => {
        const link = target.closest?.('#whole, a[href*=".html"]');
        if (!link) return;
        link.target = '_blank';
        if (link.id) link.href = location.pathname + (theme ? `?theme=${theme}` : '') + location.hash;
      });
    }
  }

  // In a frame as high as its page a dialog belongs where it was asked for, or nobody sees it.
  function place_dialogs() {
    addEventListener('click', ({ target }) => {
      if (target.closest?.('dialog')) return;
      root.style.setProperty('--at', `${Math.round(target.getBoundingClientRect().top)}px`);
    }, true);
  }

  // Tells the host its height, whenever that is another and when the host asks; nobody else.
  function tell_height(host) {
    const origin = location.ancestorOrigins?.[0];
    const known = origin !== 'null' && origin;
    let told, due;
    const tell = () => {
      due = undefined;
      // Before the outcome stands there is no height to speak of.
      if (root.dataset.ready === undefined && !document.querySelector('.alert:not([hidden])')) return;
      told = Math.ceil(document.body.getBoundingClientRect().height);
      host.postMessage({ barrowmix: 1, height: told }, known || '*');
    };
    addEventListener('message', ({ source, origin, data }) => {
      if (source !== host || (known && origin !== known)) return;
      if (data?.barrowmix === 1 && data.ask === 'height' && told) due ??= setTimeout(tell, 16);
    });
    addEventListener('DOMContentLoaded', () => {
      new ResizeObserver(([{ target }]) => {
        if (Math.ceil(target.getBoundingClientRect().height) !== told) tell();
      }).observe(document.body);
    });
  }
}
