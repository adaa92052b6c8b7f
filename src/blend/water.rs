//! What a mix holds: water that plants can take and cannot, air, cells that stay closed, and how
//! fast water goes through.
//!
//! The fine earth holds what Saxton & Rawls say of its texture, at the density at which the ground
//! itself stands. That water belongs to the matter: room that packing and crumbs add is air. Grains
//! with pores of their own are inclusions that hold what their kind holds.

use super::Masses;
use super::mix::{Mix, Part};
use super::skeleton::Touch;
use crate::ground::{GRAVEL_SOLID_KG_M3, Ground};
use crate::lane::Lane;
use crate::material::Group;
use crate::water::drainage::{clean_conductivity_mm_h, skeleton_conductivity};
use crate::water::retention::{Retention, Store, filled_share, residual};
use crate::water::saxton_rawls::{
    EFFECTIVE_PORES_LEAST, FACTOR_LIMITS, Normal, as_clay, conductivity_mm_h, density_coefficient,
    organic_matter_for_water_pct, slope_lambda, theta_1500,
};

/// Organic matter up to which an organic addition is humus to the equations, and from which on its
/// pieces are inclusions, % (the equations were fitted up to 8).
const INCLUDED_PCT: (f64, f64) = (6.0, 10.0);
/// Organic matter that the equations take at the most, as a fraction.
const HUMUS_MOST: f64 = 0.08;
/// Water of a kilogram of organic matter beyond it, m3 at 33 and at 1500 kPa, and its room (peat of
/// 300 kg/m3, from the retention of peats over 200 kg/m3, Liu & Lennartz 2019; from memory).
const HUMUS_HOLDS_M3_KG: [f64; 2] = [0.00196, 0.00109];
const HUMUS_ROOM_M3_KG: f64 = 1.0 / 300.0;
/// Most of the fillable pores that is full at 33 kPa, and most of that at 1500 kPa (a choice).
const MOST_AT_33: f64 = 0.98;
const MOST_AT_1500: f64 = 0.95;
/// Most pores inside wood and what is like it, m3/kg: those of a light wood (350 kg/m3 dry, as pine
/// bark too). More room than that lies inside stems and hulls, and drains.
const WOOD_PORES_MOST_M3_KG: f64 = 0.0022;
/// A mass below which there is nothing to hold, kg, and a share below which nothing is held.
const NOTHING: f64 = 1e-12;
/// Least density of a fine earth against its kind, and least share of a bed around coarse grains.
const LEAST_FACTOR: f64 = 0.1;
const LEAST_AROUND: f64 = 0.01;
/// Least water of a fine earth at 33 kPa, by volume, whatever the error drawn.
const LEAST_THETA: f64 = 0.005;

/// Shares of the pores inside a grain that hold water at 33 kPa, at 1500 kPa, and that stay closed
/// (from memory: peats, Liu & Lennartz 2019; bark, composts, char and light minerals, tables of the
/// trade; the doubt on them is drawn).
fn inner(group: Group) -> Option<[f64; 3]> {
    match group {
        Group::PorousMineral => Some([0.40, 0.16, 0.12]),
        Group::Char => Some([0.70, 0.35, 0.0]),
        Group::PeatCoir => Some([0.72, 0.30, 0.0]),
        Group::CompostManure | Group::Meal => Some([0.80, 0.40, 0.0]),
        Group::BarkWoodStraw => Some([0.80, 0.50, 0.0]),
        _ => None,
    }
}

/// What the equations miss, in one draw and for one soil.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WaterErrors<L> {
    /// Of the water at 33 kPa, by volume.
    pub(crate) theta_33: L,
    /// Of the water at 1500 kPa, by volume.
    pub(crate) theta_1500: L,
    /// Of the logarithm (base 10) of the conductivity.
    pub(crate) log10_conductivity: L,
}

/// Fine earth, as the equations see it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Earth<L> {
    kg: L,
    clay: L,
    sand: L,
    normal: Normal<L>,
    theta_1500: L,
    /// Organic matter beyond what the equations take, kg.
    peat_kg: L,
}

