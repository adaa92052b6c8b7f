// The draws of an outcome in plain JavaScript: the same rules and the same arithmetic as the core,
// one draw after the other, nothing allocated while it runs.
import { HALF_MIXED, PACKING, PARTS, DRAWN, LEAST_OF_TYPICAL, loosening, wall } from './plan.js';
import { classify, CLASSES } from './classes.js';
import { Ends } from './ends.js';
import { errorAt, shareBelow } from './errors.js';
import { densityCoefficient, theta33, thetaS, Water, WATER } from './water.js';

/** The measures, in the order of the core. */
export const MEASURES = ['sand_pct', 'silt_pct', 'clay_pct', 'organic_matter_pct',
  'organic_matter_with_char_pct', 'dry_kg', 'moist_kg', 'on_top_kg', 'loose_parts_l', 'fresh_l',
  'settled_l', 'puddled_l', 'fresh_kg_m3', 'settled_kg_m3', 'puddled_kg_m3', 'fresh_pores_pct',
  'settled_pores_pct', 'puddled_pores_pct', 'share', 'threshold', 'more_to_touch_kg', 'cost',
  'ground_organic_matter_pct', 'lying_kg_m3', 'lying_pores_pct', 'dug_kg_m3', 'dug_pores_pct',
  'alone_kg_m3', 'alone_pores_pct', ...WATER];
const SAND = 0, ORGANIC = 3, WITH_CHAR = 4, DRY = 5, MOIST = 6, ON_TOP = 7, LOOSE = 8, LITRES = 9,
  DENSITY = 12, PORES = 15, SHARE = 18, THRESHOLD = 19, MORE = 20, COST = 21, GROUND_ORGANIC = 22,
  LYING = 23, ALONE = 27;
/** No bench has a container. */
const POT_WATER = MEASURES.indexOf('pot_water_pct'), POT_AIR = POT_WATER + 1;
/** What the blend changes: a measure, the ground's that it is compared with, and the least that counts. */
const CHANGES = [[PORES + 1, LYING + 1, 1], [PORES + 1, ALONE + 1, 1], [DENSITY + 1, LYING, 20],
  [DENSITY + 1, ALONE, 20], [ORGANIC, GROUND_ORGANIC, 0.2]];

const SETTLED_K = 9, FRESH_K = 4.75;
const SETTLED_S = SETTLED_K / (1 + SETTLED_K), FRESH_S = FRESH_K / (1 + FRESH_K);
const SETTLED_SHARE = 0.88, FRESH_SHARE = 0.80;
const PUDDLED_MM = 0.01, GRAVEL_MM = 10, GRAVEL_SOLID = 2650, GRAVEL_SETTLED = 1680;
const LOG_GRAVEL = Math.log(GRAVEL_MM);
const SECANTS = 40;
const LAST_STEP = 1e-8;
/** Places of the ground in the table of filling, after the parts. */
const PUDDLED = 0, CRUMBS = 1, GRAINS = 2, GRAVEL = 3;

/** Density of solid matter from mass fractions. */
function solidDensity(organic, char, sand, silt, clay) {
  const mineral = sand * (1 / 2660) + silt * (1 / 2690) + clay * (1 / 2760);
  return 1 / (organic * (1 / 1430) + char * (1 / 1600) + (1 - organic - char) * mineral);
}

/**
 * The V above every T at which the sum of X S/(V - T) is K: Newton's rule from the left, on the
 * reciprocal of the sum, which is nearly straight.
 */
function root(count, x, t, s, k) {
  let v = 0, total = 0;
  for (let at = 0; at < count; at += 1) {
    if (x[at] > 0) {
      const least = t[at] + x[at] * (s / k);
      if (least > v) v = least;
    }
    total += x[at];
  }
  for (let turn = 0; turn < 100; turn += 1) {
    let sum = 0, slope = 0;
    for (let at = 0; at < count; at += 1) {
      const near = x[at] > 0 ? 1 / (v - t[at]) : 1;
      const term = x[at] * s * near;
      sum += term;
      slope += term * near;
    }
    const step = (sum - k) / slope * sum * (1 / k);
    if (!(step > v * 1e-16)) break;
    v += step;
    if (!(step * step * slope > v * (k * 1e-17))) break;
  }
  return v < total ? v : total;
}

