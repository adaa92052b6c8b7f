//! What a blend is in one case, where every number that is only known within a range has one true
//! value: drawn from the ranges without the crate's draws, and computed from masses on a second way.

// The second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods, dead_code, unreachable_pub)]

use crate::support::dice::Dice;
use crate::support::second_way::{DE_LARRARD, packed};
use barrowmix::blend::{Barrow, Blend, Grains};
use barrowmix::figure::Figure;
use barrowmix::ground::{EstimateErrors, Ground, Trait, Traits};
use barrowmix::material::{Group, Property};
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::recipe::{OwnMaterial, Recipe, RecipeError};
use barrowmix::texture::{Class, classify};

/// Standard normal quantile of the 90th percentile, from scipy.
const Z90: f64 = 1.281_551_565_544_600_4;
/// And of the 95th.
const Z95: f64 = 1.644_853_626_951_472_2;
/// Shares at which measured errors are known.
const SHARES: [f64; 7] = [0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95];
/// How much each arm of a measured error is widened.
const WIDENED: f64 = 1.15;

/// The figures that are judged.
pub const FIGURES: [(Measure, &str); 15] = [
    (Measure::DryMass, "dry mass"),
    (Measure::MoistMass, "moist mass"),
    (Measure::Sand, "sand"),
    (Measure::Clay, "clay"),
    (Measure::OrganicMatter, "organic matter"),
    (Measure::LooseParts, "loose parts"),
    (Measure::FreshVolume, "fresh volume"),
    (Measure::SettledVolume, "settled volume"),
    (Measure::PuddledVolume, "puddled volume"),
    (Measure::FreshDensity, "fresh density"),
    (Measure::SettledDensity, "settled density"),
    (Measure::FreshPores, "fresh pore space"),
    (Measure::SettledPores, "settled pore space"),
    (Measure::PuddledPores, "puddled pore space"),
    (Measure::Share, "coarse share"),
];

/// The figures of an outcome, in the order of [`FIGURES`].
pub fn stated(outcome: &Outcome) -> [Figure; FIGURES.len()] {
    let texture = outcome.texture.expect("fines");
    let (volume, density) = (outcome.volume_l, outcome.bulk_density_kg_m3);
    let pores = outcome.pore_space_pct;
    [
        outcome.dry_kg,
        outcome.moist_kg,
        texture.fractions_pct[0],
        texture.fractions_pct[2],
        outcome.organic_matter_pct.expect("fine earth"),
        outcome.loose_parts_l,
        volume.fresh,
        volume.settled,
        volume.puddled,
        density.fresh,
        density.settled,
        pores.fresh,
        pores.settled,
        pores.puddled,
        outcome.skeleton.share,
    ]
}

/// One true case.
pub struct Truth {
    /// In the order of [`FIGURES`].
    pub figures: [f64; FIGURES.len()],
    /// Settled pore space less that of the ground dug with nothing added, percentage points.
    pub more_pores: f64,
    /// The ground as it lies, kg/m3.
    pub lying_density: f64,
    /// Texture class.
    pub class: Class,
    /// Whether coarse grains touch, where there is clay to ask.
    pub touching: Option<bool>,
}

/// Where true values come from.
pub enum Chance<'a> {
    /// Every value is its typical one, and no estimate errs.
    Typical,
    /// By chance.
    Dice(&'a mut Dice),
}

