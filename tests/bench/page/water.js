// Water of one draw: what the ground and the blend hold, and how fast water goes through. The same
// rules in the same order as the core. No bench has a container, so no curve of retention is here.
import { errorAt, shareBelow } from './errors.js';

/** The measures of water, in the order of the core; those of a container stay without numbers. */
export const WATER = ['air_pct', 'available_pct', 'unavailable_pct', 'closed_pct', 'drainage_mm_h',
  'watered_kg', 'pot_water_pct', 'pot_air_pct', 'lying_air_pct', 'lying_available_pct',
  'lying_unavailable_pct', 'lying_field_capacity_pct', 'lying_drainage_mm_h', 'alone_air_pct',
  'alone_available_pct', 'alone_drainage_mm_h'];
/** Place of the first among all measures. */
const FIRST = 29;
const AIR = FIRST, AVAILABLE = FIRST + 1, UNAVAILABLE = FIRST + 2, CLOSED = FIRST + 3,
  DRAINAGE = FIRST + 4, WATERED = FIRST + 5, POT_WATER = FIRST + 6, LYING_AIR = FIRST + 8,
  LYING_AVAILABLE = FIRST + 9, LYING_UNAVAILABLE = FIRST + 10, LYING_CAPACITY = FIRST + 11,
  LYING_DRAINAGE = FIRST + 12, ALONE_AIR = FIRST + 13, ALONE_AVAILABLE = FIRST + 14,
  ALONE_DRAINAGE = FIRST + 15;

const NOTHING = 1e-12;
const GRAVEL_SOLID = 2650, GRAVEL_SETTLED = 1680, GRAVEL_LOG_MM = Math.log(10);
const GRAVEL_MM = Math.exp(GRAVEL_LOG_MM), GRAVEL_PORES = 1 - GRAVEL_SETTLED / GRAVEL_SOLID;
const LEAST_FACTOR = 0.9, MOST_FACTOR = 1.3, LEAST_OF_KIND = 0.1, LEAST_AROUND = 0.01;
const LEAST_THETA = 0.005, MOST_AT_33 = 0.98, MOST_AT_1500 = 0.95;
const HUMUS_MOST = 0.08, PEAT_33 = 0.00196, PEAT_1500 = 0.00109, PEAT_ROOM = 1 / 300;
const WOOD_PORES = 0.0022, PIECES_FROM = 6, PIECES_TO = 10;
const LEAST_EFFECTIVE = 0.06, LOG_TENSIONS = 3.81671282562382, AVAILABLE_LEAST = 0.002;
const PORES_MOST = 0.95;
const CARMAN = 998.2 * 9.81 / 1.002e-3 / 180 * 3.6e6;

/** From 0 at 35 % clay and less to 1 at 40 % and more. */
function asClay(clay) {
  const share = (clay - 0.35) * (1 / 0.05);
  return share < 0 ? 0 : share > 1 ? 1 : share;
}

export function densityCoefficient(clay) { return 0.2 + asClay(clay) * (0.9 - 0.2); }

/** Water at 33 kPa of a soil at its normal density (Saxton & Rawls, equation 2). */
export function theta33(s, c, om) {
  const t = s * -0.251 + c * 0.195 + om * 0.011 + s * om * 0.006 + c * om * -0.027
    + s * c * 0.452 + 0.299;
  return t + (t * t * 1.283 - t * 0.374 - 0.015);
}

/** Its water at saturation (equations 3 and 5). */
export function thetaS(s, c, om, at33) {
  const t = s * 0.278 + c * 0.034 + om * 0.022 + s * om * -0.018 + c * om * -0.027
    + s * c * -0.584 + 0.078;
  return at33 + (t + (t * 0.636 - 0.107)) - s * 0.097 + 0.043;
}

/** Water at 1500 kPa (equation 1). */
function theta1500(s, c, om) {
  const t = s * -0.024 + c * 0.487 + om * 0.006 + s * om * 0.005 + c * om * -0.013
    + s * c * 0.068 + 0.031;
  const theta = t + (t * 0.14 - 0.02);
  return theta < 0.005 ? 0.005 : theta;
}

/** What is left of a difference by rounding alone is nothing. */
function left(all, taken) {
  const rest = all - taken;
  return rest > all * NOTHING ? rest : 0;
}

/** The share of a bed that is open between coarse grains, which touch at a share of the room. */
function betweenGrains(share, porosity) {
  const open = porosity - (1 - share) / (share < NOTHING ? NOTHING : share);
  return open < 0 ? 0 : open;
}

