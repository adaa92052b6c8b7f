//! Coarse grains, water and its ways through whole beds, worked a second time from their lines by
//! the stated rules. Of the crate only the published equations are used.

// The second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]

use super::second_way::{DE_LARRARD, packed};
use barrowmix::blend::{Barrow, Grains, Held, Line, SETTLED_K, Water};
use barrowmix::ground::Ground;
use barrowmix::material::Group;
use barrowmix::water::drainage::{clean_conductivity_mm_h, skeleton_conductivity};
use barrowmix::water::saxton_rawls::{
    Normal, as_clay, conductivity_mm_h, density_coefficient, organic_matter_for_water_pct,
    slope_lambda, theta_1500,
};

/// Solid gravel, and gravel settled alone, kg/m3.
const GRAVEL: [f64; 2] = [2650.0, 1680.0];

/// Coarse grains packed alone, and what they stand in.
#[derive(Clone, Copy, Debug)]
pub struct Coarse {
    /// What they take alone, settled, m3.
    pub room_m3: f64,
    /// What all the rest takes alone, m3.
    pub rest_m3: f64,
    /// Their grains, m3.
    pub grains_m3: f64,
    /// Logarithm of their mean size in mm, by mass.
    pub log_mm: f64,
}

fn grains(line: &Line) -> Grains {
    let material = &line.material;
    Grains {
        volume: line.dry_kg / material.settled_dry_density_kg_m3,
        porosity: 1.0 - material.settled_dry_density_kg_m3 / material.grain_density_kg_m3,
        size_mm: material.grain_mm,
    }
}

/// What takes room of the additions.
fn lines(barrow: &Barrow) -> impl Iterator<Item = &Line> {
    barrow
        .mixed()
        .filter(|line| line.material.group != Group::Liquid && line.dry_kg > 0.0)
}

/// Whether grains can form a skeleton: hard ones that are no dust.
pub fn carries(line: &Line) -> bool {
    let hard = matches!(
        line.material.group,
        Group::Sand | Group::Grit | Group::MineralMeal | Group::PorousMineral
    );
    hard && line.material.grain_mm >= 0.15
}

impl Coarse {
    /// Of a bed.
    pub fn of(barrow: &Barrow) -> Coarse {
        let ground = &barrow.ground;
        let gravel_kg = barrow.ground_dry_kg * ground.gravel;
        let (mut coarse, mut rest) = (Vec::new(), Vec::new());
        let (mut kg, mut log_kg) = (gravel_kg, gravel_kg * 10.0_f64.ln());
        if gravel_kg > 0.0 {
            coarse.push(Grains {
                volume: gravel_kg / GRAVEL[1],
                porosity: 1.0 - GRAVEL[1] / GRAVEL[0],
                size_mm: 10.0,
            });
        }
        for line in lines(barrow) {
            if carries(line) {
                coarse.push(grains(line));
                kg += line.dry_kg;
                log_kg += line.dry_kg * line.material.grain_mm.ln();
            } else {
                rest.push(grains(line));
            }
        }
        let earth_m3 =
            barrow.ground_dry_kg / ground.settled_density_kg_m3() - gravel_kg / GRAVEL[0];
        if earth_m3 > 0.0 {
            let solid_m3 = (barrow.ground_dry_kg - gravel_kg) / ground.fine_solid_density_kg_m3;
            rest.push(Grains {
                volume: earth_m3,
                porosity: 1.0 - solid_m3 / earth_m3,
                size_mm: 0.01,
            });
        }
        let alone = |parts: &[Grains]| match parts {
            [] => 0.0,
            [one] => one.volume,
            _ => packed(parts, SETTLED_K, DE_LARRARD),
        };
        Coarse {
            room_m3: alone(&coarse),
            rest_m3: alone(&rest),
            grains_m3: coarse
                .iter()
                .map(|part| part.volume * (1.0 - part.porosity))
                .sum(),
            log_mm: if kg > 0.0 { log_kg / kg } else { 0.0 },
        }
    }

    /// The gravel of a kilogram of ground that lies at a density.
    pub fn of_ground(ground: &Ground, density_kg_m3: f64) -> Coarse {
        let grains_m3 = ground.gravel / GRAVEL[0];
        Coarse {
            room_m3: ground.gravel / GRAVEL[1],
            rest_m3: (1.0 / density_kg_m3 - grains_m3).max(0.0),
            grains_m3,
            log_mm: 10.0_f64.ln(),
        }
    }

    /// Their share of the room.
    pub fn share(&self) -> f64 {
        self.room_m3 / (self.room_m3 + self.rest_m3)
    }

    /// Their pores alone.
    pub fn porosity(&self) -> f64 {
        1.0 - self.grains_m3 / self.room_m3
    }

    /// What stays open between them where all the rest fills their holes, of the room that they
    /// take; 0 while they float.
    pub fn between(&self) -> f64 {
        if self.room_m3 > 0.0 {
            ((self.room_m3 - self.grains_m3 - self.rest_m3) / self.room_m3).max(0.0)
        } else {
            0.0
        }
    }
}

