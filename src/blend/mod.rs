//! The blend: what its parts weigh together, how they pack, and whether coarse grains touch.

mod barrow;
mod packing;
mod skeleton;

pub use barrow::{Barrow, Line, ground_dry_kg};
pub use packing::{
    FRESH_K, Grains, SETTLED_K, loosening, packed_volume, threshold_proportion, wall,
};
pub use skeleton::{Skeleton, carries};

use crate::ground::{Form, Forms};

/// Share of the full packing effect that a settled bed of natural soil shows: 10th to 90th
/// percentile 0.35 to 0.65 on 7,980 measured horizons (fitted on the same data, so an estimate).
const HALF_MIXED: f64 = 0.5;

/// Sums over the parts, all oven-dry, kg. Mass closes: each kilogram is in exactly one of organic,
/// char, sand, silt, clay, coarse and other.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Masses {
    /// Everything.
    pub dry_kg: f64,
    /// Water carried in.
    pub water_kg: f64,
    /// Organic matter without char.
    pub organic_kg: f64,
    /// Char.
    pub char_kg: f64,
    /// Sand, silt and clay of the mineral fines.
    pub fines_kg: [f64; 3],
    /// Mineral grains over 2 mm.
    pub coarse_kg: f64,
    /// Minerals of powders and liquids, which count as no texture.
    pub other_kg: f64,
    /// Volume of all solid matter, m3.
    pub solid_m3: f64,
    /// Of it organic matter and char, m3.
    pub organic_solid_m3: f64,
}

/// Volumes of a blend in its states, m3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volumes {
    /// Sum of the loose volumes of the parts.
    pub loose_parts_m3: f64,
    /// Freshly turned, in crumbs.
    pub fresh_m3: f64,
    /// After a season of rain, where `crumb` places it.
    pub settled_m3: f64,
    /// With the clay slaked and every pore filled that can be.
    pub puddled_m3: f64,
    /// Settled at `crumb` 0.5: as natural soils show it.
    pub half_mixed_m3: f64,
    /// Settled at `crumb` 1: as long as the crumbs hold.
    pub crumbly_m3: f64,
}

/// Pores inside grains, m3: in porous additions, and in the ground's crumbs as far as it stands in
/// crumbs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InnerPores {
    /// Freshly turned.
    pub fresh_m3: f64,
    /// Settled.
    pub settled_m3: f64,
    /// Puddled.
    pub puddled_m3: f64,
}

/// A blend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blend {
    /// What it weighs.
    pub masses: Masses,
    /// The room it takes.
    pub volumes: Volumes,
    /// Pores inside its grains.
    pub inner_pores: InnerPores,
    /// Whether coarse grains touch.
    pub skeleton: Skeleton,
}