/** Conductivity of soil with coarse grains in it: first they are in the way, then they lead. */
function withGrains(ofFines, shareGiven, poresGiven, mm) {
  let n = poresGiven < 0 ? 0 : poresGiven > PORES_MOST ? PORES_MOST : poresGiven;
  let solids = 1 - n;
  const metres = mm * 1e-3;
  const clean = n * n * n / (solids * solids) * metres * metres * CARMAN * (1 / 3);
  const share = shareGiven < 1e-9 ? 1e-9 : shareGiven > 1 ? 1 : shareGiven;
  n = poresGiven < 1e-3 ? 1e-3 : poresGiven > PORES_MOST ? PORES_MOST : poresGiven;
  solids = 1 - n;
  let grains = share * solids / (1 - share * n);
  if (grains > solids) grains = solids;
  const floating = ofFines * (1 - grains) / (1 + grains * 0.5);
  const open = n - (1 - share) / share;
  if (!(open > 0)) return floating;
  const logFloating = Math.log(floating);
  return Math.exp(logFloating + open / n * (Math.log(clean) - logFloating));
}

/** Scores that go along with others by a correlation. */
function mix(scores, others, correlation) {
  const own = Math.sqrt(Math.max(1 - correlation * correlation, 0));
  for (let at = 0; at < scores.length; at += 1) {
    scores[at] = correlation * others[at] + own * scores[at];
  }
}

export class Water {
  constructor(plan, out) {
    const { draws, parts } = plan;
    this.plan = plan;
    this.draws = draws;
    this.out = out;
    out.fill(NaN, POT_WATER * draws, (POT_WATER + 2) * draws);
    /** Errors at 33 kPa, at 1500 kPa and of conductivity: of the ground, then of the blend. */
    this.errors = new Float64Array(6 * draws);
    const inner = (at) => Float64Array.from(parts, (part) => part.inner ? part.inner[at] : 0);
    this.inner33 = inner(0);
    this.inner1500 = inner(1);
    this.innerClosed = inner(2);
    // 0: no pores of its own; 1: always grains; 2: humus until there is much of it.
    this.kinds = Uint8Array.from(parts, (part) =>
      !part.inner ? 0 : part.organic && part.group !== 'char' ? 2 : 1);
    this.isWood = Uint8Array.from(parts, (part) => part.group === 'bark_wood_straw' ? 1 : 0);
    this.isMixed = Uint8Array.from(parts, (part) => part.onTop ? 0 : 1);
    this.isCoarse = Uint8Array.from(parts, (part) => part.rank === 0 ? 1 : 0);
    // Sums over grains with pores of their own, for both kinds.
    for (const name of ['sandKg', 'siltKg', 'clayKg', 'organicKg', 'coarseKg', 'in33', 'in1500',
      'inClosed', 'inRoom']) {
      this[name] = new Float64Array(3);
    }
    // Fine earth, what it holds, and water in a room; each for one soil after the other.
    this.kg = this.sand = this.clay = this.at33 = this.atS = this.at1500 = this.peatKg = 0.1;
    this.normal = this.held33 = this.held1500 = this.heldClosed = this.room = this.earthM3 = 0.1;
    this.drains = this.lambda = this.capacity = this.wilting = this.closed = this.fillable = 0.1;
    this.aloneDrains = this.aloneLambda = this.aloneError = 0.1;
    this.logMm = NaN;
    this.mm = 0.1;
  }

  /** Draws what the equations miss, for the ground and for the blend together. */
  drawErrors() {
    const { draws, errors } = this;
    const { scores, waterErrors } = this.plan;
    const { orders, kinds, likeGround, withDensity, densityOrder } = waterErrors;
    const scoresOf = (order) => Float64Array.from(order, (stratum) => scores[stratum]);
    const own = orders[0].map(scoresOf);
    if (withDensity !== 0) mix(own[0], scoresOf(densityOrder), withDensity);
    for (let soil = 0; soil < 2; soil += 1) {
      if (soil === 1) {
        for (let row = 0; row < 3; row += 1) {
          const blend = scoresOf(orders[1][row]);
          mix(blend, own[row], likeGround);
          own[row] = blend;
        }
      }
      const [dry, through, dryThrough] = kinds[soil].together;
      const rest = Math.sqrt(1 - dry * dry);
      const second = (dryThrough - dry * through) / rest;
      const third = Math.sqrt(1 - through * through - second * second);
      const weights = [[1, 0, 0], [dry, rest, 0], [through, second, third]];
      for (let row = 0; row < 3; row += 1) {
        const start = (3 * soil + row) * draws, tabulated = kinds[soil].errors[row];
        const [one, two, three] = weights[row];
        for (let draw = 0; draw < draws; draw += 1) {
          const score = own[0][draw] * one + own[1][draw] * two + own[2][draw] * three;
          errors[start + draw] = errorAt(tabulated, shareBelow(scores, score));
        }
      }
    }
  }

