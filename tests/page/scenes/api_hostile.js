// What a program may do wrong: documents with anything anywhere, by a generator that starts from a
// number, so that a case can be found again.
const dice = (seed) => {
  let state = (seed * 2654435761 + 1) >>> 0;
  const bits = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (mixed ^ (mixed >>> 14)) >>> 0;
  };
  const below = (count) => bits() % count;
  return { bits, below, pick: (list) => list[below(list.length)] };
};

const nested = (depth) => {
  let inner = 1;
  for (let level = 0; level < depth; level++) inner = level % 2 ? [inner] : { inner };
  return inner;
};
const holdsItself = () => {
  const whole = { barrowmix: 1 };
  whole.ground = { sand_pct: whole };
  return whole;
};
const revoked = (of) => {
  const { proxy, revoke } = Proxy.revocable(of, {});
  revoke();
  return proxy;
};
const throws = () => { throw new Error('not today'); };
class Garden { constructor() { this.barrowmix = 1; } get soil() { return throws(); } }

// Each makes a value that no recipe has.
const STRANGE = [
  () => undefined, () => null, () => NaN, () => Infinity, () => -Infinity, () => -0, () => 1e308, () => 5e-324, () => -1,
  () => 0, () => 1e6, () => 0.1 + 0.2, () => 2 ** 53, () => 10n, () => 2n ** 70n, () => true, () => '', () => '7', () => '1,5',
  () => '\ud800', () => 'a\udc00b', () => '\u0000', () => '\ufffd', () => '__proto__', () => 'x'.repeat(5000), () => Symbol('sand'),
  () => () => 1, () => class {}, () => new Date(0), () => new Date(NaN), () => new Map([['sand_pct', 1]]), () => new Set([1]),
  () => new WeakMap(), () => /x/, () => new Error('x'), () => Promise.resolve(1), () => new Uint8Array(4), () => new ArrayBuffer(8),
  () => new Number(5), () => new String('L'), () => new Boolean(true), () => Object.create(null), () => Object.create({ value: 1 }),
  () => [], () => [,], () => [undefined], () => new Array(4294967295), () => Object.assign([], { length: 7 }), () => ({}), () => ({ length: 3 }),
  () => ({ toJSON: throws }), () => ({ valueOf: throws, toString: throws }), () => ({ [Symbol.toPrimitive]: throws }),
  () => ({ get value() { return throws(); }, unit: 'L' }), () => ({ value: 1, get unit() { return holdsItself(); } }),
  () => ({ get [Symbol.toStringTag]() { return throws(); } }), () => ({ [Symbol.toStringTag]: 'x'.repeat(100000) }),
  () => new Proxy({}, { ownKeys: throws }), () => new Proxy({}, { get: throws, ownKeys: () => ['a'], getOwnPropertyDescriptor: () => ({ enumerable: true, configurable: true }) }),
  () => new Proxy({}, { ownKeys: () => 5 }), () => new Proxy([], { get: (of, name) => (name === 'length' ? 1e9 : of[name]) }),
  () => new Proxy([], { get: (of, name) => (name === 'length' ? throws() : of[name]) }), () => new Proxy([], { get: () => NaN }),
  () => revoked({}), () => revoked([]), () => new Proxy({}, { getPrototypeOf: throws }), () => globalThis, () => document.body, () => JSON, () => Math,
  () => (function () { return arguments; })(1, 2), () => new Garden(), holdsItself, () => nested(40), () => nested(127), () => nested(130), () => nested(20000),
  () => ({ low: 1, typical: 2, high: 3 }), () => ({ low: 3, typical: 2, high: 1 }), () => ({ value: 1, unit: 'bag' }), () => ({ value: 1, unit: 'part' }),
  () => new (class extends Array {})(3), () => Object.freeze({ a: Object.freeze([1]) }), () => JSON.parse('{"__proto__": {"a": 1}, "constructor": 1}'),
];
const NAMES = ['', '__proto__', 'constructor', 'toString', 'made_by', 'on_top', 'bag', 'unit', 'value', 'x', 'ground', 'sand_pct', '\ud800', 'é', 'a.b', '0', 'materials', 'lectern', 'trial', 'shelf', 'errand'];

// All places of a document that can be changed: a holder and a name in it. Of objects that are more
// than a document's nothing is changed, the window's least of all.
const isPlain = (of) => Array.isArray(of) || (of && Object.getPrototypeOf(of) === Object.prototype);
const places = (of, out = [], depth = 30) => {
  for (const name of Object.keys(of)) {
    out.push([of, name]);
    if (typeof of[name] === 'object' && depth > 0 && isPlain(of[name]) && !(of[name].length > 1e6)) places(of[name], out, depth - 1);
  }
  return out;
};

const spoil = (recipe, { below, pick }) => {
  const all = places(recipe);
  const [holder, name] = pick(all);
  const [other, second] = pick(all);
  switch (below(9)) {
    case 0: delete holder[name]; break;
    case 1: holder[pick(NAMES)] = holder[name]; break;
    case 2: holder[name] = structuredClone(other[second]); break;
    case 3: Object.defineProperty(holder, name, { get: pick([throws, () => pick(STRANGE)()]), enumerable: true, configurable: true }); break;
    case 4: case 5: {
      const [of, number] = pick(all.filter(([of, name]) => typeof of[name] === 'number'));
      of[number] *= pick([-1, 0, 0.1, 0.5, 0.9, 1.1, 2, 10, 1e3, 1e-6, 1e300, NaN]);
      break;
    }
    case 6: holder[name] = [holder[name]]; break;
    default: holder[name] = pick(STRANGE)();
  }
  return recipe;
};