impl Chance<'_> {
    /// A standard normal number (Box & Muller 1958).
    fn score(&mut self) -> f64 {
        match self {
            Chance::Typical => 0.0,
            Chance::Dice(dice) => {
                let size = (-2.0 * (1.0 - dice.unit()).ln()).sqrt();
                size * (2.0 * std::f64::consts::PI * dice.unit()).cos()
            }
        }
    }

    fn value(&mut self, figure: Figure, (least, most): (f64, f64)) -> f64 {
        let score = self.score();
        let ends = figure.ends();
        let arm = if score < 0.0 {
            figure.typical - ends.low
        } else {
            ends.high - figure.typical
        };
        (figure.typical + score * arm / Z90).max(least).min(most)
    }

    /// A measured error at a score.
    fn error(&self, quantiles: [f64; 7], score: f64) -> f64 {
        if let Chance::Typical = self {
            return 0.0;
        }
        let share = 0.5 * libm::erfc(-score / std::f64::consts::SQRT_2);
        let mut piece = 0;
        while piece < 5 && share > SHARES[piece + 1] {
            piece += 1;
        }
        let along = (share - SHARES[piece]) / (SHARES[piece + 1] - SHARES[piece]);
        let error = quantiles[piece] * (1.0 - along) + quantiles[piece + 1] * along;
        quantiles[3] + WIDENED * (error - quantiles[3])
    }
}

/// A recipe of which every number is true, and what the model itself does not know.
pub struct Case {
    exact: Recipe,
    /// Of the recipe's typical texture: sizes are not drawn.
    grain_mm: f64,
    half_mixed: f64,
    pore_error: f64,
}

/// One case of a recipe.
pub fn case(recipe: &Recipe, chance: &mut Chance<'_>) -> Case {
    let mut exact = recipe.clone();
    exact.ground = ground(recipe, chance);
    exact.materials.clear();
    let mut known: Vec<(&str, usize)> = Vec::new();
    for (at, addition) in recipe.additions.iter().enumerate() {
        let before = known.iter().find(|(id, _)| *id == addition.material);
        assert!(
            before.is_none(),
            "lines of one material would need one truth"
        );
        known.push((&addition.material, at));
        let material = material(recipe, at, chance);
        exact.additions[at].material.clone_from(&material.id);
        exact.additions[at].water_per_wet_pct = None;
        exact.materials.push(material);
    }
    let soft = recipe.additions.iter().any(|addition| {
        let found = recipe.find(&addition.material).expect("a known material");
        !addition.is_on_top() && found.group().is_organic()
    });
    let half_width = if soft { 0.05 } else { 0.03 };
    let typical = Ground::of(&recipe.ground).expect("a ground").fractions;
    let grain_mm = [1.025_f64, 0.026, 0.001]
        .iter()
        .zip(typical)
        .map(|(size, share)| size.powf(share))
        .product();
    Case {
        exact,
        grain_mm,
        half_mixed: chance.value(Figure::between(0.35, 0.5, 0.65), (0.0, 1.0)),
        pore_error: chance.score() * half_width / Z95,
    }
}

/// One true case by chance. About one in a hundred thousand is denser than its grains allow; the
/// crate cuts such a draw, here it is thrown again.
pub fn by_chance(recipe: &Recipe, dice: &mut Dice) -> Truth {
    let throw = || case(recipe, &mut Chance::Dice(dice)).truth().ok();
    std::iter::repeat_with(throw)
        .take(3)
        .flatten()
        .next()
        .expect("almost every case can be")
}

