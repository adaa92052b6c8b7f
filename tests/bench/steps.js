// Steps of a slider, each from the start of the input handler to the first task after the paint
// of its frame, less the wait for the frame. Run inside the page: arguments are the slider's
// selector, how many steps, and what takes the answer.
const [selector, steps, done] = arguments;
const slider = document.querySelector(selector);
const [least, most, step] = [slider.min, slider.max, slider.step].map(Number);
const times = [];
/** Of each step: handling the event, the page's own frame, and style, layout and paint. */
const parts = [];
let before = shown(), changed = 0;
let value = Number(slider.value), way = step;
let started, handled, framed, written;
const channel = new MessageChannel();
channel.port1.onmessage = () => {
  const painted = performance.now();
  times.push((handled - started) + (painted - framed));
  parts.push([handled - started, written - framed, painted - written]);
  const now = shown();
  if (now !== before) changed += 1;
  before = now;
  if (times.length < steps) move(); else done({ times, parts, changed });
};

/** What the outcome shows, texts and drawings. */
function shown() {
  const drawn = document.querySelectorAll('#triangle [transform], #triangle .path, #column rect');
  const places = [...drawn].map((each) => ['transform', 'd', 'y'].map((name) => each.getAttribute(name)));
  return document.getElementById('figures').textContent + places;
}

function move() {
  // Back and forth, as a hand does that looks for a place.
  if (times.length % 12 === 11) way = -way;
  if (value + way > most || value + way < least) way = -way;
  value += way;
  slider.value = value;
  requestAnimationFrame(() => {
    framed = performance.now();
    channel.port2.postMessage(null);
  });
  started = performance.now();
  slider.dispatchEvent(new Event('input', { bubbles: true }));
  handled = performance.now();
  // The page has asked for its frame by now, so this comes after it.
  requestAnimationFrame(() => { written = performance.now(); });
}
move();
