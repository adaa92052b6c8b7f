//! The blend: what its parts weigh together, how they pack, and whether coarse grains touch.

mod barrow;
mod chemistry;
pub mod fill;
mod heap;
mod mix;
mod packing;
mod skeleton;
mod water;

pub use barrow::{Barrow, Line, ground_dry_kg};
pub use chemistry::Chemistry;
#[cfg(not(feature = "page"))]
pub(crate) use chemistry::{Brings, CARBONATE_ABOVE_PCT, ChemistryDoubt, SODIUM_EXCHANGED};
pub(crate) use chemistry::{
    CARBONATE_ABOVE_PH, EC_PASTE_DEFAULT, PH_DEFAULT, SODIUM_SHARE_DEFAULT,
};
pub(crate) use heap::Heap;
pub(crate) use mix::{Mix, Part};
pub use packing::{
    FRESH_K, Grains, SETTLED_K, loosening, packed_volume, threshold_proportion, wall,
};
pub(crate) use skeleton::{GRAVEL_MM, LEAST_CARRYING_MM};
pub use skeleton::{Skeleton, carries};
pub(crate) use skeleton::{Touch, gravel_touch};
pub(crate) use water::{
    Earth, Through, WaterErrors, between_grains, conductivity, floats, held_by_ground, held_by_mix,
};
pub use water::{Held, Water};

use crate::figure::Figure;
use crate::ground::{EstimateErrors, Forms, mean_grain_mm};
use crate::lane::{Lane, Pair};
use crate::recipe::Soil;
use crate::texture::{Class, classify};
use crate::water::retention::{Store, open_cm};

/// Share of the full packing effect that a settled bed of natural soil shows: 10th to 90th
/// percentile 0.35 to 0.65 on 7,980 measured horizons (fitted on the same data, so an estimate).
pub const HALF_MIXED: Figure = Figure::between(0.35, 0.5, 0.65);

/// Least mineral fines, of dry mass, that still have a texture.
pub(crate) const LEAST_FINES: f64 = 1e-9;

/// What the model itself does not know, in one draw.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Doubt<L> {
    /// Share of the full packing effect that the settled bed shows.
    pub(crate) half_mixed: L,
    /// Error of the packing's pore space, as a fraction, where parts shrink by a fifth.
    pub(crate) pore_space: L,
    /// What the water equations miss for the ground, and for the blend.
    pub(crate) water: [WaterErrors<L>; 2],
    /// How much more than usual the pores inside grains hold, as a share of it.
    pub(crate) inner_water: L,
    /// Logarithm of how much wider than usual the pores between grains are.
    pub(crate) open_width: L,
}

impl<L: Lane> Doubt<L> {
    /// None: the typical evaluation of a ground and a blend with these errors.
    pub(crate) fn none([ground, blend]: [&EstimateErrors; 2]) -> Doubt<L> {
        let errors = |errors: &EstimateErrors| {
            let [theta_33, theta_1500] = errors.middle;
            WaterErrors {
                theta_33: L::all(theta_33),
                theta_1500: L::all(theta_1500),
                log10_conductivity: L::all(0.0),
            }
        };
        Doubt {
            half_mixed: L::all(HALF_MIXED.typical),
            pore_space: L::all(0.0),
            water: [errors(ground), errors(blend)],
            inner_water: L::all(0.0),
            open_width: L::all(0.0),
        }
    }
}

/// Sums over the parts, all oven-dry, kg. Mass closes: each kilogram is in exactly one of organic,
/// char, sand, silt, clay, coarse and other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Masses<L = f64> {
    /// Everything.
    pub dry_kg: L,
    /// Water carried in.
    pub water_kg: L,
    /// Organic matter without char.
    pub organic_kg: L,
    /// Char.
    pub char_kg: L,
    /// Sand, silt and clay of the mineral fines.
    pub fines_kg: [L; 3],
    /// Mineral grains over 2 mm.
    pub coarse_kg: L,
    /// Minerals of powders and liquids, which count as no texture.
    pub other_kg: L,
    /// Volume of all solid matter, m3.
    pub solid_m3: L,
    /// Of it organic matter and char, m3.
    pub organic_solid_m3: L,
    /// Sum of the loose volumes of the parts, m3.
    pub loose_m3: L,
    /// Mulch laid on top, as sold, kg; in none of the other sums.
    pub on_top_kg: L,
}

