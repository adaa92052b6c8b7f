// What scenes of reach ask a page about itself. Every question answers with a list of what is
// wrong, in words that lead to the place; an empty list is what is hoped for.
window.reach = (() => {
  const seen = (e) => e.getClientRects().length > 0 && e.checkVisibility({ visibilityProperty: true }) && !e.closest('.unseen');
  const top = () => [...document.querySelectorAll('dialog[open]')].pop() ?? document;
  const all = (selector, from = top()) => [...from.querySelectorAll(selector)].filter(seen);
  const name = (e) => {
    const by = e.getAttribute('aria-labelledby')?.split(' ').map((id) => document.getElementById(id)?.textContent ?? '').join(' ');
    return (by || e.getAttribute('aria-label') || (e.labels && [...e.labels].map((l) => l.textContent).join(' ')) || e.querySelector?.('caption, legend')?.textContent || '').trim();
  };
  const what = (e) => {
    const own = e.id ? `#${e.id}` : e.name ? `[name=${e.name}]` : e.dataset?.part ? `[part=${e.dataset.part}]` : `.${e.getAttribute?.('class') ?? ''}`;
    const at = e.parentElement?.closest('[id], [data-part], [data-panel]');
    const text = (e.textContent || e.value || '').trim().replace(/\s+/g, ' ').slice(0, 40);
    return `${at ? at.id || at.dataset.part || at.dataset.panel : ''}>${e.tagName.toLowerCase()}${own} “${text}”`;
  };

  // Light as WCAG 2.2 reckons it, of a colour as the browser computes it.
  const light = (c) => {
    const [r, g, b] = c.match(/[\d.]+/g).slice(0, 3).map((n) => n / (c.startsWith('color(') ? 1 : 255)).map((n) => n <= .04045 ? n / 12.92 : ((n + .055) / 1.055) ** 2.4);
    return .2126 * r + .7152 * g + .0722 * b;
  };
  const clear = (c) => c === 'transparent' || /^rgba.*, 0\)$|\/ 0\)$/.test(c);
  const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + .05) / (y + .05); };
  const ground = (e) => {
    for (; e; e = e.parentElement) {
      const c = getComputedStyle(e).backgroundColor;
      if (!clear(c)) return c;
    }
    return getComputedStyle(document.documentElement).backgroundColor;
  };

  // A stop of the focus: whether it can be seen there.
  function stop(e) {
    const wrong = [];
    const label = what(e);
    const ring = [e, e.nextElementSibling].filter(Boolean).map((x) => [x, getComputedStyle(x)])
      .find(([, s]) => s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2 && !clear(s.outlineColor));
    if (!ring) wrong.push(`${label}: no mark of the focus`);
    else {
      const by = ratio(ring[1].outlineColor, ground(ring[0].parentElement));
      if (by < 3) wrong.push(`${label}: its mark has a contrast of ${by.toFixed(2)}`);
    }
    const box = [...e.getClientRects()].find((r) => r.width > 0 && r.height > 0);
    if (!box) return [...wrong, `${label}: is nowhere`];
    const [left, right, up, down] = [Math.max(box.left, 0), Math.min(box.right, innerWidth), Math.max(box.top, 0), Math.min(box.bottom, innerHeight)];
    if (right - left < Math.min(box.width, innerWidth) - 1 || down - up < Math.min(box.height, innerHeight * .6) - 1) wrong.push(`${label}: off the screen at ${[box.left, box.top, box.right, box.bottom].map(Math.round)}`);
    const inset = (part) => Math.min(3, part / 4);
    const [x, y] = [inset(box.width), inset(box.height)];
    const fits = box.height <= innerHeight * .6;
    const places = fits ? [[left + x, up + y], [right - x, up + y], [left + x, down - y], [right - x, down - y], [(left + right) / 2, (up + down) / 2]] : [[(left + right) / 2, (up + down) / 2]];
    for (const [px, py] of places) {
      const hit = document.elementFromPoint(px, py);
      // Where room is kept for a scrollbar, nothing is.
      const own = !hit || (e.contains(hit) || hit.contains(e) || [...e.labels ?? []].some((l) => l.contains(hit)));
      if (!own) { wrong.push(`${label}: covered at ${Math.round(px)}, ${Math.round(py)} by ${what(hit)}`); break; }
    }
    return wrong;
  }

  // Hears every stop of a walk, when the page has come to rest on it: at the next key.
  let walked = [];
  let wrong = [];
  function look() {
    const e = document.activeElement;
    const out = !e || e === document.body || e === document.documentElement;
    walked.push(out ? null : e);
    // A heading that a press has led to is no control.
    if (!out && e.tabIndex >= 0) wrong.push(...stop(e));
  }
  const heard = (event) => { if (event.key === 'Tab' || event.key === 'F9') look(); };
  const walk = {
    begin() { walked = []; wrong = []; addEventListener('keydown', heard, true); },
    end() {
      removeEventListener('keydown', heard, true);
      const stops = walked.map((e) => e && what(e));
      return { stops, wrong: [...new Set(wrong)], places: walked.map((e) => e && places.indexOf(e)) };
    },
  };
  // What the focus has to come to, in the order of the page.
  let places = [];
  function reachable() {
    const found = all('a[href], button, input, select, textarea, summary, [tabindex]').filter((e) => {
      if (e.disabled || e.tabIndex < 0 || e.matches('fieldset[disabled] *')) return false;
      const folded = e.closest('details:not([open])');
      if (folded && !(e.matches('summary') && e.parentElement === folded)) return false;
      if (e.type === 'radio') {
        const group = [...document.querySelectorAll(`input[type=radio][name="${e.name}"]`)].filter(seen);
        return e.checked || (!group.some((r) => r.checked) && group[0] === e);
      }
      return true;
    });
    places = found;
    return found.map(what);
  }

  // Nothing is wider than the screen but what scrolls in a box of its own, which has a name and
  // can be scrolled by keys.
  function sideways() {
    const wrong = [];
    const over = document.scrollingElement.scrollWidth - innerWidth;
    if (over > 0) {
      const wide = all('body *', document).filter((e) => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('.scroll, svg')).slice(0, 3).map(what);
      wrong.push(`${over} px too wide: ${wide}`);
    }
    for (const e of all('*')) {
      if (e.scrollWidth <= e.clientWidth + 1 || e.clientWidth === 0) continue;
      if (!/auto|scroll/.test(getComputedStyle(e).overflowX) || e.matches('input, select, textarea')) continue;
      if (!e.querySelector('table, svg[role=img]')) wrong.push(`${what(e)}: scrolls sideways and is no table`);
      if (e.tabIndex < 0 || !e.hasAttribute('tabindex')) wrong.push(`${what(e)}: scrolls, and no key comes there`);
      if (e.getAttribute('role') !== 'region' || !name(e)) wrong.push(`${what(e)}: scrolls and has no name`);
    }
    return wrong;
  }

  // Text that is cut off, leaves the screen or lies on other text.
  function clipped() {
    const wrong = [];
    const scope = top();
    const rects = [];
    for (const e of all('body *, dialog *', document).filter((e) => scope === document || scope.contains(e))) {
      const style = getComputedStyle(e);
      if (e.ownerSVGElement || e.matches('option, pre[hidden], script, textarea')) continue;
      if (e.closest('.trial-cards thead')) continue;
      // Two lines at a wide desk, so that nothing moves: all of it is told where it leads to.
      if (e.matches('.words > .from')) continue;
      const cuts = /hidden|clip/.test(style.overflowX) || /hidden|clip/.test(style.overflowY);
      if (cuts && e.textContent.trim() && !e.matches('svg') && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 2)) wrong.push(`${what(e)}: cut off`);
      if (e.matches('input[type=text], input[type=search]')) {
        if (e.scrollWidth > e.clientWidth + 1 && !e.matches('.words, .title, [name=lectern-caption], [name=blend-name]')) wrong.push(`${what(e)} ${name(e)}: shows not all of “${e.value || e.placeholder}”`);
      }
      const over = e.closest('.trial-says, .fresh, .lectern-foot, .shed-head, .shed-foot, .strip, .menu > div, .skip, thead .shelf-number, .shelf-table :is(thead td, tbody th)');
      if (over && scope !== over) continue;
      // What is scrolled out of its box is not seen.
      const box = e.closest('.finds')?.getBoundingClientRect();
      const shown = (r) => !box || (r.bottom > box.top + 2 && r.top < box.bottom - 2);
      for (const node of e.childNodes) {
        if (node.nodeType !== 3 || !node.data.trim()) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        for (const r of range.getClientRects()) {
          if (r.width < 2 || r.height < 2 || !shown(r)) continue;
          if ((r.right > innerWidth + 1 || r.left < -1) && !e.closest('.scroll')) wrong.push(`${what(e)}: leaves the screen at ${Math.round(r.right)}`);
          rects.push([r, e]);
        }
      }
      if (e.matches('button, select, input:not([type=range]):not(.trial-tabs input)') && !e.textContent.trim() && shown(e.getBoundingClientRect())) rects.push([e.getBoundingClientRect(), e]);
    }
    rects.sort((a, b) => a[0].top - b[0].top);
    for (let i = 0; i < rects.length; i++) {
      const [a, e] = rects[i];
      for (let k = i + 1; k < rects.length && rects[k][0].top < a.bottom; k++) {
        const [b, f] = rects[k];
        if (e === f || e.contains(f) || f.contains(e)) continue;
        const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        // Lines of text keep room above and below their letters.
        if (wide > 2 && high > .3 * Math.min(a.height, b.height)) wrong.push(`${what(e)} lies on ${what(f)}`);
      }
    }
    return [...new Set(wrong)];
  }

  // Targets of 24 px, or with room around them (2.5.8).
  function small() {
    const found = [];
    for (const e of all('a[href], button, input, select, textarea, summary, [role=application][tabindex]')) {
      if (e.disabled) continue;
      // A link within a sentence is as high as its line.
      if (e.matches('a, .why, .ways button') && getComputedStyle(e).display === 'inline' && e.parentElement.textContent.trim().length > e.textContent.trim().length + 2) continue;
      const boxes = [e, ...e.labels ?? []].map((x) => x.getBoundingClientRect()).filter((r) => r.width);
      const of = e.matches('[type=radio], [type=checkbox]') ? boxes : boxes.slice(0, 1);
      if (!of.length) continue;
      found.push({ e, left: Math.min(...of.map((r) => r.left)), right: Math.max(...of.map((r) => r.right)), top: Math.min(...of.map((r) => r.top)), bottom: Math.max(...of.map((r) => r.bottom)) });
    }
    const wrong = [];
    const little = (t) => t.right - t.left < 23.9 || t.bottom - t.top < 23.9;
    for (const t of found.filter(little)) {
      const [x, y] = [(t.left + t.right) / 2, (t.top + t.bottom) / 2];
      const near = found.find((o) => o !== t && !o.e.contains(t.e) && !t.e.contains(o.e) && (little(o)
        ? Math.hypot((o.left + o.right) / 2 - x, (o.top + o.bottom) / 2 - y) < 24
        : Math.hypot(Math.max(o.left - x, 0, x - o.right), Math.max(o.top - y, 0, y - o.bottom)) < 12));
      if (near) wrong.push(`${what(t.e)}: ${(t.right - t.left).toFixed(1)} by ${(t.bottom - t.top).toFixed(1)} px, close to ${what(near.e)}`);
    }
    return wrong;
  }

  // Tables have a name and heads that say of what.
  function tables() {
    const wrong = [];
    for (const t of [...top().querySelectorAll('table')].filter((t) => !t.closest('[hidden], #sheet-of-paper') && t.rows.length)) {
      if (!name(t)) wrong.push(`${what(t)}: no name`);
      const heads = [...t.querySelectorAll('th')];
      if (!heads.length) wrong.push(`${what(t)}: no heads`);
      const bare = heads.filter((h) => !h.scope);
      if (bare.length) wrong.push(`${what(t)}: ${bare.length} heads without a scope: ${bare[0].textContent}`);
      if (heads.some((h) => h.scope === 'col' && !h.textContent.trim())) wrong.push(`${what(t)}: an empty head`);
      for (const row of t.tBodies[0]?.rows ?? []) if (!row.querySelector('th') && row.cells.length > 1) { wrong.push(`${what(t)}: a row without a head: ${row.textContent.slice(0, 40)}`); break; }
    }
    return wrong;
  }

  // Each plot has a name, a sentence and its numbers in a table.
  function plots() {
    const wrong = [];
    for (const svg of all('svg[role], img')) {
      if (svg.closest('.sketch, .steps-list')) continue;
      if (!name(svg) && !svg.alt) wrong.push(`${what(svg)}: no name`);
      if (svg.matches('[role=img]') && svg.querySelector('a, button, input, select, [tabindex]')) wrong.push(`${what(svg)}: the focus comes into a picture`);
      const figure = svg.closest('figure');
      if (!figure) continue;
      const says = figure.querySelector('figcaption')?.textContent.trim() ?? '';
      if (!/\w+ \w+ .*\.|:/.test(says)) wrong.push(`${what(svg)}: no sentence, but “${says}”`);
      const table = svg.getAttribute('aria-details') ? document.getElementById(svg.getAttribute('aria-details')) : figure.querySelector('table');
      const rows = table?.matches('table') ? table : table?.querySelector('table');
      if (!rows?.tBodies[0]?.rows.length) wrong.push(`${what(svg)}: no table`);
    }
    for (const svg of all('svg:not([role]):not([aria-hidden])')) if (!svg.closest('[aria-hidden=true], svg svg')) wrong.push(`${what(svg)}: neither a picture nor hidden`);
    return wrong;
  }

  // In the colours that a reader has chosen, marks are drawn in those.
  function forced() {
    const chosen = new Set();
    const probe = document.createElement('i');
    document.body.append(probe);
    for (const c of ['Canvas', 'CanvasText', 'Highlight', 'HighlightText', 'LinkText', 'GrayText', 'ButtonText', 'ButtonFace', 'Field', 'FieldText']) { probe.style.color = c; chosen.add(getComputedStyle(probe).color); }
    probe.style.color = 'Canvas';
    const canvas = getComputedStyle(probe).color;
    probe.remove();
    const wrong = new Map();
    const tell = (e, why) => wrong.set(`${why} ${e.getAttribute('class')}`, `${what(e)}: ${why}`);
    for (const e of all('svg :is(path, rect, circle, line, polygon, polyline, text, ellipse)')) {
      if (e.closest('defs, pattern')) continue;
      const s = getComputedStyle(e);
      if (s.fillOpacity === '0' && s.stroke === 'none') continue;
      const has = (c) => c !== 'none' && !clear(c);
      for (const [kind, c] of [['fill', s.fill], ['stroke', s.stroke]]) {
        if (has(c) && !c.startsWith('url') && !chosen.has(c)) tell(e, `${kind} ${c} is none of the reader's colours`);
      }
      const marks = (has(s.fill) && s.fill !== canvas) || (has(s.stroke) && s.stroke !== canvas);
      if (!marks && !e.matches('.dots:not(.rim), .sweep-contour-under, [class=hit], .region') && (has(s.fill) || has(s.stroke))) tell(e, 'cannot be seen');
    }
    for (const e of document.querySelectorAll('pattern :is(path, rect, circle)')) {
      const s = getComputedStyle(e);
      for (const c of [s.fill, s.stroke]) if (c !== 'none' && !chosen.has(c)) tell(e, `${c} in a pattern is none of the reader's colours`);
    }
    return [...wrong.values()];
  }

  // Counts what screen readers are told.
  const told = [];
  const ears = [];
  function listen() {
    told.length = 0;
    for (const ear of ears.splice(0)) ear.disconnect();
    for (const e of document.querySelectorAll('[role=status], [role=alert], [aria-live]')) {
      let last = e.textContent.trim();
      const ear = new MutationObserver(() => {
        const now = e.textContent.trim();
        if (now !== last && now && !e.closest('[hidden]')) told.push(`${e.id || e.dataset.part}: ${now}`);
        last = now;
      });
      ear.observe(e, { subtree: true, childList: true, characterData: true });
      ears.push(ear);
    }
  }

  // Ids stand once, and what refers to one finds it.
  function ties() {
    const wrong = [];
    const ids = [...document.querySelectorAll('[id]')].map((e) => e.id);
    for (const id of new Set(ids.filter((id, i) => ids.indexOf(id) !== i))) wrong.push(`#${id} stands more than once`);
    for (const of of ['aria-labelledby', 'aria-describedby', 'aria-controls', 'aria-details', 'for']) {
      for (const e of document.querySelectorAll(`[${of}]:not(dialog:not([open]))`)) for (const id of e.getAttribute(of).split(' ')) if (!document.getElementById(id)) wrong.push(`${what(e)}: ${of} ${id} is not there`);
    }
    return wrong;
  }

  // Headings go down one level at a time.
  function headings() {
    const wrong = [];
    let last = top() === document ? 0 : 1;
    for (const h of all('h1, h2, h3, h4, h5, h6').concat().filter((h) => !h.closest('#sheet-of-paper'))) {
      const level = Number(h.tagName[1]);
      if (level > last + 1) wrong.push(`${what(h)}: level ${level} after ${last}`);
      if (!h.textContent.trim()) wrong.push(`${what(h)}: an empty heading`);
      last = level;
    }
    return wrong;
  }

  // Each slider says its value as words do: with a unit, or a word.
  function sliders() {
    return all('input[type=range]').filter((e) => !/[^\d\s.,−-]/.test(e.getAttribute('aria-valuetext') ?? '')).map((e) => `${what(e)}: says only “${e.getAttribute('aria-valuetext')}”`);
  }

  // A box that is given a word instead of a number says so beside it, keeps what was typed and
  // tells what it takes; put right, it is quiet again.
  async function refuses(selector) {
    const wrong = [];
    const next = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
    const boxes = () => all(`${selector} input[inputmode=decimal]:enabled`);
    const type = async (box, text) => {
      box.focus();
      box.value = text;
      for (const kind of ['input', 'change']) box.dispatchEvent(new Event(kind, { bubbles: true }));
      await next();
      await next();
    };
    for (let i = 0; i < boxes().length; i++) {
      const before = boxes()[i].value;
      for (const [text, told] of [['lots', /\w \w/], ['-123456789', /\d/]]) {
        await type(boxes()[i], text);
        const box = boxes()[i];
        const says = (box.getAttribute('aria-describedby') ?? '').split(' ').map((id) => document.getElementById(id)).filter((e) => e && !e.matches('.hint')).map((e) => e.textContent).join(' ');
        if (box.value !== text) wrong.push(`${what(box)} ${name(box)}: “${text}” did not stay, but “${box.value}”`);
        if (box.getAttribute('aria-invalid') !== 'true') wrong.push(`${what(box)} ${name(box)}: is not said to be wrong with “${text}”`);
        if (!told.test(says)) wrong.push(`${what(box)} ${name(box)}: says “${says}” of “${text}”`);
      }
      await type(boxes()[i], before);
      if (boxes()[i].getAttribute('aria-invalid') === 'true') wrong.push(`${what(boxes()[i])}: stays wrong with “${before}”`);
    }
    return wrong;
  }

  function moves() {
    return document.getAnimations().filter((a) => a.effect?.getComputedTiming().activeDuration > 0).map((a) => what(a.effect.target));
  }

  return { walk, reachable, sideways, clipped, small, tables, plots, forced, listen, told: () => told, ties, headings, sliders, refuses, moves, what };
})();
