//! What each addition does to the chemistry of a mix, and the layer that doses are told for.

use super::Outcome;
use super::inputs::Inputs;
use crate::blend::{Brings, ChemistryDoubt, Mix, Part, carries};
use crate::caution::{AREA_DEPTH_M, CAPS_KG_M2};
use crate::chemistry::amounts::Slice;
use crate::chemistry::exchange::estimated_cec_cmol_kg;
use crate::chemistry::gypsum::replaces_cmol_kg;
use crate::chemistry::liming::AtOnce;
use crate::chemistry::nutrients::freed_nitrogen;
use crate::draws::{self, Strata};
use crate::figure::Figure;
use crate::ground::{Ground, Trait};
use crate::lane::{Lane, Pair};
use crate::material::Property;
use crate::quantity::LITRES_PER_M3;
use crate::recipe::{Recipe, Soil};

/// What one kind of addition does, all its lines together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supply {
    /// The first of its lines in the recipe.
    pub line: usize,
    /// Base that it brings over what the ground's own reaction would, cmol; less than nothing: acid.
    pub base_cmol: f64,
    /// Nitrogen that it sets free in its first year, kg; less than nothing: that it takes up.
    pub nitrogen_kg: Figure,
    /// Phosphorus, kg.
    pub phosphorus_kg: Figure,
    /// Conductivity that it brings, dS/m times kg, at 1:5.
    pub salt: f64,
    /// Potassium, all of it, kg.
    pub potassium_kg: f64,
    /// Gypsum, large grains too, which are the slower to dissolve, kg.
    pub gypsum_kg: f64,
}

/// What all of them do.
#[derive(Clone, Debug, PartialEq)]
pub struct Supplied {
    /// One by one, in the order of the recipe.
    pub supplies: Vec<Supply>,
    /// Buffering of the mix, cmol/kg for a pH unit.
    pub buffer_cmol_kg_ph: f64,
    /// Share of the mix's exchange capacity that is the ground's.
    pub ground_capacity: f64,
}

/// Where the mix lies: so deep on such an area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Its depth and density; grains over 2 mm do not count in its mass.
    pub slice: Slice,
    /// Its area, m2.
    pub area_m2: f64,
    /// Whether the recipe tells that area; else it is as deep as a garden is dug.
    pub is_told: bool,
}

impl Layer {
    /// The layer of an outcome, which must be that of the recipe.
    pub fn of(recipe: &Recipe, outcome: &Outcome) -> Layer {
        let settled_m3 = outcome.volume_l.settled.typical / LITRES_PER_M3;
        let area_m2 = outcome.barrow.whole_area_m2(recipe);
        let area_m2 = area_m2.filter(|area| *area > 0.0);
        let depth_m = area_m2.map_or(AREA_DEPTH_M, |area| settled_m3 / area);
        Layer {
            slice: Slice {
                depth_m,
                density_kg_m3: outcome.chemistry.fine_kg / settled_m3.max(1e-12),
            },
            area_m2: settled_m3 / depth_m.max(1e-12),
            is_told: area_m2.is_some(),
        }
    }

    /// The ground of a recipe alone: as deep as its bed is dug, else as a garden is; without its
    /// gravel, which holds no acid and no sodium.
    pub fn of_ground(recipe: &Recipe) -> Slice {
        let depth_m = match &recipe.soil {
            Soil::Bed { depth, .. } => depth.si(),
            Soil::Amount(_) => AREA_DEPTH_M,
        };
        let density = Ground::of(&recipe.ground)
            .map(|ground| ground.lying_density_kg_m3 * (1.0 - ground.gravel));
        Slice {
            depth_m,
            density_kg_m3: density.unwrap_or(Slice::furrow().density_kg_m3),
        }
    }

    /// Most that one dose may have, kg/m2 of this layer: what the caution about rates lets pass, which
    /// counts on the ground alone where no area is told.
    pub fn at_once(&self, outcome: &Outcome) -> AtOnce {
        let barrow = &outcome.barrow;
        let ground_m2 =
            barrow.ground_dry_kg / barrow.ground.lying_density_kg_m3.max(1e-12) / AREA_DEPTH_M;
        let share = if self.is_told || ground_m2 <= 0.0 {
            1.0
        } else {
            (ground_m2 / self.area_m2.max(1e-12)).min(1.0)
        };
        at_once().on(share)
    }
}

/// Most of lime and sulfur at once, as the caution about rates has them.
pub fn at_once() -> AtOnce {
    let cap = |id: &str| {
        let found = CAPS_KG_M2.iter().find(|(of, _)| *of == id);
        found.map_or(f64::INFINITY, |(_, kg_m2)| *kg_m2)
    };
    AtOnce {
        lime_kg_m2: cap("lime_calcitic"),
        sulfur_kg_m2: cap("sulfur"),
    }
}

/// What a part brings in all.
struct Sums<L> {
    nitrogen_kg: L,
    phosphorus_kg: L,
    buffer: L,
    base: L,
    salt: L,
}

