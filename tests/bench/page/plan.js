// What a recipe asks of the draws, read once and outside the clock: which numbers are drawn and in
// which order, what each part is, and how sizes fill one another. Only what the benches' recipes
// need; anything else is refused.

/** Slots of the ground and of the model; those of the parts follow, ten for each. */
export const GROUND = ['sand_pct', 'silt_pct', 'clay_pct', 'organic_matter_pct', 'gravel_pct',
  'crumb', 'bulk_density_kg_m3', 'water_per_dry_pct'];
export const HALF_MIXED = 8, PACKING = 9, PARTS = 10;
export const DRAWN = ['water_per_wet_pct', 'loose_density_kg_m3', 'grain_density_kg_m3',
  'solid_density_kg_m3', 'organic_matter_pct', 'char_pct', 'sand_pct', 'silt_pct', 'clay_pct',
  'coarse_pct'];

const LIMITS = {
  loose_density_kg_m3: [20, 3000], grain_density_kg_m3: [30, 5000],
  solid_density_kg_m3: [30, 5000], bulk_density_kg_m3: [200, 2200],
  water_per_dry_pct: [0, 300], crumb: [0, 1], half_mixed: [0, 1], pore_space_pct: [-1, 1],
  inner_water: [-1, 1],
};
const DEFAULTS = {
  organic_matter_pct: { low: 1, typical: 2.5, high: 5 },
  crumb: { low: 0.3, typical: 0.5, high: 0.8 },
};
const NINETIETH = 1.2815515655446004, NINETY_FIFTH = 1.6448536269514722;

const GAIN = {
  sand: 1.10, grit: 1.08, porous_mineral: 1.12, mineral_meal: 1.12, char: 1.25, peat_coir: 1.30,
  compost_manure: 1.25, bark_wood_straw: 1.25, meal: 1.25, soil: 1.20, powder: 1.20, liquid: 1.0,
};
const ORGANIC = ['char', 'peat_coir', 'compost_manure', 'bark_wood_straw', 'meal'];
const CAN_CARRY = ['sand', 'grit', 'mineral_meal', 'porous_mineral'];
/** Shares of the pores inside a grain: full at 33 kPa, at 1500 kPa, and closed. */
const INNER = {
  porous_mineral: [0.40, 0.16, 0.12], char: [0.70, 0.35, 0], peat_coir: [0.72, 0.30, 0],
  compost_manure: [0.80, 0.40, 0], meal: [0.80, 0.40, 0], bark_wood_straw: [0.80, 0.50, 0],
};
const LEAST_CARRYING_MM = 0.15;
/** Of what shares rest on, a draw keeps at least this part of the typical value. */
export const LEAST_OF_TYPICAL = 0.1;

const MASS = { g: 1e-3, kg: 1, t: 1e3 };
const VOLUME = { mL: 1e-6, L: 1e-3, m3: 1 };
const LENGTH = { mm: 1e-3, cm: 1e-2, m: 1 };

function si(amount, units) {
  if (!(amount.unit in units)) throw new Error(`no plan for the unit ${amount.unit}`);
  return amount.value * units[amount.unit];
}

/** Fisher-Yates by SplitMix64, seeded with the FNV-1a hash of a text. */
export function shuffled(id, count) {
  const mask = (1n << 64n) - 1n;
  let state = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(id)) {
    state = ((state ^ BigInt(byte)) * 0x100000001b3n) & mask;
  }
  const next = () => {
    state = (state + 0x9e3779b97f4a7c15n) & mask;
    let z = state;
    z = ((z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n) & mask;
    z = ((z ^ (z >> 27n)) * 0x94d049bb133111ebn) & mask;
    return z ^ (z >> 31n);
  };
  const below = (n) => {
    const over = (mask % n + 1n) % n;
    let value = next();
    while (value > mask - over) value = next();
    return Number(value % n);
  };
  const order = Uint32Array.from({ length: count }, (_, index) => index);
  for (let last = count - 1; last > 0; last -= 1) {
    const at = below(BigInt(last + 1));
    [order[at], order[last]] = [order[last], order[at]];
  }
  return order;
}

/** A number as a figure: low, typical, high. */
function figure(value) {
  return typeof value === 'number' ? { low: value, typical: value, high: value } : value;
}

function slot(owner, name, value, draws) {
  const { low, typical, high } = figure(value);
  const [least, most] = LIMITS[name] || [0, 100];
  return {
    typical, least, most, errors: null,
    below: (typical - low) / NINETIETH, above: (high - typical) / NINETIETH,
    order: low < high ? shuffled(`${owner}/${name}`, draws) : null,
  };
}

/** How grains of one size count where those of another carry: of the volume, of the solids. */
function influence(carrier, part) {
  if (part > carrier) {
    const open = wall(Math.max(carrier / part, 1e-4));
    return [open, 1 - open];
  }
  return part < carrier ? [loosening(Math.max(part / carrier, 1e-4)), 0] : [1, 0];
}

export function loosening(r) { return Math.sqrt(Math.max(1 - (1 - r) ** 1.02, 0)); }
export function wall(r) { return 1 - (1 - r) * Math.sqrt(1 - r); }