/// The ground with a true number for each of its traits.
fn ground(recipe: &Recipe, chance: &mut Chance<'_>) -> Traits {
    let given = |of: Trait| recipe.ground.get(of);
    let mut out = Traits::NONE;
    let exact = |out: &mut Traits, of: Trait, value: f64| out.set(of, Some(Figure::exact(value)));
    let of_fractions = [Trait::Sand, Trait::Silt, Trait::Clay];
    let typical = of_fractions.map(|of| given(of).expect("a fraction").typical);
    let drawn = of_fractions.map(|of| {
        let figure = given(of).expect("a fraction");
        figure
            .is_in_doubt()
            .then(|| chance.value(figure, of.limits()))
    });
    for (of, value) in of_fractions.iter().zip(fractions(typical, drawn)) {
        exact(&mut out, *of, value);
    }
    for (of, otherwise) in [
        (Trait::OrganicMatter, Figure::between(1.0, 2.5, 5.0)),
        (Trait::Gravel, Figure::exact(0.0)),
        (Trait::Crumb, Figure::between(0.3, 0.5, 0.8)),
    ] {
        let figure = given(of).unwrap_or(otherwise);
        let value = chance.value(figure, of.limits());
        exact(&mut out, of, value);
    }
    // What is estimated errs as measured for the typical texture, and both errors go together.
    let sum: f64 = typical.iter().sum();
    let class = classify(typical.map(|part| 100.0 * part / sum));
    let errors = EstimateErrors::of(class);
    let scores = [chance.score(), chance.score()];
    let rho = if given(Trait::BulkDensity).is_none() {
        errors.correlation
    } else {
        0.0
    };
    let water_score = rho * scores[0] + (1.0 - rho * rho).sqrt() * scores[1];
    let estimated = Ground::of(&out).expect("a ground");
    let density = match given(Trait::BulkDensity) {
        Some(figure) => chance.value(figure, Trait::BulkDensity.limits()),
        None => {
            let error = chance.error(errors.density_kg_m3, scores[0]);
            (estimated.lying_density_kg_m3 + error).clamp(200.0, 2200.0)
        }
    };
    // A hair below, so that it is not refused.
    let density = density.min(0.88 * estimated.solid_density_kg_m3 * (1.0 - 1e-12));
    exact(&mut out, Trait::BulkDensity, density);
    let estimated = Ground::of(&out).expect("a ground");
    let water = match given(Trait::WaterPerDry) {
        Some(figure) => chance.value(figure, Trait::WaterPerDry.limits()),
        None => {
            let error = chance.error(errors.theta_33, water_score);
            let water = estimated.water_per_dry + error * 1000.0 / density;
            (100.0 * water).clamp(0.0, 300.0)
        }
    };
    exact(&mut out, Trait::WaterPerDry, water);
    out
}

/// Clay keeps its draw; those without a range share the rest in their typical proportion.
fn fractions(typical: [f64; 3], drawn: [Option<f64>; 3]) -> [f64; 3] {
    match drawn {
        [None, None, None] => typical,
        [Some(sand), Some(silt), Some(clay)] => {
            let rest = (100.0 - clay) / (sand + silt);
            [sand * rest, silt * rest, clay]
        }
        [None, None, Some(clay)] => {
            let rest = (100.0 - clay) / (typical[0] + typical[1]);
            [typical[0] * rest, typical[1] * rest, clay]
        }
        [None, Some(silt), Some(clay)] => {
            let silt = silt.min(100.0 - clay);
            [100.0 - clay - silt, silt, clay]
        }
        [Some(sand), None, Some(clay)] => {
            let sand = sand.min(100.0 - clay);
            [sand, 100.0 - clay - sand, clay]
        }
        [Some(sand), None, None] => {
            let rest = (100.0 - sand) / (typical[1] + typical[2]);
            [sand, typical[1] * rest, typical[2] * rest]
        }
        [None, Some(silt), None] => {
            let rest = (100.0 - silt) / (typical[0] + typical[2]);
            [typical[0] * rest, silt, typical[2] * rest]
        }
        [Some(sand), Some(silt), None] => {
            let fits = (100.0 / (sand + silt)).min(1.0);
            [sand * fits, silt * fits, 100.0 - (sand + silt) * fits]
        }
    }
}