/// Volumes of a blend in its states, m3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volumes<L = f64> {
    /// Sum of the loose volumes of the parts.
    pub loose_parts_m3: L,
    /// Freshly turned, in crumbs.
    pub fresh_m3: L,
    /// After a season of rain, where `crumb` places it.
    pub settled_m3: L,
    /// With the clay slaked and every pore filled that can be.
    pub puddled_m3: L,
    /// Settled at `crumb` 0.5: as natural soils show it.
    pub half_mixed_m3: L,
    /// Settled at `crumb` 1: as long as the crumbs hold.
    pub crumbly_m3: L,
}

/// A blend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blend {
    /// What it weighs.
    pub masses: Masses,
    /// The room it takes.
    pub volumes: Volumes,
    /// Whether coarse grains touch.
    pub skeleton: Skeleton,
    /// How dense its ground is, dug and settled, against what the water equations take as usual.
    pub density_factor: f64,
    /// What is known of the errors of the equations, for the ground and for the blend.
    pub errors: [EstimateErrors; 2],
    /// The water that it holds, whatever room it takes.
    pub held: Held,
    /// Water and air, settled.
    pub water: Water,
    /// Tension that empties the pores between its crumbs or grains, cm.
    pub open_cm: f64,
}

impl Blend {
    /// Mixes a barrow, typical values.
    pub fn of(barrow: &Barrow, soil: &Soil) -> Blend {
        Blend::mixed(barrow, barrow.typical(soil))
    }

    /// The same ground with those lines that are kept and perhaps one more; none if that leaves
    /// nothing to pack. What lies on top is left out.
    pub(crate) fn with_lines(
        barrow: &Barrow,
        keeps: &dyn Fn(&Line) -> bool,
        more: Option<&Line>,
    ) -> Option<Blend> {
        let mut lines = Vec::with_capacity(barrow.lines.len() + 1);
        let mut left_kg = barrow.ground_dry_kg;
        for rank in 0..3 {
            let kept = barrow.lines.iter().filter(|line| keeps(line));
            for line in kept.chain(more) {
                if mix::rank(line) == rank {
                    lines.push(line.clone());
                    if line.material.packs() {
                        left_kg += line.dry_kg;
                    }
                }
            }
        }
        if left_kg <= 0.0 {
            return None;
        }
        let ground = barrow.ground.map(Pair::all);
        let mut mix = Mix::of(ground, Pair::all(barrow.ground_dry_kg));
        let mut parts = Vec::with_capacity(lines.len());
        for (index, line) in lines.iter().enumerate() {
            parts.push(Part::of(index, line));
            mix.shares.push(mix::Share::of(line));
        }
        let barrow = Barrow {
            ground: barrow.ground,
            ground_dry_kg: barrow.ground_dry_kg,
            area_m2: barrow.area_m2,
            lines,
            parts,
            left: barrow.left,
        };
        Some(Blend::mixed(&barrow, mix))
    }

    /// A ground without additions, a kilogram of it.
    pub(crate) fn alone(barrow: &Barrow) -> Blend {
        let barrow = Barrow {
            ground: barrow.ground,
            ground_dry_kg: 1.0,
            area_m2: barrow.area_m2,
            lines: Vec::new(),
            parts: Vec::new(),
            left: barrow.left,
        };
        let ground = barrow.ground.map(Pair::all);
        Blend::mixed(&barrow, Mix::of(ground, Pair::all(1.0)))
    }

    fn mixed(barrow: &Barrow, mix: Mix<Pair>) -> Blend {
        let grain_mm = mean_grain_mm(barrow.ground.fractions);
        let mut heap = Heap::of(&barrow.parts, grain_mm);
        heap.lay(&mix);
        let masses = masses(&barrow.parts, &mix);
        let typical = masses.map(Pair::first);
        let known =
            [barrow.ground.fractions_pct(), typical.fractions_pct()].map(EstimateErrors::around);
        let doubt = Doubt::none([&known[0], &known[1]]);
        let volumes = heap.volumes(&mix, &masses, &doubt);
        let part = part_of(barrow, barrow.largest());
        let touch = heap.touch(&mix, part);
        let earth = Earth::of_ground(&mix.ground);
        let factor = earth.density_factor(&mix.ground, mix.ground.settled_density_kg_m3());
        let [_, errors] = &doubt.water;
        let held = held_by_mix(
            &barrow.parts,
            &mix,
            &masses,
            factor,
            doubt.inner_water,
            errors,
        );
        let water = held.in_room(volumes.settled_m3, masses.solid_m3, between_grains(&touch));
        let more_kg = part.map_or(0.0, |part| as_sold_kg(&mix, part, touch.more_m3).first());
        let forms = Forms::of(&barrow.ground, grain_mm);
        let asks = forms.clay_weight > 0.0;
        Blend {
            masses: typical,
            density_factor: factor.first(),
            errors: known,
            volumes: volumes.map(Pair::first),
            skeleton: Skeleton::of(barrow, asks, more_kg, touch.map(Pair::first)),
            held: held.map(Pair::first),
            water: water.map(Pair::first),
            open_cm: open_cm(open_size_mm(barrow, &mix, &forms, &touch.map(Pair::first))),
        }
    }