/** Dry densities of the typical numbers. */
function dry(material, water) {
  const fresh = material.loose_density_kg_m3.typical * (1 - water.typical / 100);
  if (material.settled_dry_density_kg_m3) {
    return { fresh, settled: material.settled_dry_density_kg_m3.typical };
  }
  const settled = fresh * GAIN[material.group];
  return { fresh, settled: material.group === 'sand' ? Math.min(settled, 1750) : settled };
}

function part(addition, material, soil) {
  const { amount, price } = addition;
  const { group } = material;
  const size = { kg: 0, m3: 0, kgPerGroundM3: 0, m3PerGround: 0, ofVolume: 0, ofMass: 0 };
  if (amount.unit in MASS) size.kg = si(amount, MASS);
  else if (amount.unit in VOLUME) size.m3 = si(amount, VOLUME);
  else if (amount.unit in LENGTH) size.m3 = si(amount, LENGTH) * soil.area;
  else if (amount.unit === 'kg/m2') size.kg = amount.value * soil.area;
  else if (amount.unit === 'g/L') size.kgPerGroundM3 = amount.value;
  else if (amount.unit === 'part') size.m3PerGround = amount.value;
  else if (amount.unit === '%v') size.ofVolume = amount.value / 100;
  else if (amount.unit === '%m') size.ofMass = amount.value / 100;
  else throw new Error(`no plan for the unit ${amount.unit}`);
  const water = figure(addition.water_per_wet_pct ?? material.water_per_wet_pct ?? 0);
  const grain = (material.grain_mm || { typical: 1 }).typical;
  const own = dry(material, material.water_per_wet_pct ?? figure(0));
  const carries = CAN_CARRY.includes(group) && grain >= LEAST_CARRYING_MM;
  const onTop = addition.on_top === true;
  let rate = null;
  if (price) {
    const byMass = price.per.unit in MASS;
    const lot = price.value / si(price.per, byMass ? MASS : VOLUME);
    rate = byMass ? [lot, 0] : [0, lot];
  }
  return {
    id: addition.material, material, group, size, water, grain, onTop, rate,
    inner: onTop ? undefined : INNER[group],
    organic: ORGANIC.includes(group), packs: group !== 'liquid',
    givesFines: group !== 'liquid' && group !== 'powder',
    rank: onTop ? 3 : group === 'liquid' ? 2 : carries ? 0 : 1,
    settling: own.settled / own.fresh,
    dryKgM3: dry(material, water).fresh,
    // Grains of organic kinds stay as estimated, whatever the draw.
    grainKgM3: material.grain_density_kg_m3 ?? (ORGANIC.includes(group) ? own.settled / 0.65 : undefined),
  };
}

function slots(part, draws) {
  const { material } = part;
  const given = (name) => {
    if (name === 'water_per_wet_pct') return part.water;
    return name === 'grain_density_kg_m3' ? part.grainKgM3 : material[name];
  };
  const fractions = ['sand_pct', 'silt_pct', 'clay_pct'];
  const usual = part.organic ? [60, 25, 15] : [100, 0, 0];
  const none = fractions.every((name) => given(name) === undefined);
  return DRAWN.map((name) => {
    const fraction = fractions.indexOf(name);
    const otherwise = none && fraction >= 0 ? usual[fraction] : 0;
    return slot(part.id, name, given(name) ?? otherwise, draws);
  });
}

/** The errors of an estimate, drawn where the ground does not give the number itself. */
function estimate(name, errors, draws) {
  return { errors, order: shuffled(`ground/${name}`, draws), typical: 0, least: 0, most: 0, below: 0, above: 0 };
}

/**
 * How the errors of the water equations are drawn: the orders of the three scores of the ground
 * and of the blend, and what ties them to each other and to the estimates.
 */
function waterErrors(told, inputs, estimated, correlation, draws) {
  const [added] = told;
  // In steps, as in the core.
  const near = Math.round(Math.min(added / 0.1, 1) * 1024) / 1024;
  const orders = ['ground', 'blend'].map((owner) => ['theta_33', 'theta_1500', 'conductivity']
    .map((name) => shuffled(`${owner}/${name}`, draws)));
  // Where the ground's moisture is estimated, it rests on the same water at 33 kPa.
  if (estimated[1]) orders[0][0] = inputs[7].order;
  const kinds = [1, 25].map((start) => ({
    errors: [0, 7, 14].map((at) => told.slice(start + at, start + at + 7)),
    together: told.slice(start + 21, start + 24),
  }));
  return {
    orders, kinds, likeGround: 1 - (1 - 0.5) * near,
    withDensity: estimated[0] ? correlation : 0, densityOrder: inputs[6].order,
  };
}

