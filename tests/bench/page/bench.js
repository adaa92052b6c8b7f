// The same draws by the core and by plain JavaScript, side by side and in turns. Both must tell
// the same; then their medians go onto the page, as text and as data of each row.
import init, { Bench, bench_catalogue, bench_errors, bench_scores } from './barrowmix.js';
import { Kernel, MEASURES } from './kernel.js';
import { plan } from './plan.js';

const RECIPES = ['willowbank.json', 'eight.json'];
const WARM_ROUNDS = 60, ROUNDS = 240;
/** One round of either takes about so long: far above what the clock can tell apart, ms. */
const ROUND_MS = 20;
/** Ends agree to this, relative to the greater of the value and what is nothing in its unit. */
const SAME = 1e-9;

const root = document.documentElement;

function say(text) { document.getElementById('says').textContent = text; }

/** A task of its own for what follows, so that the page stays alive. */
function pause() { return new Promise((done) => { setTimeout(done, 0); }); }

function median(values) {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

function differ(one, other) {
  if (Number.isNaN(one) || Number.isNaN(other)) return Number.isNaN(one) !== Number.isNaN(other);
  return Math.abs(one - other) > SAME * Math.max(Math.abs(one), Math.abs(other), 1e-12);
}

function compare(recipe, names, ours, theirs) {
  if (ours.length !== theirs.length) {
    throw new Error(`${recipe}: ${ours.length} numbers of the core, ${theirs.length} of JavaScript`);
  }
  const wrong = names.filter((_, at) => differ(ours[at], theirs[at]));
  if (wrong.length > 0) {
    const tell = (name) => `${name} ${ours[names.indexOf(name)]} and ${theirs[names.indexOf(name)]}`;
    throw new Error(`${recipe}: the core and JavaScript differ: ${wrong.map(tell).join('; ')}`);
  }
}

/** Runs something so many times; ms for one. */
function timed(run, times) {
  const start = performance.now();
  run(times);
  return (performance.now() - start) / times;
}

async function measure(name) {
  const text = await (await fetch(name)).text();
  const core = new Bench(text);
  const kernel = new Kernel(plan(JSON.parse(text), JSON.parse(bench_catalogue()), bench_scores(),
    bench_errors, core.largest(), core.water()));
  let sink = 0;
  const wasm = (times) => { sink += core.run(times); };
  const script = (times) => { for (let time = 0; time < times; time += 1) sink += kernel.run(); };

  kernel.run();
  if (Bench.names() !== MEASURES.join(' ')) throw new Error('the measures are not the same');
  const ends = MEASURES.flatMap((measure) => [`${measure} 5 %`, `${measure} 95 %`]);
  compare(name, ends, core.ends(), kernel.allEnds());
  const odds = core.odds(), ours = kernel.allOdds();
  compare(name, ours.map((_, at) => `odds ${at}`), odds, ours);

  for (let round = 0; round < WARM_ROUNDS; round += 1) {
    wasm(1);
    script(1);
    if (round % 10 === 0) await pause();
  }
  const times = (run) => Math.max(1, Math.round(ROUND_MS / timed(run, 5)));
  const [wasmTimes, scriptTimes] = [times(wasm), times(script)];
  const measured = { wasm: [], script: [] };
  for (let round = 0; round < ROUNDS; round += 1) {
    const both = [() => measured.wasm.push(timed(wasm, wasmTimes)),
      () => measured.script.push(timed(script, scriptTimes))];
    if (round % 2) both.reverse();
    for (const each of both) each();
    await pause();
    say(`${name}: round ${round + 1} of ${ROUNDS}`);
  }
  if (!Number.isFinite(sink)) throw new Error(`${name}: nothing was computed`);
  return { recipe: name, rounds: ROUNDS, wasm: median(measured.wasm), script: median(measured.script) };
}

function show({ recipe, rounds, wasm, script }) {
  const row = document.createElement('tr');
  const ratio = script / wasm;
  Object.assign(row.dataset, { recipe, rounds, wasm, script, ratio });
  for (const text of [recipe, rounds, wasm.toFixed(3), script.toFixed(3), ratio.toFixed(2)]) {
    const cell = document.createElement('td');
    cell.textContent = text;
    row.append(cell);
  }
  const table = document.getElementById('results');
  table.tBodies[0].append(row);
  table.hidden = false;
}

async function main() {
  // There is no Ground and no Barrow on this page, so the core's own start ends early. Its doors
  // are open by then.
  await init({ module_or_path: new URL('barrowmix_bg.wasm', import.meta.url) }).catch(() => {});
  for (const recipe of RECIPES) show(await measure(recipe));
  say('Both tell the same to one part in a thousand million. These are medians.');
}

main()
  .catch((error) => {
    root.dataset.fault = String(error && error.stack || error);
    say(root.dataset.fault);
  })
  .finally(() => { root.dataset.done = ''; });