    /// The ground of a barrow as it lies: its water and air, and what it holds at every tension.
    #[cfg(not(feature = "page"))]
    pub fn lying(barrow: &Barrow) -> (Water, Store) {
        let ground = &barrow.ground;
        let density = ground.lying_density_kg_m3;
        let earth = Earth::of_ground(ground);
        let errors = EstimateErrors::around(ground.fractions_pct());
        let [errors, _] = Doubt::none([&errors; 2]).water;
        let held = held_by_ground(ground, &earth, density, &errors);
        let between = between_grains(&gravel_touch(ground, density));
        let water = held.in_room(1.0 / density, 1.0 / ground.solid_density_kg_m3, between);
        let open_cm = Blend::alone(barrow).open_cm;
        (water, water.store(&held, 1.0 / density, open_cm))
    }

    /// What it holds at every tension, settled.
    pub fn store(&self) -> Store {
        let volume_m3 = self.volumes.settled_m3;
        self.water.store(&self.held, volume_m3, self.open_cm)
    }

    /// Water and air in another volume of this blend, m3.
    pub fn water_in(&self, volume_m3: f64) -> Water {
        self.held.in_room(volume_m3, self.masses.solid_m3, 0.0)
    }

    /// Dry mass over a volume of this blend, kg/m3.
    pub fn density_kg_m3(&self, volume_m3: f64) -> f64 {
        self.masses.dry_kg / volume_m3
    }

    /// Pore space in a volume of this blend, as a fraction.
    pub fn pore_space(&self, volume_m3: f64) -> f64 {
        1.0 - self.masses.solid_m3 / volume_m3
    }
}

/// The part that holds a line of the recipe.
pub(crate) fn part_of(barrow: &Barrow, line: Option<usize>) -> Option<usize> {
    let addition = &barrow.lines[line?];
    let of_part = |part: &Part| barrow.lines[part.line].material == addition.material;
    barrow
        .parts
        .iter()
        .position(|part| !part.on_top && of_part(part))
}

/// Mass as sold of a settled volume of a part, kg.
pub(crate) fn as_sold_kg<L: Lane>(mix: &Mix<L>, part: usize, settled_m3: L) -> L {
    let share = &mix.shares[part];
    settled_m3 / share.room(true)[0] * share.moist_kg
}

/// A mass in three shares.
#[inline(always)]
fn shared<L: Lane>(kg: L, [sand, silt, clay]: [L; 3]) -> [L; 3] {
    [kg * sand, kg * silt, kg * clay]
}

pub(crate) fn masses<L: Lane>(parts: &[Part], mix: &Mix<L>) -> Masses<L> {
    let (zero, one) = (L::all(0.0), L::all(1.0));
    let ground = &mix.ground;
    let dry = mix.ground_dry_kg;
    let gravel_kg = dry * ground.gravel;
    let earth_kg = dry - gravel_kg;
    let organic_kg = earth_kg * ground.organic;
    let mut sums = Masses {
        dry_kg: dry,
        water_kg: dry * ground.water_per_dry,
        organic_kg,
        char_kg: zero,
        coarse_kg: gravel_kg,
        fines_kg: shared(earth_kg - organic_kg, ground.fractions),
        other_kg: zero,
        solid_m3: dry / ground.solid_density_kg_m3,
        organic_solid_m3: organic_kg * (1.0 / crate::material::ORGANIC_SOLID_KG_M3),
        loose_m3: mix.ground_loose_m3(),
        on_top_kg: zero,
    };
    for (part, share) in parts.iter().zip(&mix.shares) {
        if part.on_top {
            sums.on_top_kg += share.moist_kg;
            continue;
        }
        let material = &share.material;
        let organic_kg = share.dry_kg * material.organic;
        let char_kg = share.dry_kg * material.char;
        let mineral_kg = share.dry_kg * material.mineral();
        let coarse_kg = mineral_kg * material.coarse;
        let fines_kg = mineral_kg - coarse_kg;
        sums.dry_kg += share.dry_kg;
        sums.water_kg += share.moist_kg - share.dry_kg;
        sums.organic_kg += organic_kg;
        sums.char_kg += char_kg;
        sums.coarse_kg += coarse_kg;
        let [sand, silt, clay] = shared(fines_kg, material.fractions);
        sums.fines_kg[0] += sand;
        sums.fines_kg[1] += silt;
        sums.fines_kg[2] += clay;
        sums.other_kg += share.dry_kg * (one - material.organic - material.char) - mineral_kg;
        sums.loose_m3 += share.loose_m3;
        // What a liquid carries is dissolved: it takes no room among the grains.
        if material.packs() {
            let solid_m3 = share.dry_kg / material.solid_density_kg_m3;
            sums.solid_m3 += solid_m3;
            sums.organic_solid_m3 += (organic_kg * (1.0 / crate::material::ORGANIC_SOLID_KG_M3)
                + char_kg * (1.0 / crate::material::CHAR_SOLID_KG_M3))
                .at_most(solid_m3);
        }
    }
    sums
}