/// Water that matter holds whatever room it has, m3, and the room it takes by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held<L = f64> {
    /// At 33 kPa.
    pub at_33_m3: L,
    /// At 1500 kPa.
    pub at_1500_m3: L,
    /// Cells that no water enters.
    pub closed_m3: L,
    /// The fine earth at the density of its ground, and whole grains.
    pub room_m3: L,
    /// Of it the fine earth.
    pub earth_m3: L,
    /// Sand of the fine earth, as a fraction.
    pub sand: L,
    /// Clay of the fine earth, as a fraction.
    pub clay: L,
    /// Pores of the fine earth that drain, a fraction of its room, as the equations have them: their
    /// errors on water and on conductivity were measured apart.
    pub drains: L,
    /// Its slope of conductivity.
    pub lambda: L,
}

/// Water and air as shares of a volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water<L = f64> {
    /// Held at 33 kPa: what stays once it stopped draining.
    pub field_capacity: L,
    /// Held at 1500 kPa: what plants leave.
    pub wilting_point: L,
    /// Cells that no water enters.
    pub closed: L,
    /// Pores that water can fill.
    pub fillable: L,
    /// Of them those between crumbs or coarse grains.
    pub open: L,
}

impl<L: Lane> Water<L> {
    /// Air once it stopped draining.
    pub fn air(&self) -> L {
        self.fillable - self.field_capacity
    }

    /// Water that plants can take.
    pub fn available(&self) -> L {
        self.field_capacity - self.wilting_point
    }

    pub(crate) fn map<M>(&self, of: impl Fn(L) -> M) -> Water<M> {
        Water {
            field_capacity: of(self.field_capacity),
            wilting_point: of(self.wilting_point),
            closed: of(self.closed),
            fillable: of(self.fillable),
            open: of(self.open),
        }
    }
}

impl<L: Lane> Earth<L> {
    fn of(fines_kg: [L; 3], organic_kg: L) -> Earth<L> {
        let (zero, nothing) = (L::all(0.0), L::all(NOTHING));
        let [sand_kg, silt_kg, clay_kg] = fines_kg;
        let mineral_kg = sand_kg + silt_kg + clay_kg;
        let most_kg = mineral_kg * (HUMUS_MOST / (1.0 - HUMUS_MOST));
        let humus_kg = organic_kg.at_most(most_kg);
        let kg = mineral_kg + humus_kg;
        let some_kg = mineral_kg.at_least(nothing);
        let (sand, clay) = (sand_kg / some_kg, clay_kg / some_kg);
        let organic_pct = humus_kg * 100.0 / kg.at_least(nothing);
        let organic_pct = organic_matter_for_water_pct(clay, organic_pct);
        Earth {
            kg,
            clay,
            sand,
            normal: Normal::of(sand, clay, organic_pct),
            theta_1500: theta_1500(sand, clay, organic_pct),
            peat_kg: (organic_kg - humus_kg).at_least(zero),
        }
    }

    /// The fine earth of a kilogram of ground.
    pub(crate) fn of_ground(ground: &Ground<L>) -> Earth<L> {
        let kg = L::all(1.0) - ground.gravel;
        let organic_kg = kg * ground.organic;
        Earth::of(super::shared(kg - organic_kg, ground.fractions), organic_kg)
    }

    /// How dense a ground with this earth is against its kind, where it lies at a density with its
    /// gravel.
    pub(crate) fn density_factor(&self, ground: &Ground<L>, density_kg_m3: L) -> L {
        let one = L::all(1.0);
        let gravel_m3 = ground.gravel * (1.0 / GRAVEL_SOLID_KG_M3);
        let room_m3 = one / density_kg_m3;
        let earth_m3 = room_m3 - gravel_m3 - self.peat_kg * HUMUS_ROOM_M3_KG;
        let fine_kg_m3 = self.kg / earth_m3.at_least(room_m3 * LEAST_AROUND);
        (fine_kg_m3 / self.normal.density_kg_m3()).at_least(L::all(LEAST_FACTOR))
    }