/// Fine earth: mineral fines, and organic matter to 8 % of it; the rest is peat.
#[derive(Clone, Copy, Debug)]
pub struct Earth {
    kg: f64,
    sand: f64,
    clay: f64,
    organic_pct: f64,
    peat_kg: f64,
}

impl Earth {
    fn of([sand_kg, silt_kg, clay_kg]: [f64; 3], organic_kg: f64) -> Earth {
        let mineral_kg = sand_kg + silt_kg + clay_kg;
        let humus_kg = organic_kg.min(mineral_kg * 8.0 / 92.0);
        let kg = mineral_kg + humus_kg;
        let of = |part: f64, all: f64| if all > 0.0 { part / all } else { 0.0 };
        Earth {
            kg,
            sand: of(sand_kg, mineral_kg),
            clay: of(clay_kg, mineral_kg),
            organic_pct: 100.0 * of(humus_kg, kg),
            peat_kg: organic_kg - humus_kg,
        }
    }

    /// Of a kilogram of ground.
    pub fn of_ground(ground: &Ground) -> Earth {
        let organic_kg = (1.0 - ground.gravel) * ground.organic;
        let mineral_kg = (1.0 - ground.gravel) * (1.0 - ground.organic);
        Earth::of(ground.fractions.map(|share| share * mineral_kg), organic_kg)
    }

    fn organic_for_water(&self) -> f64 {
        organic_matter_for_water_pct(self.clay, self.organic_pct)
    }

    fn normal(&self) -> Normal {
        Normal::of(self.sand, self.clay, self.organic_for_water())
    }

    /// Density of this earth, between gravel and peat, over its normal one.
    pub fn density_factor(&self, ground: &Ground, density_kg_m3: f64) -> f64 {
        let room_m3 = 1.0 / density_kg_m3;
        // A kilogram of peat takes 1/300 m3.
        let earth_m3 = room_m3 - ground.gravel / GRAVEL[0] - self.peat_kg / 300.0;
        let density = self.kg / earth_m3.max(0.01 * room_m3);
        (density / self.normal().density_kg_m3()).max(0.1)
    }

    /// What it holds, in the room of that density; `middle` is what the equations miss.
    pub fn held(&self, factor: f64, middle: [f64; 2]) -> Held {
        let normal = self.normal();
        let density = normal.density_kg_m3() * factor.clamp(0.9, 1.3);
        let said = normal
            .theta_33_at(density, density_coefficient(self.clay))
            .max(0.005);
        let dry = theta_1500(self.sand, self.clay, self.organic_for_water());
        let theta_33 = (said + middle[0]).max(0.005);
        let wilting = (dry + middle[1]).max(0.0).min(0.95 * theta_33);
        let earth_m3 = self.kg / (normal.density_kg_m3() * factor);
        Held {
            at_33_m3: earth_m3 * theta_33 + self.peat_kg * 0.00196,
            at_1500_m3: earth_m3 * wilting + self.peat_kg * 0.00109,
            closed_m3: 0.0,
            room_m3: earth_m3 + self.peat_kg / 300.0,
            earth_m3,
            sand: self.sand,
            clay: self.clay,
            // Equations 7 and 8: saturation at that density less what 33 kPa leave.
            drains: 1.0 - density / 2650.0 - said,
            lambda: slope_lambda(said, dry.max(0.005)),
        }
    }
}

/// What a kilogram of ground holds where it lies at a density.
pub fn held_by_ground(ground: &Ground, density_kg_m3: f64, middle: [f64; 2]) -> Held {
    let earth = Earth::of_ground(ground);
    let held = earth.held(earth.density_factor(ground, density_kg_m3), middle);
    Held {
        room_m3: held.room_m3 + ground.gravel / GRAVEL[0],
        ..held
    }
}

/// Of the pores inside a grain: what holds at 33 and at 1500 kPa, and what stays closed.
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

/// How far organic pieces are inclusions: from 6 to 10 % organic matter, and in clay at once.
pub fn pieces(barrow: &Barrow) -> f64 {
    let ground = &barrow.ground;
    let dry = barrow.ground_dry_kg;
    let earth_kg = dry * (1.0 - ground.gravel);
    let mut organic_kg = earth_kg * ground.organic;
    let mut fine_kg = earth_kg;
    let mut mineral_kg = [0.0; 2];
    for line in barrow.mixed() {
        let material = &line.material;
        let mineral = line.dry_kg * material.mineral();
        organic_kg += line.dry_kg * material.organic;
        fine_kg += line.dry_kg - mineral * material.coarse;
        mineral_kg[0] += mineral * (1.0 - material.coarse);
        mineral_kg[1] += mineral * (1.0 - material.coarse) * material.fractions[2];
    }
    let clay = if dry > 0.0 {
        ground.fractions[2]
    } else if mineral_kg[0] > 0.0 {
        mineral_kg[1] / mineral_kg[0]
    } else {
        0.0
    };
    let by_share = (100.0 * organic_kg / fine_kg - 6.0) / 4.0;
    by_share.max(as_clay(clay)).min(1.0)
}