/// The material of a line as an own one, with a true number for each of its properties.
fn material(recipe: &Recipe, at: usize, chance: &mut Chance<'_>) -> OwnMaterial {
    let addition = &recipe.additions[at];
    let found = recipe.find(&addition.material).expect("a known material");
    let given = found.properties();
    let typical = found.material().expect("it can be");
    let group = found.group();
    let mut values = given.clone();
    let mut value = |of: Property| {
        let figure = match of {
            Property::WaterPerWet => addition.water_per_wet_pct.or(given.get(of)),
            _ => given.get(of),
        };
        figure.map(|figure| chance.value(figure, of.limits()))
    };
    let water = value(Property::WaterPerWet).unwrap_or(0.0);
    let loose = value(Property::LooseDensity).expect("it is required");
    let grain = value(Property::GrainDensity);
    let solid = value(Property::SolidDensity);
    let [organic, char, coarse] = [Property::OrganicMatter, Property::Char, Property::Coarse]
        .map(|of| value(of).unwrap_or(0.0));
    let over = (0.01 * (organic + char)).max(1.0);
    let (organic, char) = (organic / over, char / over);
    let fractions = [Property::Sand, Property::Silt, Property::Clay].map(&mut value);
    let fractions = if fractions.iter().all(Option::is_none) {
        if group.is_organic() {
            [60.0, 25.0, 15.0]
        } else {
            [100.0, 0.0, 0.0]
        }
    } else {
        fractions.map(|fraction| fraction.unwrap_or(0.0))
    };
    let sum: f64 = fractions.iter().sum();
    let mineral: f64 = fractions
        .iter()
        .zip([2660.0, 2690.0, 2760.0])
        .map(|(part, density)| part / sum / density)
        .sum();
    let solid = solid.unwrap_or_else(|| {
        let rest = 1.0 - 0.01 * (organic + char);
        1.0 / (0.01 * organic / 1430.0 + 0.01 * char / 1600.0 + rest * mineral)
    });
    let fresh = loose * (1.0 - 0.01 * water);
    let settled = fresh * typical.settled_dry_density_kg_m3 / typical.fresh_dry_density_kg_m3;
    let otherwise = if group.is_organic() {
        typical.grain_density_kg_m3
    } else {
        solid
    };
    let grain = grain.unwrap_or(otherwise);
    let grain = grain.max(settled / 0.88).max(fresh / 0.80).min(solid);
    for (of, value) in [
        (Property::WaterPerWet, water),
        (Property::LooseDensity, loose),
        (Property::SettledDryDensity, settled.min(0.88 * grain)),
        (Property::GrainDensity, grain),
        (Property::SolidDensity, solid),
        (Property::Grain, typical.grain_mm),
        (Property::OrganicMatter, organic),
        (Property::Char, char),
        (Property::Sand, fractions[0]),
        (Property::Silt, fractions[1]),
        (Property::Clay, fractions[2]),
        (Property::Coarse, coarse),
    ] {
        values.set(of, Some(Figure::exact(value)));
    }
    OwnMaterial {
        id: format!("true_{at}"),
        name: None,
        group: Some(group),
        properties: values,
        ranges_kept: Vec::new(),
        bag: None,
        price: None,
        kept: Vec::new(),
    }
}

impl Case {
    /// What the blend truly is.
    pub fn truth(&self) -> Result<Truth, RecipeError> {
        let exact = &self.exact;
        let barrow = Barrow::of(exact)?;
        let blend = Blend::of(&barrow, &exact.soil);
        let masses = &blend.masses;
        let [fresh, settled, puddled] = self.volumes(&barrow, masses.solid_m3);
        let fines: f64 = masses.fines_kg.iter().sum();
        let fractions = masses.fines_kg.map(|part| 100.0 * part / fines);
        let pores = |volume: f64| 100.0 * (1.0 - masses.solid_m3 / volume);
        let ground = &barrow.ground;
        let alone = ground.settled_density_kg_m3() / ground.solid_density_kg_m3;
        Ok(Truth {
            figures: [
                masses.dry_kg,
                masses.dry_kg + masses.water_kg,
                fractions[0],
                fractions[2],
                100.0 * masses.organic_kg / (masses.dry_kg - masses.coarse_kg),
                1000.0 * masses.loose_m3,
                1000.0 * fresh,
                1000.0 * settled,
                1000.0 * puddled,
                masses.dry_kg / fresh,
                masses.dry_kg / settled,
                pores(fresh),
                pores(settled),
                pores(puddled),
                blend.skeleton.share,
            ],
            more_pores: pores(settled) - 100.0 * (1.0 - alone),
            lying_density: ground.lying_density_kg_m3,
            class: classify(fractions),
            touching: blend.skeleton.touching,
        })
    }