impl Supplied {
    /// What the additions of a recipe do; with strata also the ranges. The outcome must be that of
    /// the recipe.
    pub fn of(recipe: &Recipe, outcome: &Outcome, strata: Option<&mut Strata>) -> Supplied {
        let barrow = &outcome.barrow;
        let mixed = || {
            let parts = barrow.parts.iter().enumerate();
            parts.filter(|(_, part)| !part.on_top)
        };
        let doubt = ChemistryDoubt::none();
        let mix = barrow.typical::<Pair>(&recipe.soil);
        let ground = |of: Trait| recipe.ground.typical(of).map(Pair::all);
        let (earth, _) = Brings::of_ground(&mix.ground, ground, true, &doubt);
        let earth_kg = mix.ground_dry_kg * (Pair::all(1.0) - mix.ground.gravel);
        let mut buffer = (earth_kg * earth.buffer).first();
        let mut supplies = Vec::new();
        for (at, part) in mixed() {
            let found = recipe.find(&recipe.additions[part.line].material);
            let given = |of: Property| found?.properties().typical(of).map(Pair::all);
            let carries = carries(&barrow.lines[part.line]);
            let brings = Brings::of_material(&mix.shares[at].material, carries, given, &doubt);
            let sums = sums(&mix, at, &brings, earth.ph);
            buffer += sums.buffer.first();
            supplies.push(Supply {
                line: part.line,
                base_cmol: sums.base.first(),
                nitrogen_kg: Figure::exact(sums.nitrogen_kg.first()),
                phosphorus_kg: Figure::exact(sums.phosphorus_kg.first()),
                salt: sums.salt.first(),
                potassium_kg: share(&mix, at, given(Property::Potassium)),
                gypsum_kg: share(&mix, at, given(Property::Gypsum)),
            });
        }
        let fine_kg = outcome.chemistry.fine_kg.max(1e-12);
        if let Some(strata) = strata {
            draw(recipe, outcome, strata, &mut supplies);
        }
        supplies.sort_by_key(|supply| supply.line);
        Supplied {
            supplies,
            buffer_cmol_kg_ph: buffer / fine_kg,
            ground_capacity: {
                let ground = &barrow.ground;
                let estimated = estimated_cec_cmol_kg(ground.fractions[2], ground.organic);
                let cec = recipe.ground.typical(Trait::Cec).unwrap_or(estimated);
                let all = fine_kg * outcome.chemistry.cec_cmol_kg;
                (earth_kg.first() * cec / all.max(1e-12)).min(1.0)
            },
        }
    }

    /// Sodium, % of the capacity, that the gypsum in the mix could replace once it is washed through.
    pub fn gypsum_replaces_pct(&self, outcome: &Outcome) -> f64 {
        let it = &outcome.chemistry;
        let gypsum_kg = self.supplies.iter().map(|supply| supply.gypsum_kg).sum();
        let cmol_kg = replaces_cmol_kg(gypsum_kg, it.fine_kg);
        (100.0 * cmol_kg / it.cec_cmol_kg.max(1e-12)).min(it.esp_pct)
    }
}

/// What a part has of something, by its share of the dry mass in percent, kg.
fn share(mix: &Mix<Pair>, at: usize, percent: Option<Pair>) -> f64 {
    percent.map_or(0.0, |percent| {
        (mix.shares[at].dry_kg * percent).first() * 0.01
    })
}

/// Adds the ranges.
fn draw(recipe: &Recipe, outcome: &Outcome, strata: &mut Strata, supplies: &mut [Supply]) {
    let (barrow, blend) = (&outcome.barrow, &outcome.blend);
    let errors = [&blend.errors[0], &blend.errors[1]];
    let inputs = Inputs::of(recipe, barrow, errors, strata);
    let draws = strata.draws();
    let mut mix = Mix::of(barrow.ground.map(Pair::all), Pair::all(0.0));
    let mut columns = vec![[vec![0.0; draws], vec![0.0; draws]]; supplies.len()];
    let mut draw = 0;
    while draw + Pair::WIDTH <= draws {
        let material = |at: usize, part: &Part| inputs.material(at, part, draw);
        mix.fill(barrow, &recipe.soil, inputs.ground(draw), material);
        let mut columns = columns.iter_mut();
        for (at, part) in barrow.parts.iter().enumerate() {
            if part.on_top {
                continue;
            }
            let brings = inputs.brings(&mix, at, draw);
            let sums = sums(&mix, at, &brings, Pair::all(0.0));
            if let Some([nitrogen, phosphorus]) = columns.next() {
                sums.nitrogen_kg.store(nitrogen, draw);
                sums.phosphorus_kg.store(phosphorus, draw);
            }
        }
        draw += Pair::WIDTH;
    }
    let weights = outcome.drawn.weights();
    for (supply, [nitrogen, phosphorus]) in supplies.iter_mut().zip(&columns) {
        supply.nitrogen_kg = around(supply.nitrogen_kg.typical, nitrogen, weights);
        supply.phosphorus_kg = around(supply.phosphorus_kg.typical, phosphorus, weights);
    }
}

/// A typical value with the ends of its draws.
pub(crate) fn around(typical: f64, values: &[f64], weights: &[f64]) -> Figure {
    let ends = if weights.is_empty() {
        draws::ends(values).map(|ends| [ends.low, ends.high])
    } else {
        draws::weighted(values, weights).map(|[low, _, high]| [low, high])
    };
    match ends {
        Some([low, high]) => Figure::between(low.min(typical), typical, high.max(typical)),
        None => Figure::exact(typical),
    }
}

fn sums(mix: &Mix<Pair>, at: usize, brings: &Brings<Pair>, from_ph: Pair) -> Sums<Pair> {
    let share = &mix.shares[at];
    let material = &share.material;
    let kg = share.dry_kg * (Pair::all(1.0) - material.mineral() * material.coarse);
    let moved = brings.buffer * (brings.ph - from_ph);
    Sums {
        nitrogen_kg: freed_nitrogen(kg * brings.carbon, kg * brings.nitrogen, brings.decayed),
        phosphorus_kg: kg * brings.phosphorus,
        buffer: kg * brings.buffer,
        base: kg * (moved + brings.lime - brings.acid),
        salt: kg * brings.ec_1to5,
    }
}