/// What a mix holds.
pub fn held_by_mix(barrow: &Barrow, middle: [f64; 2]) -> Held {
    let ground = &barrow.ground;
    let pieces = pieces(barrow);
    let earth_kg = barrow.ground_dry_kg * (1.0 - ground.gravel);
    let organic_in_ground = earth_kg * ground.organic;
    let mut fines_kg = ground
        .fractions
        .map(|share| share * (earth_kg - organic_in_ground));
    let mut organic_kg = organic_in_ground;
    let mut coarse_kg = barrow.ground_dry_kg * ground.gravel;
    let (mut wet, mut dry, mut closed, mut room) = (0.0, 0.0, 0.0, 0.0);
    for line in barrow.mixed() {
        let material = &line.material;
        // Of each line so much counts as grains with pores of their own.
        let (shares, whole) = match inner(material.group) {
            None => ([0.0; 3], 0.0),
            Some(shares) => match material.group {
                Group::PorousMineral | Group::Char => (shares, 1.0),
                _ => (shares, pieces),
            },
        };
        let solid_m3 = line.dry_kg / material.solid_density_kg_m3;
        let mut pores_m3 = line.dry_kg / material.grain_density_kg_m3 - solid_m3;
        if material.group == Group::BarkWoodStraw {
            pores_m3 = pores_m3.min(0.0022 * line.dry_kg);
        }
        wet += whole * shares[0] * pores_m3;
        dry += whole * shares[1] * pores_m3;
        closed += whole * shares[2] * pores_m3;
        room += whole * (solid_m3 + pores_m3);
        let rest = 1.0 - whole;
        let mineral_kg = line.dry_kg * material.mineral();
        organic_kg += rest * line.dry_kg * material.organic;
        coarse_kg += rest * mineral_kg * material.coarse;
        for (sum, share) in fines_kg.iter_mut().zip(material.fractions) {
            *sum += rest * mineral_kg * (1.0 - material.coarse) * share;
        }
    }
    let earth = Earth::of(fines_kg, organic_kg);
    let settled = ground.settled_density_kg_m3();
    let factor = Earth::of_ground(ground).density_factor(ground, settled);
    let of_ground = if earth.kg > 0.0 {
        (earth_kg / earth.kg).min(1.0)
    } else {
        0.0
    };
    let held = earth.held(1.0 + (factor - 1.0) * of_ground, middle);
    Held {
        at_33_m3: held.at_33_m3 + wet,
        at_1500_m3: held.at_1500_m3 + dry,
        closed_m3: closed,
        room_m3: held.room_m3 + room + coarse_kg / GRAVEL[0],
        ..held
    }
}

/// Water and air of that in a volume.
pub fn in_room(held: &Held, volume_m3: f64, solid_m3: f64, between: f64) -> Water {
    let pores = 1.0 - solid_m3 / volume_m3;
    let closed = (held.closed_m3 / volume_m3).min(pores);
    let fillable = pores - closed;
    let field_capacity = (held.at_33_m3 / volume_m3).min(0.98 * fillable);
    let beyond = (1.0 - held.room_m3 / volume_m3).max(between);
    Water {
        field_capacity,
        wilting_point: (held.at_1500_m3 / volume_m3).min(0.95 * field_capacity),
        closed,
        fillable,
        open: beyond.min(fillable - field_capacity / 0.98).max(0.0),
    }
}

/// How far a bed is its ground with coarse grains in it.
pub fn floats(barrow: &Barrow) -> f64 {
    let (mut coarse_m3, mut all_m3, mut fine_kg) = (0.0, 0.0, barrow.ground_dry_kg);
    for line in barrow.mixed() {
        all_m3 += line.loose_m3;
        if carries(line) {
            coarse_m3 += line.loose_m3;
        } else {
            fine_kg += line.dry_kg;
        }
    }
    if all_m3 > 0.0 && fine_kg > 0.0 {
        coarse_m3 / all_m3 * barrow.ground_dry_kg / fine_kg
    } else {
        0.0
    }
}

/// How fast water goes through, mm/h, of typical values: pores that drain, of what is neither grain
/// nor open between grains; as far as it floats, the ground's instead.
pub fn conductivity(
    held: &Held,
    volume_m3: f64,
    coarse: &Coarse,
    ground: &Held,
    floats: f64,
) -> f64 {
    let between = coarse.between();
    let around = 1.0 - coarse.grains_m3 / volume_m3 - between;
    let beyond = 1.0 - held.room_m3 / volume_m3;
    let drains = (held.drains * held.earth_m3 / volume_m3 + beyond - between) / around.max(0.01);
    let effective = (drains * (1.0 - floats) + ground.drains * floats).clamp(0.06, 1.0);
    let lambda = held.lambda * (1.0 - floats) + ground.lambda * floats;
    let fines = conductivity_mm_h(effective, lambda);
    if coarse.room_m3 <= 0.0 {
        return fines;
    }
    let porosity = coarse.porosity();
    let clean = clean_conductivity_mm_h(porosity, coarse.log_mm.exp());
    skeleton_conductivity(fines, coarse.share(), porosity, clean)
}