impl<L: Lane> Masses<L> {
    fn map<M>(&self, of: impl Fn(L) -> M) -> Masses<M> {
        Masses {
            dry_kg: of(self.dry_kg),
            water_kg: of(self.water_kg),
            organic_kg: of(self.organic_kg),
            char_kg: of(self.char_kg),
            fines_kg: self.fines_kg.map(&of),
            coarse_kg: of(self.coarse_kg),
            other_kg: of(self.other_kg),
            solid_m3: of(self.solid_m3),
            organic_solid_m3: of(self.organic_solid_m3),
            loose_m3: of(self.loose_m3),
            on_top_kg: of(self.on_top_kg),
        }
    }
}

impl Masses {
    /// Sand, silt and clay in percent of the mineral fines; none where those are too little.
    pub fn fractions_pct(&self) -> Option<[f64; 3]> {
        let [sand, silt, clay] = self.fines_kg;
        let sum = sand + silt + clay;
        (sum >= LEAST_FINES * self.dry_kg && sum > 0.0)
            .then(|| self.fines_kg.map(|part| 100.0 * part / sum))
    }

    /// The texture class of the mineral fines.
    pub fn class(&self) -> Option<Class> {
        self.fractions_pct().map(classify)
    }
}

impl<L: Lane> Volumes<L> {
    fn map<M>(&self, of: impl Fn(L) -> M) -> Volumes<M> {
        Volumes {
            loose_parts_m3: of(self.loose_parts_m3),
            fresh_m3: of(self.fresh_m3),
            settled_m3: of(self.settled_m3),
            puddled_m3: of(self.puddled_m3),
            half_mixed_m3: of(self.half_mixed_m3),
            crumbly_m3: of(self.crumbly_m3),
        }
    }
}

/// Share of a bed that is open between touching grains from which on their size alone decides how
/// the open pores empty (a choice, so that nothing jumps where they begin to touch).
const OPEN_BETWEEN: f64 = 0.20;

/// Size of what the open pores lie between, mm: everything, by its room, the ground in its crumbs;
/// the coarse grains alone as they touch.
fn open_size_mm(barrow: &Barrow, mix: &Mix<Pair>, forms: &Forms, touch: &Touch<f64>) -> f64 {
    let clay = forms.clay_weight;
    let log_ground =
        clay * libm::log(forms.crumbs.grain_mm) + (1.0 - clay) * libm::log(forms.grains.grain_mm);
    let mut room_m3 = barrow.ground_dry_kg / forms.crumbs.envelope_kg_m3;
    let mut sum = room_m3 * log_ground;
    // In the order of the parts, which knows none of the lines.
    for (part, share) in barrow.parts.iter().zip(&mix.shares) {
        if part.packs {
            let grains_m3 = (share.dry_kg / share.material.grain_density_kg_m3).first();
            room_m3 += grains_m3;
            sum += grains_m3 * libm::log(part.grain_mm);
        }
    }
    // Once grains touch, what is open lies between them, the more of it the more.
    let between = (between_grains(touch) / OPEN_BETWEEN).min(1.0);
    let log_mm = sum / room_m3;
    if between > 0.0 {
        libm::exp(log_mm + (touch.log_mm - log_mm) * between)
    } else {
        libm::exp(log_mm)
    }
}