  /** Fine earth of so much sand, silt, clay and organic matter. */
  takeEarth(sandKg, siltKg, clayKg, organicKg) {
    const mineralKg = sandKg + siltKg + clayKg;
    const mostKg = mineralKg * (HUMUS_MOST / (1 - HUMUS_MOST));
    const humusKg = mostKg < organicKg ? mostKg : organicKg;
    const kg = mineralKg + humusKg;
    const someKg = mineralKg < NOTHING ? NOTHING : mineralKg;
    const sand = sandKg / someKg, clay = clayKg / someKg;
    let organic = humusKg * 100 / (kg < NOTHING ? NOTHING : kg);
    if (organic > 8) organic = 8;
    organic += asClay(clay) * (2.5 - organic);
    const at33 = theta33(sand, clay, organic);
    this.kg = kg;
    this.sand = sand;
    this.clay = clay;
    this.at33 = at33;
    this.atS = thetaS(sand, clay, organic, at33);
    this.normal = (1 - this.atS) * 2650;
    this.at1500 = theta1500(sand, clay, organic);
    const peatKg = organicKg - humusKg;
    this.peatKg = peatKg < 0 ? 0 : peatKg;
  }

  /** How dense a ground with this earth is against its kind, where it lies at a density. */
  factor(gravel, density) {
    const room = 1 / density;
    const earthM3 = room - gravel * (1 / GRAVEL_SOLID) - this.peatKg * PEAT_ROOM;
    const least = room * LEAST_AROUND;
    const factor = this.kg / (earthM3 < least ? least : earthM3) / this.normal;
    return factor < LEAST_OF_KIND ? LEAST_OF_KIND : factor;
  }

  /** What the fine earth holds at a density factor. */
  hold(factor, error33, error1500) {
    const { kg, clay, at33, atS, at1500, normal, peatKg } = this;
    const inRange = factor < LEAST_FACTOR ? LEAST_FACTOR : factor > MOST_FACTOR ? MOST_FACTOR : factor;
    const looser = (1 - atS) * (1 - inRange);
    let said = at33 + densityCoefficient(clay) * looser;
    if (said < LEAST_THETA) said = LEAST_THETA;
    let wet = said + error33;
    if (wet < LEAST_THETA) wet = LEAST_THETA;
    let dry = at1500 + error1500;
    if (dry < 0) dry = 0;
    if (dry > wet * MOST_AT_1500) dry = wet * MOST_AT_1500;
    const earthM3 = kg / (normal * factor);
    this.held33 = earthM3 * wet + peatKg * PEAT_33;
    this.held1500 = earthM3 * dry + peatKg * PEAT_1500;
    this.heldClosed = 0;
    this.room = earthM3 + peatKg * PEAT_ROOM;
    this.earthM3 = earthM3;
    this.drains = atS + looser - said;
    const least = at1500 < LEAST_THETA ? LEAST_THETA : at1500;
    const above = said < least + AVAILABLE_LEAST ? least + AVAILABLE_LEAST : said;
    this.lambda = Math.log(above / least) * (1 / LOG_TENSIONS);
  }

  /** Shares of a volume that this matter fills with water. */
  fill(volume, solid) {
    let pores = (volume - solid) / volume;
    if (pores < 0) pores = 0;
    let closed = this.heldClosed / volume;
    closed = closed < 0 ? 0 : closed > pores ? pores : closed;
    const fillable = pores - closed;
    let capacity = this.held33 / volume;
    capacity = capacity < 0 ? 0 : capacity > fillable * MOST_AT_33 ? fillable * MOST_AT_33 : capacity;
    let wilting = this.held1500 / volume;
    const most = capacity * MOST_AT_1500;
    wilting = wilting < 0 ? 0 : wilting > most ? most : wilting;
    this.closed = closed;
    this.fillable = fillable;
    this.capacity = capacity;
    this.wilting = wilting;
  }