    /// What it holds at a density factor; whole grains come on top. The equations see the factor
    /// held in their range, the room is as it is.
    pub(crate) fn held(&self, factor: L, errors: &WaterErrors<L>) -> Held<L> {
        let one = L::all(1.0);
        let (low, high) = FACTOR_LIMITS;
        let in_range = factor.at_least(L::all(low)).at_most(L::all(high));
        let looser = (one - self.normal.theta_s) * (one - in_range);
        let least = L::all(LEAST_THETA);
        let said = (self.normal.theta_33 + density_coefficient(self.clay) * looser).at_least(least);
        let theta_33 = (said + errors.theta_33).at_least(least);
        let theta_1500 = (self.theta_1500 + errors.theta_1500)
            .at_least(L::all(0.0))
            .at_most(theta_33 * MOST_AT_1500);
        let earth_m3 = self.kg / (self.normal.density_kg_m3() * factor);
        let [peat_33, peat_1500] = HUMUS_HOLDS_M3_KG;
        Held {
            at_33_m3: earth_m3 * theta_33 + self.peat_kg * peat_33,
            at_1500_m3: earth_m3 * theta_1500 + self.peat_kg * peat_1500,
            closed_m3: L::all(0.0),
            room_m3: earth_m3 + self.peat_kg * HUMUS_ROOM_M3_KG,
            earth_m3,
            sand: self.sand,
            clay: self.clay,
            drains: self.normal.theta_s + looser - said,
            lambda: slope_lambda(said, self.theta_1500.at_least(least)),
        }
    }
}

/// What a kilogram of ground holds where it lies at a density.
pub(crate) fn held_by_ground<L: Lane>(
    ground: &Ground<L>,
    earth: &Earth<L>,
    density_kg_m3: L,
    errors: &WaterErrors<L>,
) -> Held<L> {
    let held = earth.held(earth.density_factor(ground, density_kg_m3), errors);
    Held {
        room_m3: held.room_m3 + ground.gravel * (1.0 / GRAVEL_SOLID_KG_M3),
        ..held
    }
}

/// Sums over grains with pores of their own.
#[derive(Clone, Copy)]
struct Grains<L> {
    fines_kg: [L; 3],
    organic_kg: L,
    coarse_kg: L,
    at_33_m3: L,
    at_1500_m3: L,
    closed_m3: L,
    room_m3: L,
}

impl<L: Lane> Grains<L> {
    fn none() -> Grains<L> {
        let zero = L::all(0.0);
        Grains {
            fines_kg: [zero; 3],
            organic_kg: zero,
            coarse_kg: zero,
            at_33_m3: zero,
            at_1500_m3: zero,
            closed_m3: zero,
            room_m3: zero,
        }
    }
}