export class Kernel {
  constructor(plan) {
    const { draws, parts, inputs, packing } = plan;
    this.plan = plan;
    this.drawn = null;
    this.draws = draws;
    this.columns = new Float64Array(inputs.length * draws);
    this.byStratum = new Float64Array(draws);
    this.out = new Float64Array(MEASURES.length * draws);
    this.water = new Water(plan, this.out);
    this.ends = new Ends(draws);
    this.differences = new Float64Array(draws);
    this.measured = MEASURES.map((_, of) => this.out.subarray(of * draws, (of + 1) * draws));
    this.figures = new Float64Array(2 * MEASURES.length);
    this.changes = new Float64Array(4 * CHANGES.length);
    this.odds = new Float64Array(CLASSES.length);
    this.touching = NaN;

    const count = parts.length;
    const numbers = (of) => Float64Array.from(parts, of);
    this.count = count;
    this.hasSolid = Uint8Array.from(parts, (part) => part.material.solid_density_kg_m3 ? 1 : 0);
    this.hasGrain = Uint8Array.from(parts, (part) => part.grainKgM3 ? 1 : 0);
    this.givesFines = Uint8Array.from(parts, (part) => part.givesFines ? 1 : 0);
    this.onTop = Uint8Array.from(parts, (part) => part.onTop ? 1 : 0);
    this.leastDry = numbers((part) => LEAST_OF_TYPICAL * part.dryKgM3);
    this.settling = numbers((part) => part.settling);
    this.sizeKg = numbers((part) => part.size.kg);
    this.sizeM3 = numbers((part) => part.size.m3);
    this.kgPerGround = numbers((part) => part.size.kgPerGroundM3);
    this.m3PerGround = numbers((part) => part.size.m3PerGround);
    this.ofVolume = numbers((part) => part.size.ofVolume);
    this.ofMass = numbers((part) => part.size.ofMass);
    this.ofVolumeSum = this.ofVolume.reduce((sum, share, at) => this.onTop[at] ? sum : sum + share, 0);
    this.ofMassSum = this.ofMass.reduce((sum, share, at) => this.onTop[at] ? sum : sum + share, 0);
    this.rateKg = numbers((part) => part.rate ? part.rate[0] : NaN);
    this.rateM3 = numbers((part) => part.rate ? part.rate[1] : NaN);

    // Parts of one draw.
    for (const name of ['waterPerWet', 'looseDensity', 'fresh', 'settled', 'grain', 'solid', 'organic',
      'char', 'sand', 'silt', 'clay', 'coarse', 'looseM3', 'moistKg', 'dryKg']) {
      this[name] = new Float64Array(count);
    }
    // The heap of one draw: volumes and solids of the parts, and what coarse ones and the rest
    // give each as a carrier, settled and fresh.
    for (const name of ['settledRoom', 'settledFromCoarse', 'settledFromRest', 'freshRoom',
      'freshFromCoarse', 'freshFromRest', 'solidRoom']) {
      this[name] = new Float64Array(packing);
    }
    this.x = new Float64Array(packing + 1);
    this.t = new Float64Array(packing + 1);

    // The ground of one draw.
    this.groundSand = this.groundSilt = this.groundClay = this.groundOrganic = 0.1;
    this.gravel = this.waterPerDry = this.crumb = this.lying = this.normal = 0.1;
    this.groundSolid = this.fineSolid = this.groundSettled = this.groundFresh = 0.1;
    this.groundDry = this.groundLoose = 0.1;
    // Sums of one draw.
    this.massDry = this.massWater = this.massOrganic = this.massChar = this.massCoarse = 0.1;
    this.massSand = this.massSilt = this.massClay = this.solidM3 = this.looseSum = 0.1;
    this.topKg = this.freshM3 = this.settledM3 = this.puddledM3 = this.clayWeight = 0.1;
    this.share = this.threshold = this.lack = this.moreM3 = 0.1;
    this.touchPorosity = this.touchLogMm = this.touchGrainsM3 = 0.1;
    this.porosity = this.grainsM3 = 0.1;
    this.logMm = NaN;
    this.free = this.open = 0.1;
  }

  /** Everything: inputs, one blend for each draw, and what all of them say together. */
  run() {
    this.drawInputs();
    for (let draw = 0; draw < this.draws; draw += 1) {
      this.drawGround(draw);
      this.drawParts(draw);
      this.solveAmounts();
      this.sumMasses();
      this.layHeap();
      this.findVolumes(draw);
      this.findTouch();
      this.write(draw);
      this.water.measure(this, draw);
    }
    const { hasChar, hasTop } = this.plan;
    for (let of = 0; of < MEASURES.length; of += 1) {
      if ((of === WITH_CHAR && !hasChar) || (of === ON_TOP && !hasTop)
        || of === POT_WATER || of === POT_AIR) continue;
      this.tell(of);
    }
    this.compare();
    return this.figures[2 * (PORES + 1)] + this.figures[2 * (PORES + 1) + 1];
  }