  /** How fast water goes through a full bed, mm/h. */
  conductivity(volume, share, porosity, mm, grainsM3, floats, error) {
    const between = betweenGrains(share, porosity);
    const around = 1 - grainsM3 / volume - between;
    let drains = (this.earthM3 * this.drains + volume - this.room) / volume - between;
    drains /= around < LEAST_AROUND ? LEAST_AROUND : around;
    let effective = drains + (this.aloneDrains - drains) * floats;
    effective = effective < LEAST_EFFECTIVE ? LEAST_EFFECTIVE : effective > 1 ? 1 : effective;
    const lambda = this.lambda + (this.aloneLambda - this.lambda) * floats;
    const fines = Math.exp((3 - lambda) * Math.log(effective)) * 1930;
    const through = share > 0 ? withGrains(fines, share, porosity, mm) : fines;
    // Between touching grains it is theirs.
    const filled = 1 - between / (porosity < NOTHING ? NOTHING : porosity);
    const missed = error + (this.aloneError - error) * floats * filled;
    return through * Math.exp(missed * Math.LN10);
  }

  /** Everything of one draw, after its masses and volumes. */
  measure(kernel, draw) {
    const { out, draws, errors } = this;
    const { gravel, lying, groundSettled } = kernel;
    const kg = 1 - gravel, organicKg = kg * kernel.groundOrganic, mineralKg = kg - organicKg;
    this.takeEarth(mineralKg * kernel.groundSand, mineralKg * kernel.groundSilt,
      mineralKg * kernel.groundClay, organicKg);
    const factor = this.factor(gravel, groundSettled);
    this.measureGround(kernel, draw, lying, this.factor(gravel, lying), LYING_AIR, LYING_AVAILABLE,
      LYING_DRAINAGE);
    out[LYING_UNAVAILABLE * draws + draw] = this.wilting * 100;
    out[LYING_CAPACITY * draws + draw] = this.capacity * 100;
    this.measureGround(kernel, draw, groundSettled, factor, ALONE_AIR, ALONE_AVAILABLE, ALONE_DRAINAGE);

    this.holdMix(kernel, draw, factor);
    const { settledM3, share, touchPorosity, touchLogMm } = kernel;
    this.fill(settledM3, kernel.solidM3);
    out[AIR * draws + draw] = (this.fillable - this.capacity) * 100;
    out[AVAILABLE * draws + draw] = (this.capacity - this.wilting) * 100;
    out[UNAVAILABLE * draws + draw] = this.wilting * 100;
    out[CLOSED * draws + draw] = this.closed * 100;
    if (touchLogMm !== this.logMm) {
      // Draws often share the size.
      this.logMm = touchLogMm;
      this.mm = Math.exp(touchLogMm);
    }
    out[DRAINAGE * draws + draw] = this.conductivity(settledM3, share, touchPorosity, this.mm,
      kernel.touchGrainsM3, this.floats(kernel), errors[5 * draws + draw]);
    out[WATERED * draws + draw] = kernel.massDry + this.capacity * settledM3 * 1000;
  }

  /** The ground by itself at a density, a kilogram of it. */
  measureGround(kernel, draw, density, factor, air, available, drainage) {
    const { out, draws, errors } = this;
    const { gravel } = kernel;
    const room = 1 / density;
    this.hold(factor, errors[draw], errors[draws + draw]);
    this.room += gravel * (1 / GRAVEL_SOLID);
    // Its gravel in the rest of it.
    const gravelM3 = gravel * (1 / GRAVEL_SETTLED), grainsM3 = gravel * (1 / GRAVEL_SOLID);
    let rest = room - grainsM3;
    if (rest < 0) rest = 0;
    const share = gravelM3 / (gravelM3 + rest);
    this.fill(room, 1 / kernel.groundSolid);
    out[air * draws + draw] = (this.fillable - this.capacity) * 100;
    out[available * draws + draw] = (this.capacity - this.wilting) * 100;
    this.aloneDrains = this.drains;
    this.aloneLambda = this.lambda;
    this.aloneError = errors[2 * draws + draw];
    out[drainage * draws + draw] = this.conductivity(room, share, GRAVEL_PORES, GRAVEL_MM, grainsM3,
      0, this.aloneError);
  }