/// What a mix holds. Its earth stands as dense as the ground does dug and settled, as far as it is
/// the ground's. `inner_water` is how much more than usual the pores inside grains hold.
pub(crate) fn held_by_mix<L: Lane>(
    parts: &[Part],
    mix: &Mix<L>,
    masses: &Masses<L>,
    ground_factor: L,
    inner_water: L,
    errors: &WaterErrors<L>,
) -> Held<L> {
    let (zero, one) = (L::all(0.0), L::all(1.0));
    // Mineral grains and char always are grains; organic ones are once there is much of them.
    let mut kinds = [Grains::none(), Grains::none()];
    for (part, share) in parts.iter().zip(&mix.shares) {
        if part.on_top {
            continue;
        }
        let Some([at_33, at_1500, closed]) = inner(part.group) else {
            continue;
        };
        let is_humus = matches!(
            part.group,
            Group::PeatCoir | Group::CompostManure | Group::BarkWoodStraw | Group::Meal
        );
        let sums = &mut kinds[usize::from(is_humus)];
        let material = &share.material;
        let mineral_kg = share.dry_kg * material.mineral();
        let coarse_kg = mineral_kg * material.coarse;
        let [sand, silt, clay] = super::shared(mineral_kg - coarse_kg, material.fractions);
        let solid_m3 = share.dry_kg / material.solid_density_kg_m3;
        let mut pores_m3 = share.dry_kg / material.grain_density_kg_m3 - solid_m3;
        if part.group == Group::BarkWoodStraw {
            pores_m3 = pores_m3.at_most(share.dry_kg * WOOD_PORES_MOST_M3_KG);
        }
        let room_m3 = solid_m3 + pores_m3;
        sums.fines_kg[0] += sand;
        sums.fines_kg[1] += silt;
        sums.fines_kg[2] += clay;
        sums.organic_kg += share.dry_kg * material.organic;
        sums.coarse_kg += coarse_kg;
        sums.at_33_m3 += pores_m3 * at_33;
        sums.at_1500_m3 += pores_m3 * at_1500;
        sums.closed_m3 += pores_m3 * closed;
        sums.room_m3 += room_m3;
    }
    let [grains, humus] = kinds;
    let (from, to) = INCLUDED_PCT;
    let earth_kg = (masses.dry_kg - masses.coarse_kg).at_least(L::all(NOTHING));
    let organic_pct = masses.organic_kg * 100.0 / earth_kg;
    // In clay the equations take no more organic matter than is usual: there pieces count at once.
    let [sand_kg, silt_kg, clay_kg] = masses.fines_kg;
    let mineral_kg = (sand_kg + silt_kg + clay_kg).at_least(L::all(NOTHING));
    let [.., ground_clay] = mix.ground.fractions;
    let clay = mix
        .ground_dry_kg
        .where_above(zero, ground_clay, clay_kg / mineral_kg);
    let pieces = ((organic_pct - L::all(from)) * (1.0 / (to - from)))
        .at_least(as_clay(clay))
        .at_most(one);
    let both = |of: fn(&Grains<L>) -> L| of(&grains) + of(&humus) * pieces;
    // What is left of a difference by rounding alone is nothing.
    let left = |all: L, taken: L| {
        let rest = all - taken;
        rest.where_above(all * NOTHING, rest, zero)
    };
    let fines = |at: usize| {
        let taken = grains.fines_kg[at] + humus.fines_kg[at] * pieces;
        left(masses.fines_kg[at], taken)
    };
    let organic_kg = left(masses.organic_kg, both(|sums| sums.organic_kg));
    let earth = Earth::of([fines(0), fines(1), fines(2)], organic_kg);
    let of_ground = (mix.ground_dry_kg * (one - mix.ground.gravel)
        / earth.kg.at_least(L::all(NOTHING)))
    .at_most(one);
    let held = earth.held(one + (ground_factor - one) * of_ground, errors);
    let inner_water = (one + inner_water).at_least(zero);
    let coarse_kg = left(masses.coarse_kg, both(|sums| sums.coarse_kg));
    Held {
        at_33_m3: held.at_33_m3 + both(|sums| sums.at_33_m3) * inner_water,
        at_1500_m3: held.at_1500_m3 + both(|sums| sums.at_1500_m3) * inner_water,
        closed_m3: both(|sums| sums.closed_m3),
        room_m3: held.room_m3 + both(|sums| sums.room_m3) + coarse_kg * (1.0 / GRAVEL_SOLID_KG_M3),
        ..held
    }
}

impl<L: Lane> Held<L> {
    pub(crate) fn map<M>(&self, of: impl Fn(L) -> M) -> Held<M> {
        Held {
            at_33_m3: of(self.at_33_m3),
            at_1500_m3: of(self.at_1500_m3),
            closed_m3: of(self.closed_m3),
            room_m3: of(self.room_m3),
            earth_m3: of(self.earth_m3),
            sand: of(self.sand),
            clay: of(self.clay),
            drains: of(self.drains),
            lambda: of(self.lambda),
        }
    }

    /// Water and air of this matter in a volume, m3, with so much solid in it. `between` is the
    /// share of the volume that is open between touching coarse grains.
    pub(crate) fn in_room(&self, volume_m3: L, solid_m3: L, between: L) -> Water<L> {
        let zero = L::all(0.0);
        let share = |m3: L| (m3 / volume_m3).at_least(zero);
        let pores = share(volume_m3 - solid_m3);
        let closed = share(self.closed_m3).at_most(pores);
        let fillable = pores - closed;
        let field_capacity = share(self.at_33_m3).at_most(fillable * MOST_AT_33);
        let wilting_point = share(self.at_1500_m3).at_most(field_capacity * MOST_AT_1500);
        let open = share(volume_m3 - self.room_m3)
            .at_least(between)
            .at_most(fillable - field_capacity * (1.0 / MOST_AT_33))
            .at_least(zero);
        Water {
            field_capacity,
            wilting_point,
            closed,
            fillable,
            open,
        }
    }
}