  /** The ends of every measure, also of those that no outcome tells. */
  allEnds() {
    for (let of = 0; of < MEASURES.length; of += 1) this.tell(of);
    return this.figures;
  }

  allOdds() {
    const pairs = [];
    for (let at = 0; at < CHANGES.length; at += 1) {
      pairs.push(this.changes[4 * at + 2], this.changes[4 * at + 3]);
    }
    return [...this.odds, this.touching, ...pairs];
  }

  /** Draws what changed since the last run; like the core, it remembers the rest. */
  drawInputs() {
    const { inputs } = this.plan;
    if (this.drawn === inputs) return;
    this.drawn = inputs;
    this.water.drawErrors();
    const { draws, columns, byStratum } = this;
    const { scores, correlation } = this.plan;
    for (let input = 0; input < inputs.length; input += 1) {
      const { typical, least, most, below, above, errors, order } = inputs[input];
      const start = input * draws;
      if (order === null) {
        columns.fill(typical, start, start + draws);
        continue;
      }
      if (errors !== null && input === 7 && correlation !== 0) {
        this.drawWater(inputs[6].order, order, errors, start);
        continue;
      }
      if (errors !== null) {
        for (let at = 0; at < draws; at += 1) byStratum[at] = errorAt(errors, (at + 0.5) / draws);
      } else {
        for (let at = 0; at < draws; at += 1) {
          const z = scores[at];
          const value = typical + z * (z < 0 ? below : above);
          byStratum[at] = value < least ? least : value > most ? most : value;
        }
      }
      for (let draw = 0; draw < draws; draw += 1) columns[start + draw] = byStratum[order[draw]];
    }
  }

  /** The error of the moisture goes along with that of the density. */
  drawWater(densityOrder, waterOrder, errors, start) {
    const { draws, columns } = this;
    const { scores, correlation } = this.plan;
    const own = Math.sqrt(1 - correlation * correlation);
    for (let draw = 0; draw < draws; draw += 1) {
      const score = correlation * scores[densityOrder[draw]] + own * scores[waterOrder[draw]];
      columns[start + draw] = errorAt(errors, shareBelow(scores, score));
    }
  }

  drawGround(draw) {
    const { draws, columns, plan } = this;
    const at = (slot) => columns[slot * draws + draw];
    const { fractionDrawn, weights, typicalPct } = plan;
    let sand = typicalPct[0], silt = typicalPct[1], clay = typicalPct[2];
    if (fractionDrawn[0] || fractionDrawn[1] || fractionDrawn[2]) {
      // Clay keeps its draw; the others share what room there is.
      const room = 100 - (fractionDrawn[2] ? at(2) : 0);
      let drawnSand = fractionDrawn[0] ? Math.max(at(0), 1e-9) : 0;
      let drawnSilt = fractionDrawn[1] ? Math.max(at(1), 1e-9) : 0;
      let fits = room / Math.max(drawnSand + drawnSilt, 1e-9);
      if (!(fractionDrawn[0] && fractionDrawn[1] && fractionDrawn[2]) && fits > 1) fits = 1;
      drawnSand *= fits;
      drawnSilt *= fits;
      const rest = Math.max(room - drawnSand - drawnSilt, 0);
      sand = fractionDrawn[0] ? drawnSand : rest * weights[0];
      silt = fractionDrawn[1] ? drawnSilt : rest * weights[1];
      clay = fractionDrawn[2] ? at(2) : rest * weights[2];
    }
    const sum = sand + silt + clay;
    sand /= sum;
    silt /= sum;
    clay /= sum;
    const organic = at(3) * 0.01, gravel = at(4) * 0.01;
    const fineSolid = solidDensity(organic, 0, sand, silt, clay);
    const solid = 1 / ((1 - gravel) / fineSolid + gravel * (1 / GRAVEL_SOLID));
    const capped = clay > 0.6 ? 0.6 : clay;
    const mineral = (1 - thetaS(sand, capped, 0, theta33(sand, capped, 0))) * 2650;
    const fineNormal = 1 / (organic * (1 / 244) + (1 - organic) / mineral);
    const normal = 1 / ((1 - gravel) / fineNormal + gravel * (1 / GRAVEL_SOLID));
    let lying = at(6);
    if (plan.estimated[0]) {
      lying += normal < 900 ? 900 : normal > 1600 ? 1600 : normal;
      lying = lying < 200 ? 200 : lying > 2200 ? 2200 : lying;
    }
    if (lying > solid * SETTLED_SHARE) lying = solid * SETTLED_SHARE;
    let water = at(7);
    if (plan.estimated[1]) {
      const om = organic * 100;
      const at33 = theta33(sand, clay, om);
      const saturated = thetaS(sand, clay, om, at33);
      const density = (1 - saturated) * 2650;
      let factor = lying / density;
      factor = factor < 0.9 ? 0.9 : factor > 1.3 ? 1.3 : factor;
      const coefficient = densityCoefficient(clay);
      const theta = at33 - coefficient * (saturated - (1 - density * factor * (1 / 2650)));
      water = (theta + water) * 1000 / lying;
      water = water < 0 ? 0 : water > 3 ? 3 : water;
    } else {
      water *= 0.01;
    }
    let settled = normal * 1.10;
    if (lying < settled) settled = lying;
    let fresh = settled * (1 / 1.10);
    if (lying * (1 / 1.25) < fresh) fresh = lying * (1 / 1.25);
    this.groundSand = sand;
    this.groundSilt = silt;
    this.groundClay = clay;
    this.groundOrganic = organic;
    this.gravel = gravel;
    this.crumb = at(5);
    this.lying = lying;
    this.normal = normal;
    this.groundSolid = solid;
    this.fineSolid = fineSolid;
    this.waterPerDry = water;
    this.groundSettled = settled;
    this.groundFresh = fresh;
    this.groundDry = plan.soilIsMass ? plan.amount / (1 + water) : lying * plan.amount;
    this.groundLoose = this.groundDry / fresh;
  }