  /** What the blend holds: its fine earth, and pores inside grains. */
  holdMix(kernel, draw, groundFactor) {
    const { draws, errors, kinds, inner33, inner1500, innerClosed, isWood, plan } = this;
    const { sandKg, siltKg, clayKg, organicKg, coarseKg, in33, in1500, inClosed, inRoom } = this;
    const { dryKg, organic, char, coarse, sand, silt, clay, solid, grain, givesFines } = kernel;
    for (let kind = 1; kind < 3; kind += 1) {
      sandKg[kind] = siltKg[kind] = clayKg[kind] = organicKg[kind] = coarseKg[kind] = 0;
      in33[kind] = in1500[kind] = inClosed[kind] = inRoom[kind] = 0;
    }
    for (let part = 0; part < kinds.length; part += 1) {
      const kind = kinds[part];
      if (kind === 0) continue;
      const kg = dryKg[part];
      let mineral = 0;
      if (givesFines[part] === 1) {
        mineral = 1 - organic[part] - char[part];
        if (mineral < 0) mineral = 0;
        mineral *= kg;
      }
      const stones = mineral * coarse[part], fines = mineral - stones;
      const solidM3 = kg / solid[part];
      let pores = kg / grain[part] - solidM3;
      if (isWood[part] === 1 && pores > kg * WOOD_PORES) pores = kg * WOOD_PORES;
      sandKg[kind] += fines * sand[part];
      siltKg[kind] += fines * silt[part];
      clayKg[kind] += fines * clay[part];
      organicKg[kind] += kg * organic[part];
      coarseKg[kind] += stones;
      in33[kind] += pores * inner33[part];
      in1500[kind] += pores * inner1500[part];
      inClosed[kind] += pores * innerClosed[part];
      inRoom[kind] += solidM3 + pores;
    }
    const { massDry, massCoarse, massOrganic, massSand, massSilt, massClay } = kernel;
    let earthKg = massDry - massCoarse;
    if (earthKg < NOTHING) earthKg = NOTHING;
    let mineralKg = massSand + massSilt + massClay;
    if (mineralKg < NOTHING) mineralKg = NOTHING;
    // In clay pieces count at once.
    const heavy = asClay(kernel.groundDry > 0 ? kernel.groundClay : massClay / mineralKg);
    let pieces = (massOrganic * 100 / earthKg - PIECES_FROM) * (1 / (PIECES_TO - PIECES_FROM));
    if (pieces < heavy) pieces = heavy;
    if (pieces > 1) pieces = 1;
    this.takeEarth(left(massSand, sandKg[1] + sandKg[2] * pieces),
      left(massSilt, siltKg[1] + siltKg[2] * pieces),
      left(massClay, clayKg[1] + clayKg[2] * pieces),
      left(massOrganic, organicKg[1] + organicKg[2] * pieces));
    let ofGround = kernel.groundDry * (1 - kernel.gravel) / (this.kg < NOTHING ? NOTHING : this.kg);
    if (ofGround > 1) ofGround = 1;
    this.hold(1 + (groundFactor - 1) * ofGround, errors[3 * draws + draw], errors[4 * draws + draw]);
    let innerWater = 1 + kernel.columns[plan.innerWater * draws + draw];
    if (innerWater < 0) innerWater = 0;
    this.held33 += (in33[1] + in33[2] * pieces) * innerWater;
    this.held1500 += (in1500[1] + in1500[2] * pieces) * innerWater;
    this.heldClosed = inClosed[1] + inClosed[2] * pieces;
    const stonesKg = left(massCoarse, coarseKg[1] + coarseKg[2] * pieces);
    this.room = this.room + (inRoom[1] + inRoom[2] * pieces) + stonesKg * (1 / GRAVEL_SOLID);
  }

  /** How far the blend is its ground with coarse grains in it. */
  floats(kernel) {
    const { isMixed, isCoarse } = this;
    const { looseM3, dryKg, groundDry } = kernel;
    let coarseM3 = 0, addedM3 = 0, fineKg = groundDry;
    for (let part = 0; part < isMixed.length; part += 1) {
      if (isMixed[part] === 0) continue;
      addedM3 += looseM3[part];
      if (isCoarse[part] === 1) coarseM3 += looseM3[part];
      else fineKg += dryKg[part];
    }
    const ofGround = groundDry / (fineKg < NOTHING ? NOTHING : fineKg);
    return coarseM3 / (addedM3 < NOTHING ? NOTHING : addedM3) * ofGround;
  }
}