impl<L: Lane> Water<L> {
    /// What it holds at every tension, in a volume of that matter, m3, whose open pores are emptied
    /// by a tension in cm.
    pub(crate) fn store(&self, held: &Held<L>, volume_m3: L, open_cm: L) -> Store<L> {
        let one = L::all(1.0);
        // Trapped air and water that nothing empties belong to the earth.
        let earth = (held.earth_m3 / volume_m3).at_most(one);
        let filled = one - (one - filled_share(held.sand, held.clay)) * earth;
        let theta_s = ((self.fillable - self.open) * filled)
            .at_least(self.field_capacity * (1.0 / MOST_AT_33));
        let theta_r = residual(self.wilting_point, held.sand) * earth;
        Store {
            fine: Retention::through(theta_r, theta_s, self.field_capacity, self.wilting_point),
            open: self.open,
            open_cm,
        }
    }
}

/// The share of a bed that is open between coarse grains, which touch at a share of the room; none
/// where they float (ideal filling).
pub(crate) fn between_grains<L: Lane>(touch: &Touch<L>) -> L {
    let some = touch.share.at_least(L::all(NOTHING));
    (touch.porosity - (L::all(1.0) - touch.share) / some).at_least(L::all(0.0))
}

/// How far a mix is its ground with coarse grains in it, from 0 to 1: then the ground's own pores
/// lead the water, and what half mixing leaves open between the grains does not.
pub(crate) fn floats<L: Lane>(parts: &[Part], mix: &Mix<L>) -> L {
    let zero = L::all(0.0);
    let (mut coarse_m3, mut added_m3, mut fine_kg) = (zero, zero, mix.ground_dry_kg);
    for (part, share) in parts.iter().zip(&mix.shares) {
        if part.on_top {
            continue;
        }
        added_m3 += share.loose_m3;
        if part.is_coarse() {
            coarse_m3 += share.loose_m3;
        } else {
            fine_kg += share.dry_kg;
        }
    }
    let nothing = L::all(NOTHING);
    let of_ground = mix.ground_dry_kg / fine_kg.at_least(nothing);
    coarse_m3 / added_m3.at_least(nothing) * of_ground
}

/// What leads water through a ground.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Through<L> {
    /// Pores that drain, a fraction of the room of its fine earth.
    pub(crate) drains: L,
    /// Its slope of conductivity.
    pub(crate) lambda: L,
    /// What the equation misses, as a logarithm of base 10.
    pub(crate) log10_error: L,
}

/// How fast water goes through a full bed, mm/h: what drains decides, and coarse grains, once they
/// touch, more and more. Pores inside grains lead nowhere. `ground` is the ground
/// dug and settled, `floats` how far it counts.
pub(crate) fn conductivity<L: Lane>(
    held: &Held<L>,
    volume_m3: L,
    touch: &Touch<L>,
    ground: &Through<L>,
    floats: L,
    log10_error: L,
) -> L {
    let (zero, one) = (L::all(0.0), L::all(1.0));
    let between = between_grains(touch);
    let around = one - touch.grains_m3 / volume_m3 - between;
    let drains = (held.earth_m3 * held.drains + volume_m3 - held.room_m3) / volume_m3 - between;
    let drains = drains / around.at_least(L::all(LEAST_AROUND));
    let effective = (drains + (ground.drains - drains) * floats)
        .at_least(L::all(EFFECTIVE_PORES_LEAST))
        .at_most(one);
    let lambda = held.lambda + (ground.lambda - held.lambda) * floats;
    let fines = conductivity_mm_h(effective, lambda);
    let through = if touch.share.any_above(zero) {
        let size_mm = touch.log_mm.each(libm::exp);
        let clean = clean_conductivity_mm_h(touch.porosity, size_mm);
        let mixed = skeleton_conductivity(fines, touch.share, touch.porosity, clean);
        touch.share.where_above(zero, mixed, fines)
    } else {
        fines
    };
    // Between touching grains it is theirs.
    let filled = one - between / touch.porosity.at_least(L::all(NOTHING));
    let error = log10_error + (ground.log10_error - log10_error) * floats * filled;
    through * (error * std::f64::consts::LN_10).each(libm::exp)
}