  drawParts(draw) {
    const { draws, columns, count } = this;
    for (let part = 0; part < count; part += 1) {
      let at = (PARTS + part * DRAWN.length) * draws + draw;
      const water = columns[at] * 0.01;
      const loose = columns[at += draws];
      let grain = columns[at += draws];
      let solid = columns[at += draws];
      let organic = columns[at += draws] * 0.01;
      let char = columns[at += draws] * 0.01;
      let sand = columns[at += draws];
      let silt = columns[at += draws];
      let clay = columns[at += draws];
      const coarse = columns[at + draws] * 0.01;
      const both = organic + char;
      if (both > 1) {
        organic /= both;
        char /= both;
      }
      let sum = sand + silt + clay;
      if (sum < 1e-9) sum = 1e-9;
      silt /= sum;
      clay /= sum;
      sand = 1 - silt - clay;
      if (sand < 0) sand = 0;
      if (this.hasSolid[part] === 0) solid = solidDensity(organic, char, sand, silt, clay);
      const fresh = loose * (1 - water);
      let settled = fresh * this.settling[part];
      if (this.hasGrain[part] === 0) grain = solid;
      // Grains as dense as the bulk asks for, as far as the solids allow, and the bulk no denser
      // than the grains allow.
      if (grain > solid) grain = solid;
      if (grain < settled * (1 / SETTLED_SHARE)) grain = settled * (1 / SETTLED_SHARE);
      if (grain < fresh * (1 / FRESH_SHARE)) grain = fresh * (1 / FRESH_SHARE);
      if (grain > solid) grain = solid;
      if (settled > grain * SETTLED_SHARE) settled = grain * SETTLED_SHARE;
      this.waterPerWet[part] = water;
      this.looseDensity[part] = loose;
      this.fresh[part] = fresh;
      this.settled[part] = settled;
      this.grain[part] = grain;
      this.solid[part] = solid;
      this.organic[part] = organic;
      this.char[part] = char;
      this.sand[part] = sand;
      this.silt[part] = silt;
      this.clay[part] = clay;
      this.coarse[part] = coarse;
    }
  }