const spoilText = (text, { below, pick }) => {
  const at = below(text.length);
  const rest = text.slice(at + below(3));
  return below(4) ? text.slice(0, at) + pick(['{', '}', '[', ']', ',', ':', '"', 'null', '1e400', '-', '\\ud800', '\ud800', '\u0000', '9'.repeat(400), '[['.repeat(99)]) + rest : text.slice(0, at);
};

const document_of = (number) => {
  const by = dice(number);
  const recipe = structuredClone(by.pick(seeds));
  if (by.below(4) === 0) return spoilText(JSON.stringify(recipe), by);
  if (by.below(3) === 0) recipe.made_by = '99.0.0';
  for (let times = by.below(2); times >= 0; times--) {
    // A getter that was put there may throw as the next place is looked for.
    try { spoil(recipe, by); } catch { break; }
  }
  return recipe;
};

// What is wrong with the shape of an answer, or nothing.
const wrongly = (answer, name) => {
  if (answer?.ok === true) return Object.keys(answer).join() === 'ok,' + name ? null : 'keys';
  if (answer?.ok !== false || !(answer.issues?.length > 0)) return 'neither good nor refused';
  const plain = answer.issues.every(({ code, path, text }) => [code, path, text].every((part) => typeof part === 'string' && part));
  return plain ? null : 'an issue';
};

// Where two documents differ, to the last bit and in the order of fields, or nothing.
window.unlike = (one, other, path = '$') => {
  if (typeof one !== 'object' || one === null) return Object.is(one, other) ? null : `${path}: ${String(one)} and ${String(other)}`;
  if (Object.getPrototypeOf(one) !== Object.getPrototypeOf(other ?? 0) || Object.keys(one).join() !== Object.keys(other).join()) return path;
  for (const name of Object.keys(one)) {
    const found = unlike(one[name], other[name], `${path}.${name}`);
    if (found) return found;
  }
  return null;
};

// The documents to start from; nothing that is done to others reaches them.
const frozen = (of) => {
  if (of && typeof of === 'object') Object.values(Object.freeze(of)).forEach(frozen);
  return of;
};
window.sow = (texts) => { window.seeds = texts.map((text) => frozen(JSON.parse(text))); };

// Every strange value, alone and in every function; gives those that were not answered.
window.strange = () => {
  const bad = [];
  STRANGE.forEach((make, index) => {
    try {
      const good = [
        wrongly(api.check(make()), 'recipe'), wrongly(api.evaluate(make()), 'outcome'), wrongly(api.encode(make()), 'letters'),
        wrongly(api.decode(make()), 'recipe'), wrongly(api.classify(make(), 20, 30), 'class'), wrongly(api.classify(20, 30, 50, make()), 'class'),
        wrongly(api.convert(20, make(), 30, 'uk'), 'fractions'), wrongly(api.convert(20, 30, 50, make(), 'usda'), 'fractions'), wrongly(api.convert(20, 30, 50, 'uk', make()), 'fractions'),
        wrongly(api.speak(make()), 'language'), wrongly(api.measure_in(make()), 'units'), wrongly(api.speak('en', make()), 'language'),
        wrongly(api.check({ ...seeds[0], title: make() }), 'recipe'), wrongly(api.check({ ...seeds[0], lectern: make() }), 'recipe'),
        api.check(make()).ok || api.evaluate(make()).ok || api.encode(make()).ok ? 'taken' : null,
      ].find(Boolean);
      if (good) bad.push([index, good]);
    } catch (error) {
      bad.push([index, String(error)]);
    }
  });
  return bad;
};

window.hostile = (from, count, most) => {
  const codes = new Set();
  let [tried, good, evaluated] = [0, 0, 0];
  for (let number = from; number < from + count; number++) {
    try {
      const answer = api.check(document_of(number));
      tried++;
      let wrong = wrongly(answer, 'recipe');
      if (answer.ok) {
        good++;
        if (evaluated < most && number % 7 === 0) {
          evaluated++;
          const outcome = api.evaluate(answer.recipe);
          wrong ??= wrongly(outcome, 'outcome') ?? (outcome.ok ? null : 'checked, and refused');
          wrong ??= JSON.stringify(outcome).includes('null') ? 'a number that is none' : null;
          const link = api.encode(answer.recipe);
          wrong ??= wrongly(link, 'letters') ?? (link.ok ? unlike(api.decode(link.letters), answer) : null);
        }
      } else {
        answer.issues.forEach(({ code }) => codes.add(code));
      }
      if (wrong) return { wrong: [number, wrong, JSON.stringify(answer).slice(0, 2000)] };
    } catch (error) {
      return { wrong: [number, String(error)] };
    }
  }
  return { tried, good, evaluated, codes: codes.size };
};