    /// Fresh, settled and puddled volume, m3.
    fn volumes(&self, barrow: &Barrow, solid_m3: f64) -> [f64; 3] {
        let ground = &barrow.ground;
        let solid = ground.solid_density_kg_m3;
        let part = |mass: f64, density: f64, grain: f64, size_mm: f64| Grains {
            volume: mass / density,
            porosity: 1.0 - density / grain,
            size_mm,
        };
        let additions = |is_settled: bool| -> Vec<Grains> {
            let packs = barrow
                .mixed()
                .filter(|line| line.material.group != Group::Liquid && line.dry_kg > 0.0);
            packs
                .map(|line| {
                    let material = &line.material;
                    let density = if is_settled {
                        material.settled_dry_density_kg_m3
                    } else {
                        material.fresh_dry_density_kg_m3
                    };
                    let grain = material.grain_density_kg_m3;
                    part(line.dry_kg, density, grain, material.grain_mm)
                })
                .collect()
        };
        let pack = |is_settled: bool, size_mm: f64, grain: f64| -> f64 {
            let density = if is_settled {
                ground.settled_density_kg_m3()
            } else {
                ground.fresh_density_kg_m3()
            };
            let mut parts = additions(is_settled);
            if barrow.ground_dry_kg > 0.0 {
                parts.push(part(barrow.ground_dry_kg, density, grain, size_mm));
            }
            packed(&parts, if is_settled { 9.0 } else { 4.75 }, DE_LARRARD)
        };
        let sum = |is_settled: bool, density: f64| {
            let parts = additions(is_settled);
            barrow.ground_dry_kg / density + parts.iter().map(|part| part.volume).sum::<f64>()
        };
        let unmixed = sum(true, ground.settled_density_kg_m3());
        let unmixed_fresh = sum(false, ground.fresh_density_kg_m3());
        let half = |packed: f64| (1.0 - self.half_mixed) * unmixed + self.half_mixed * packed;
        let envelope = (ground.lying_density_kg_m3 / 0.88).max(1600.0);
        let clay = ((ground.clay_pct() - 15.0) / 10.0).clamp(0.0, 1.0);
        let [mut puddled, mut middle, mut crumbly, mut fresh] = [0.0; 4];
        if clay < 1.0 {
            let full = pack(true, self.grain_mm, solid);
            puddled += (1.0 - clay) * full;
            middle += (1.0 - clay) * half(full);
            crumbly += (1.0 - clay) * half(full);
            fresh += (1.0 - clay) * pack(false, self.grain_mm, solid);
        }
        if clay > 0.0 {
            let full = pack(true, 0.01, solid);
            puddled += clay * full;
            middle += clay * half(full);
            crumbly += clay * half(full).max(pack(true, 3.0, envelope));
            fresh += clay * pack(false, 3.0, envelope);
        }
        let settled = if ground.crumb < 0.5 {
            puddled + (middle - puddled) * ground.crumb / 0.5
        } else {
            middle + (crumbly - middle) * (ground.crumb - 0.5) / 0.5
        };
        let settled = settled.min(unmixed);
        // The error is one of pore space, and grows with what filling did.
        let erring = |volume: f64, unmixed: f64| {
            let pores = 1.0 - solid_m3 / volume;
            let pores = pores + self.pore_error * (1.0 - volume / unmixed) / 0.20;
            let most = 1.0 - solid_m3 / unmixed;
            solid_m3 / (1.0 - pores.max(0.0).min(most))
        };
        let settled = erring(settled, unmixed);
        [
            erring(fresh, unmixed_fresh).max(settled),
            settled,
            erring(puddled, unmixed).min(settled),
        ]
    }
}