  /** Amounts to masses; shares are solved all together. */
  solveAmounts() {
    const { count, groundLoose, looseM3, looseDensity, fresh, leastDry, ofVolume, ofMass, onTop } = this;
    let fixedM3 = groundLoose, fixedKg = this.groundDry, m3PerKg = 0, kgPerM3 = 0;
    for (let part = 0; part < count; part += 1) {
      const kg = this.sizeKg[part] + groundLoose * this.kgPerGround[part];
      const m3 = this.sizeM3[part] + groundLoose * this.m3PerGround[part] + kg / looseDensity[part];
      looseM3[part] = m3;
      if (onTop[part] === 1) continue;
      const dry = fresh[part];
      fixedM3 += m3;
      fixedKg += m3 * dry;
      kgPerM3 += dry * ofVolume[part];
      if (ofMass[part] > 0) m3PerKg += ofMass[part] / (dry > leastDry[part] ? dry : leastDry[part]);
    }
    if (this.ofVolumeSum + this.ofMassSum > 0) {
      const restM3 = 1 - this.ofVolumeSum, restKg = 1 - this.ofMassSum;
      let left = restM3 * restKg - m3PerKg * kgPerM3;
      if (left < this.plan.leastLeft) left = this.plan.leastLeft;
      const wholeM3 = (fixedM3 * restKg + fixedKg * m3PerKg) / left;
      const wholeKg = (fixedKg * restM3 + fixedM3 * kgPerM3) / left;
      for (let part = 0; part < count; part += 1) {
        looseM3[part] += wholeM3 * ofVolume[part];
        if (ofMass[part] > 0) {
          const dry = fresh[part] > leastDry[part] ? fresh[part] : leastDry[part];
          looseM3[part] += wholeKg * ofMass[part] / dry;
        }
      }
    }
    for (let part = 0; part < count; part += 1) {
      const kg = looseM3[part] * looseDensity[part];
      this.moistKg[part] = kg;
      this.dryKg[part] = kg * (1 - this.waterPerWet[part]);
    }
  }

  sumMasses() {
    const { count, moistKg, dryKg } = this;
    const ground = this.groundDry;
    const gravelKg = ground * this.gravel, earth = ground - gravelKg;
    let organic = earth * this.groundOrganic;
    const fine = earth - organic;
    let sand = fine * this.groundSand, silt = fine * this.groundSilt, clay = fine * this.groundClay;
    let dry = ground, water = ground * this.waterPerDry, char = 0, coarse = gravelKg, top = 0;
    let solid = ground / this.groundSolid, loose = this.groundLoose;
    for (let part = 0; part < count; part += 1) {
      if (this.onTop[part] === 1) {
        top += moistKg[part];
        continue;
      }
      const kg = dryKg[part], om = this.organic[part], black = this.char[part];
      dry += kg;
      water += moistKg[part] - kg;
      organic += kg * om;
      char += kg * black;
      if (this.givesFines[part] === 1) {
        let mineral = 1 - om - black;
        if (mineral < 0) mineral = 0;
        mineral *= kg;
        const stones = mineral * this.coarse[part], fines = mineral - stones;
        coarse += stones;
        sand += fines * this.sand[part];
        silt += fines * this.silt[part];
        clay += fines * this.clay[part];
      }
      loose += this.looseM3[part];
      if (this.plan.parts[part].packs) solid += kg / this.solid[part];
    }
    this.massDry = dry;
    this.massWater = water;
    this.massOrganic = organic;
    this.massChar = char;
    this.massCoarse = coarse;
    this.massSand = sand;
    this.massSilt = silt;
    this.massClay = clay;
    this.solidM3 = solid;
    this.looseSum = loose;
    this.topKg = top;
  }

  /** Unmixed volumes of the parts, and what each as a carrier has of the others. */
  layHeap() {
    const { dryKg, grain, settled, fresh, settledRoom, freshRoom, solidRoom } = this;
    const { packing, coarse, places, ofVolume, ofSolid } = this.plan;
    for (let part = 0; part < packing; part += 1) {
      const kg = dryKg[part], most = grain[part];
      let density = settled[part] < most * SETTLED_SHARE ? settled[part] : most * SETTLED_SHARE;
      settledRoom[part] = kg / (density > 1e-9 ? density : 1e-9);
      density = fresh[part] < most * FRESH_SHARE ? fresh[part] : most * FRESH_SHARE;
      freshRoom[part] = kg / (density > 1e-9 ? density : 1e-9);
      solidRoom[part] = kg / most;
    }
    const { settledFromCoarse, settledFromRest, freshFromCoarse, freshFromRest } = this;
    for (let carrier = 0; carrier < packing; carrier += 1) {
      const row = carrier * places;
      let settledSum = 0, freshSum = 0, solidSum = 0;
      for (let part = 0; part < coarse; part += 1) {
        const by = ofVolume[row + part];
        settledSum += settledRoom[part] * by;
        freshSum += freshRoom[part] * by;
        solidSum += solidRoom[part] * ofSolid[row + part];
      }
      settledFromCoarse[carrier] = settledSum * SETTLED_S + solidSum;
      freshFromCoarse[carrier] = freshSum * FRESH_S + solidSum;
      settledSum = freshSum = solidSum = 0;
      for (let part = coarse; part < packing; part += 1) {
        const by = ofVolume[row + part];
        settledSum += settledRoom[part] * by;
        freshSum += freshRoom[part] * by;
        solidSum += solidRoom[part] * ofSolid[row + part];
      }
      settledFromRest[carrier] = settledSum * SETTLED_S + solidSum;
      freshFromRest[carrier] = freshSum * FRESH_S + solidSum;
    }
  }