/** What shares leave for the rest, of the typical numbers. */
function left(parts) {
  let [ofVolume, ofMass, kgPerM3, m3PerKg] = [0, 0, 0, 0];
  for (const { size, dryKgM3 } of parts.filter((part) => !part.onTop)) {
    ofVolume += size.ofVolume;
    ofMass += size.ofMass;
    kgPerM3 += dryKgM3 * size.ofVolume;
    m3PerKg += size.ofMass / dryKgM3;
  }
  return (1 - ofVolume) * (1 - ofMass) - m3PerKg * kgPerM3;
}

/**
 * Everything that a kernel needs of a recipe: `errorsOf` tells the errors of the estimates for a
 * texture; `largest` names the heaviest coarse addition and `water` tells the errors of the water
 * equations, both of which only the typical masses tell.
 */
export function plan(recipe, catalogue, scores, errorsOf, largest, water) {
  const { place } = recipe;
  if (place && (place.kind === 'container' || place.on)) throw new Error('no plan for a container');
  if (recipe.measured) throw new Error('no plan for measurements');
  const draws = scores.length;
  const { ground, soil } = recipe;
  const materials = { ...catalogue };
  for (const own of recipe.materials || []) {
    materials[own.id] = Object.fromEntries(Object.entries(own).map(([name, value]) =>
      [name, typeof value === 'number' ? figure(value) : value]));
  }
  const area = soil.area ? si(soil.area, { m2: 1 }) : NaN;
  const amount = soil.area ? area * si(soil.depth, LENGTH)
    : si(soil, { ...MASS, ...VOLUME });
  const ids = new Set(recipe.additions.map((addition) => addition.material));
  if (ids.size < recipe.additions.length) throw new Error('no plan for a material on two lines');
  const parts = recipe.additions
    .map((addition) => part(addition, materials[addition.material], { area }))
    .sort((one, other) => one.rank - other.rank || (one.id < other.id ? -1 : 1));

  // The ground.
  const typicalPct = ['sand_pct', 'silt_pct', 'clay_pct'].map((name) => figure(ground[name]).typical);
  const estimated = [ground.bulk_density_kg_m3, ground.water_per_dry_pct].map((value) => value === undefined);
  const sum = typicalPct[0] + typicalPct[1] + typicalPct[2];
  const errors = errorsOf(...typicalPct.map((part) => part / sum * 100));
  const inputs = GROUND.map((name) => {
    if (name === 'bulk_density_kg_m3' && estimated[0]) return estimate(name, errors.slice(0, 7), draws);
    if (name === 'water_per_dry_pct' && estimated[1]) return estimate(name, errors.slice(7, 14), draws);
    return slot('ground', name, ground[name] ?? DEFAULTS[name] ?? 0, draws);
  });
  const fractionDrawn = [0, 1, 2].map((at) => inputs[at].order !== null);
  const open = (at, weight) => fractionDrawn[at] ? 0 : weight;
  let weights = [0, 1, 2].map((at) => open(at, typicalPct[at]));
  if (weights[0] + weights[1] + weights[2] <= 0) weights = [0, 1, 2].map((at) => open(at, 1));
  const weight = weights[0] + weights[1] + weights[2];

  // The model, then the parts.
  inputs.push(slot('blend', 'half_mixed', { low: 0.35, typical: 0.5, high: 0.65 }, draws));
  const soft = parts.some((part) => !part.onTop && part.organic);
  const end = (soft ? 0.05 : 0.03) / NINETY_FIFTH * NINETIETH;
  inputs.push(slot('blend', 'pore_space_pct', { low: -end, typical: 0, high: end }, draws));
  for (const each of parts) inputs.push(...slots(each, draws));
  inputs.push(slot('blend', 'inner_water', { low: -0.25, typical: 0, high: 0.20 }, draws));

  // The table of filling: parts that take room, then the ground's places and its gravel.
  const packing = parts.filter((part) => part.rank <= 1);
  const grainMm = Math.exp(typicalPct.reduce((size, part, at) =>
    size + part / sum * Math.log([1.025, 0.026, 0.001][at]), 0));
  const sizes = [...packing.map((part) => part.grain), 0.01, 3, grainMm, 10];
  const fill = sizes.map((carrier) => sizes.map((size) => influence(carrier, size)));
  return {
    draws, scores, inputs, parts, amount,
    soilIsMass: soil.unit in MASS,
    typicalPct, fractionDrawn, weights: weights.map((each) => each / weight), estimated,
    correlation: estimated[0] && estimated[1] ? errors[14] : 0,
    innerWater: inputs.length - 1,
    waterErrors: waterErrors(water, inputs, estimated, errors[14], draws),
    coarse: parts.filter((part) => part.rank === 0).length,
    packing: packing.length,
    leastLeft: LEAST_OF_TYPICAL * left(parts),
    logSizes: Float64Array.from(packing, (part) => Math.log(part.grain)),
    ofVolume: Float64Array.from(fill.flat(), (pair) => pair[0]),
    ofSolid: Float64Array.from(fill.flat(), (pair) => pair[1]),
    places: sizes.length,
    largest: parts.findIndex((part) => part.id === largest && !part.onTop),
    hasChar: parts.some((part) => part.material.char_pct),
    hasTop: parts.some((part) => part.onTop),
    priced: parts.every((part) => part.rate),
  };
}