impl Blend {
    /// Mixes a barrow.
    pub fn of(barrow: &Barrow) -> Blend {
        let forms = Forms::of(&barrow.ground);
        Blend {
            masses: masses(barrow),
            volumes: volumes(barrow, &forms),
            inner_pores: inner_pores(barrow, &forms),
            skeleton: Skeleton::of(barrow, &forms),
        }
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

fn masses(barrow: &Barrow) -> Masses {
    let ground = &barrow.ground;
    let dry = barrow.ground_dry_kg;
    let gravel_kg = dry * ground.gravel;
    let earth_kg = dry - gravel_kg;
    let organic_kg = earth_kg * ground.organic;
    let mut sums = Masses {
        dry_kg: dry,
        water_kg: dry * ground.water_per_dry,
        organic_kg,
        coarse_kg: gravel_kg,
        fines_kg: ground
            .fractions
            .map(|share| (earth_kg - organic_kg) * share),
        solid_m3: dry / ground.solid_density_kg_m3,
        organic_solid_m3: organic_kg / crate::material::ORGANIC_SOLID_KG_M3,
        ..Masses::default()
    };
    for line in barrow.mixed() {
        let material = &line.material;
        let organic_kg = line.dry_kg * material.organic;
        let char_kg = line.dry_kg * material.char;
        let mineral_kg = line.dry_kg * material.mineral();
        let coarse_kg = mineral_kg * material.coarse;
        // What a liquid carries is dissolved: it takes no room among the grains.
        let solid_m3 = if material.packs() {
            line.dry_kg / material.solid_density_kg_m3
        } else {
            0.0
        };
        sums.dry_kg += line.dry_kg;
        sums.water_kg += line.moist_kg - line.dry_kg;
        sums.organic_kg += organic_kg;
        sums.char_kg += char_kg;
        sums.coarse_kg += coarse_kg;
        for (sum, share) in sums.fines_kg.iter_mut().zip(material.fractions) {
            *sum += (mineral_kg - coarse_kg) * share;
        }
        sums.other_kg += line.dry_kg - organic_kg - char_kg - mineral_kg;
        sums.solid_m3 += solid_m3;
        sums.organic_solid_m3 += (organic_kg / crate::material::ORGANIC_SOLID_KG_M3
            + char_kg / crate::material::CHAR_SOLID_KG_M3)
            .min(solid_m3);
    }
    sums
}

/// A part of a dry mass, packed at a density.
fn grains(dry_kg: f64, density_kg_m3: f64, envelope_kg_m3: f64, size_mm: f64) -> Grains {
    Grains {
        volume: if dry_kg > 0.0 {
            dry_kg / density_kg_m3
        } else {
            0.0
        },
        porosity: 1.0 - density_kg_m3 / envelope_kg_m3,
        size_mm,
    }
}

/// A line as the packing sees it, settled or fresh; none for what does not pack.
fn packed_line(line: &Line, settled: bool) -> Option<Grains> {
    let material = &line.material;
    let density = if settled {
        material.settled_dry_density_kg_m3
    } else {
        material.fresh_dry_density_kg_m3
    };
    (material.packs() && line.dry_kg > 0.0).then(|| {
        grains(
            line.dry_kg,
            density,
            material.grain_density_kg_m3,
            material.grain_mm,
        )
    })
}

fn volumes(barrow: &Barrow, forms: &Forms) -> Volumes {
    let settled = packed_parts(barrow, true);
    let fresh = packed_parts(barrow, false);
    // The ground is the first part; it is exchanged for each of its forms.
    let with_ground = |parts: &[Grains], density: f64, form: Form, k: f64| {
        let mut parts = parts.to_vec();
        parts[0] = grains(
            barrow.ground_dry_kg,
            density,
            form.envelope_kg_m3,
            form.grain_mm,
        );
        packed_volume(&parts, k)
    };
    let settled_density = barrow.ground.settled_density_kg_m3();
    let fresh_density = barrow.ground.fresh_density_kg_m3();
    let settled_in = |form: Form| with_ground(&settled, settled_density, form, SETTLED_K);
    let fresh_in = |form: Form| with_ground(&fresh, fresh_density, form, FRESH_K);
    let unmixed: f64 = settled.iter().map(|part| part.volume).sum();
    let half = |packed: f64| (1.0 - HALF_MIXED) * unmixed + HALF_MIXED * packed;

    let weight = forms.clay_weight;
    let mut puddled = 0.0;
    let mut half_mixed = 0.0;
    let mut crumbly = 0.0;
    let mut turned = 0.0;
    if weight < 1.0 {
        let packed = settled_in(forms.grains);
        puddled += (1.0 - weight) * packed;
        half_mixed += (1.0 - weight) * half(packed);
        crumbly += (1.0 - weight) * half(packed);
        turned += (1.0 - weight) * fresh_in(forms.grains);
    }
    if weight > 0.0 {
        let packed = settled_in(forms.puddled);
        puddled += weight * packed;
        half_mixed += weight * half(packed);
        crumbly += weight * half(packed).max(settled_in(forms.crumbs));
        turned += weight * fresh_in(forms.crumbs);
    }
    let crumb = barrow.ground.crumb;
    let settled_m3 = if crumb < HALF_MIXED {
        puddled + (half_mixed - puddled) * (crumb / 0.5)
    } else {
        half_mixed + (crumbly - half_mixed) * ((crumb - 0.5) / 0.5)
    };
    Volumes {
        loose_parts_m3: barrow.loose_parts_m3(),
        fresh_m3: turned.max(settled_m3),
        settled_m3,
        puddled_m3: puddled,
        half_mixed_m3: half_mixed,
        crumbly_m3: crumbly,
    }
}

/// The parts that pack, the ground first in its puddled form.
fn packed_parts(barrow: &Barrow, settled: bool) -> Vec<Grains> {
    let ground = &barrow.ground;
    let density = if settled {
        ground.settled_density_kg_m3()
    } else {
        ground.fresh_density_kg_m3()
    };
    let form = Forms::of(ground).puddled;
    let first = grains(
        barrow.ground_dry_kg,
        density,
        form.envelope_kg_m3,
        form.grain_mm,
    );
    let lines = barrow.mixed().filter_map(|line| packed_line(line, settled));
    std::iter::once(first).chain(lines).collect()
}

fn inner_pores(barrow: &Barrow, forms: &Forms) -> InnerPores {
    let inside = |dry_kg: f64, envelope: f64, solid: f64| dry_kg / envelope - dry_kg / solid;
    let additions: f64 = barrow
        .mixed()
        .filter(|line| line.material.packs())
        .map(|line| {
            let material = &line.material;
            inside(
                line.dry_kg,
                material.grain_density_kg_m3,
                material.solid_density_kg_m3,
            )
        })
        .sum();
    let crumbs = forms.clay_weight
        * inside(
            barrow.ground_dry_kg,
            forms.crumbs.envelope_kg_m3,
            barrow.ground.solid_density_kg_m3,
        );
    let in_crumbs = ((barrow.ground.crumb - 0.5) / 0.5).max(0.0);
    InnerPores {
        fresh_m3: additions + crumbs,
        settled_m3: additions + crumbs * in_crumbs,
        puddled_m3: additions,
    }
}