  /** Volume of the parts from a place on with the ground, or a part of it, in one of its places. */
  pack(isSettled, from, place, groundM3, groundSolidM3) {
    const { x, t, solidRoom } = this;
    const { packing, places, ofVolume, ofSolid } = this.plan;
    const room = isSettled ? this.settledRoom : this.freshRoom;
    const fromCoarse = isSettled ? this.settledFromCoarse : this.freshFromCoarse;
    const fromRest = isSettled ? this.settledFromRest : this.freshFromRest;
    const s = isSettled ? SETTLED_S : FRESH_S;
    const ground = packing + place;
    const row = ground * places;
    let byVolume = 0, bySolid = 0, count = 0;
    for (let part = from; part < packing; part += 1) {
      const cell = part * places + ground;
      let limit = groundM3 * (ofVolume[cell] * s) + groundSolidM3 * ofSolid[cell];
      if (from === 0) limit += fromCoarse[part];
      limit += fromRest[part];
      x[count] = room[part];
      t[count] = limit;
      count += 1;
      byVolume += room[part] * ofVolume[row + part];
      bySolid += solidRoom[part] * ofSolid[row + part];
    }
    x[count] = groundM3;
    t[count] = byVolume * s + bySolid + groundM3 * s;
    return root(count + 1, x, t, s, isSettled ? SETTLED_K : FRESH_K);
  }

  findVolumes(draw) {
    const { draws, columns, groundDry, groundSolid, lying, settledRoom, freshRoom } = this;
    const halfMixed = columns[HALF_MIXED * draws + draw];
    const poreError = columns[PACKING * draws + draw];
    const settledM3 = groundDry / this.groundSettled, freshM3 = this.groundLoose;
    let unmixed = settledM3, unmixedFresh = freshM3;
    for (let part = 0; part < settledRoom.length; part += 1) {
      unmixed += settledRoom[part];
      unmixedFresh += freshRoom[part];
    }
    let clay = (this.groundClay * 100 - 15) * (1 / 10);
    clay = clay < 0 ? 0 : clay > 1 ? 1 : clay;
    const grain = 1 - clay;
    let puddled = 0, half = 0, crumbly = 0, fresh = 0;
    if (grain > 0) {
      const solid = groundDry / groundSolid;
      const packed = this.pack(true, 0, GRAINS, settledM3, solid);
      const mixed = unmixed + (packed - unmixed) * halfMixed;
      puddled += grain * packed;
      half += grain * mixed;
      crumbly += grain * mixed;
      fresh += grain * this.pack(false, 0, GRAINS, freshM3, solid);
    }
    if (clay > 0) {
      let envelope = lying * (1 / 0.88);
      if (envelope < 1600) envelope = 1600;
      if (envelope > groundSolid) envelope = groundSolid;
      const pieces = groundDry / envelope;
      const packed = this.pack(true, 0, PUDDLED, settledM3, groundDry / groundSolid);
      const crumbs = this.pack(true, 0, CRUMBS, settledM3, pieces);
      const mixed = unmixed + (packed - unmixed) * halfMixed;
      puddled += clay * packed;
      half += clay * mixed;
      crumbly += clay * (mixed > crumbs ? mixed : crumbs);
      fresh += clay * this.pack(false, 0, CRUMBS, freshM3, pieces);
    }
    const below = (this.crumb < 0.5 ? this.crumb : 0.5) * 2;
    const above = (this.crumb > 0.5 ? this.crumb - 0.5 : 0) * 2;
    let settled = puddled + (half - puddled) * below + (crumbly - half) * above;
    settled = this.erring(settled, unmixed, poreError);
    fresh = this.erring(fresh, unmixedFresh, poreError);
    puddled = this.erring(puddled, unmixed, poreError);
    this.settledM3 = settled;
    this.freshM3 = fresh > settled ? fresh : settled;
    this.puddledM3 = puddled < settled ? puddled : settled;
    this.clayWeight = clay;
  }

  /** The packing's error is one of pore space and grows with what filling did. */
  erring(volume, unmixed, poreError) {
    const { solidM3 } = this;
    const error = poreError * (1 - volume / unmixed) * (1 / 0.2);
    let divisor = 1 - error * volume / solidM3;
    if (divisor > volume / solidM3) divisor = volume / solidM3;
    if (divisor < volume / unmixed) divisor = volume / unmixed;
    return volume / divisor;
  }

  /** Whether coarse grains touch, and how much more of the largest would make them. */
  findTouch() {
    const { groundDry, gravel, plan } = this;
    const gravelKg = groundDry * gravel;
    let earthM3 = groundDry / this.groundSettled - gravelKg * (1 / GRAVEL_SOLID);
    if (earthM3 < 0) earthM3 = 0;
    const earthSolid = (groundDry - gravelKg) / this.fineSolid;
    const rest = this.pack(true, plan.coarse, PUDDLED, earthM3, earthSolid);
    this.judge(gravelKg, rest, 0);
    const { share, threshold } = this;
    this.touchPorosity = this.porosity;
    this.touchLogMm = this.logMm;
    this.touchGrainsM3 = this.grainsM3;
    let more = 0;
    if (plan.largest >= 0 && this.lack > 0) {
      let beforeMore = 0, beforeLack = this.lack;
      more = this.lack;
      for (let turn = 0; turn < SECANTS; turn += 1) {
        this.judge(gravelKg, rest, more);
        const { lack } = this;
        let rise = (beforeLack - lack) / (more - beforeMore);
        if (!(rise > 0.05)) rise = 0.05;
        const step = lack / rise;
        if (!(step > 0 || step < 0)) break;
        beforeMore = more;
        beforeLack = lack;
        more += step;
        if (more < 0) more = 0;
        // A step this small leaves an error far below roundings.
        if (Math.abs(step) <= (rest + more) * LAST_STEP) break;
      }
    }
    this.share = share;
    this.threshold = threshold;
    this.moreM3 = more;
  }

  judge(gravelKg, rest, moreM3) {
    const { x, t, settledRoom, settledFromCoarse, solidRoom, dryKg } = this;
    const { packing, places, ofVolume, ofSolid, coarse, largest, logSizes } = this.plan;
    const gravelM3 = gravelKg * (1 / GRAVEL_SETTLED), gravelSolid = gravelKg * (1 / GRAVEL_SOLID);
    const place = packing + GRAVEL, row = place * places, s = SETTLED_S;
    let kg = gravelKg, logKg = gravelKg * LOG_GRAVEL, solids = gravelSolid;
    let gravelLimit = gravelM3 * s;
    let moreSolid = 0, moreKg = 0;
    if (largest >= 0) {
      moreKg = moreM3 * dryKg[largest] / settledRoom[largest];
      moreSolid = moreM3 * solidRoom[largest] / settledRoom[largest];
    }
    for (let carrier = 0; carrier < coarse; carrier += 1) {
      let volume = settledRoom[carrier], solid = solidRoom[carrier], partKg = dryKg[carrier];
      let cell = carrier * places + place;
      let limit = settledFromCoarse[carrier] + (gravelM3 * (ofVolume[cell] * s) + gravelSolid * ofSolid[cell]);
      if (largest >= 0) {
        cell = carrier * places + largest;
        limit += moreM3 * (ofVolume[cell] * s) + moreSolid * ofSolid[cell];
        if (carrier === largest) {
          volume += moreM3;
          solid += moreSolid;
          partKg += moreKg;
        }
      }
      cell = row + carrier;
      gravelLimit += volume * (ofVolume[cell] * s) + solid * ofSolid[cell];
      kg += partKg;
      logKg += partKg * logSizes[carrier];
      solids += solid;
      x[carrier] = volume;
      t[carrier] = limit;
    }
    x[coarse] = gravelM3;
    t[coarse] = gravelLimit;
    const volume = root(coarse + 1, x, t, s, SETTLED_K);
    const porosity = 1 - solids / (volume > 1e-300 ? volume : 1e-300);
    const logMm = coarse === 1 && gravelKg === 0 ? logSizes[0] : logKg / (kg > 1e-300 ? kg : 1e-300);
    if (logMm !== this.logMm) {
      // Draws often share the size, and functions are dear.
      let r = PUDDLED_MM / Math.exp(logMm);
      r = r < 1e-4 ? 1e-4 : r > 1 ? 1 : r;
      this.logMm = logMm;
      this.free = 1 - loosening(r);
      this.open = 1 - wall(r);
    }
    const { free, open } = this;
    const threshold = free > 0 ? free / (free + porosity * open) : 1 / (1 + porosity);
    const both = volume + rest;
    this.porosity = porosity;
    this.grainsM3 = solids;
    this.share = volume / (both > 1e-300 ? both : 1e-300);
    this.threshold = threshold;
    this.lack = threshold / (1 - threshold) * rest - volume;
  }

  write(draw) {
    const { out, draws, massDry, solidM3, groundSolid, plan } = this;
    let at = draw;
    const fines = this.massSand + this.massSilt + this.massClay;
    const texture = fines > massDry * 1e-9;
    out[at] = texture ? this.massSand * 100 / fines : NaN;
    out[at += draws] = texture ? this.massSilt * 100 / fines : NaN;
    out[at += draws] = texture ? this.massClay * 100 / fines : NaN;
    const earth = massDry - this.massCoarse;
    const organic = this.massOrganic * 100 / earth;
    const withChar = (this.massOrganic + this.massChar) * 100 / earth;
    out[at += draws] = earth > 0 ? (organic > 100 ? 100 : organic) : NaN;
    out[at += draws] = earth > 0 ? (withChar > 100 ? 100 : withChar) : NaN;
    out[at += draws] = massDry;
    out[at += draws] = massDry + this.massWater;
    out[at += draws] = this.topKg;
    out[at += draws] = this.looseSum * 1000;
    out[at += draws] = this.freshM3 * 1000;
    out[at += draws] = this.settledM3 * 1000;
    out[at += draws] = this.puddledM3 * 1000;
    out[at += draws] = massDry / this.freshM3;
    out[at += draws] = massDry / this.settledM3;
    out[at += draws] = massDry / this.puddledM3;
    out[at += draws] = (1 - solidM3 / this.freshM3) * 100;
    out[at += draws] = (1 - solidM3 / this.settledM3) * 100;
    out[at += draws] = (1 - solidM3 / this.puddledM3) * 100;
    out[at += draws] = this.share;
    out[at += draws] = this.clayWeight > 0 ? this.threshold : NaN;
    const { largest } = plan;
    const more = largest < 0 ? 0
      : this.moreM3 / this.settledRoom[largest] * this.moistKg[largest];
    out[at += draws] = this.clayWeight > 0 ? more : NaN;
    out[at += draws] = plan.priced ? this.cost() : NaN;
    out[at += draws] = this.groundOrganic * 100;
    out[at += draws] = this.lying;
    out[at += draws] = (1 - this.lying / groundSolid) * 100;
    out[at += draws] = this.groundFresh;
    out[at += draws] = (1 - this.groundFresh / groundSolid) * 100;
    out[at += draws] = this.groundSettled;
    out[at + draws] = (1 - this.groundSettled / groundSolid) * 100;
  }

  cost() {
    let sum = 0;
    for (let part = 0; part < this.count; part += 1) {
      sum += this.moistKg[part] * this.rateKg[part] + this.looseM3[part] * this.rateM3[part];
    }
    return sum;
  }

  /** The ends of a measure. */
  tell(of) {
    this.ends.of(this.measured[of], this.figures, 2 * of);
  }

  /** What the draws say of the blend against the ground, of its class, and of its skeleton. */
  compare() {
    const { draws, out, changes, odds, ends, differences } = this;
    for (let at = 0; at < CHANGES.length; at += 1) {
      const to = CHANGES[at][0] * draws, from = CHANGES[at][1] * draws, least = CHANGES[at][2];
      let more = 0, less = 0;
      for (let draw = 0; draw < draws; draw += 1) {
        const one = out[to + draw], other = out[from + draw];
        let value = one - other;
        // What is only rounding is no change.
        if (Math.abs(value) <= 1e-12 * (Math.abs(one) + Math.abs(other))) value = 0;
        differences[draw] = value;
        if (value > least) more += 1;
        if (value < -least) less += 1;
      }
      ends.of(differences, changes, 4 * at);
      changes[4 * at + 2] = more / draws;
      changes[4 * at + 3] = less / draws;
    }
    odds.fill(0);
    let counted = 0, asked = 0, touching = 0;
    for (let draw = 0; draw < draws; draw += 1) {
      const silt = out[(SAND + 1) * draws + draw], clay = out[(SAND + 2) * draws + draw];
      if (silt === silt) {
        odds[classify(silt, clay)] += 1;
        counted += 1;
      }
      const threshold = out[THRESHOLD * draws + draw], share = out[SHARE * draws + draw];
      if (threshold === threshold) {
        asked += 1;
        if (share > 0 && share >= threshold) touching += 1;
      }
    }
    for (let at = 0; at < odds.length; at += 1) odds[at] /= counted;
    this.touching = touching / asked;
  }
}
