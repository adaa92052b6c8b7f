//! One recipe in, everything out.

mod drawn;
mod inputs;
mod remark;
mod remarks;

pub use drawn::{Change, Drawn, Measure};
pub use inputs::Cause;
pub use remark::{Remark, Severity, Standing};

use crate::blend::{Barrow, Blend, Masses};
use crate::draws::Strata;
use crate::figure::Figure;
use crate::quantity::LITRES_PER_M3;
use crate::recipe::{Recipe, RecipeError};
use crate::texture::{Class, classify};

/// Least mineral fines, of dry mass, that still have a texture.
const LEAST_FINES: f64 = 1e-9;

/// Everything estimated about a blend. Names, units and meanings are those of the outcome document.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// Sand, silt, clay and class; none without mineral fines.
    pub texture: Option<Texture>,
    /// Organic matter without char, % of dry mass less grains over 2 mm; none if that is nothing.
    pub organic_matter_pct: Option<Figure>,
    /// The same with char, where there is char.
    pub organic_matter_with_char_pct: Option<Figure>,
    /// Oven-dry mass, kg.
    pub dry_kg: Figure,
    /// Mass as mixed, kg.
    pub moist_kg: Figure,
    /// Mulch as sold, kg, where there is any.
    pub on_top_kg: Option<Figure>,
    /// Volumes, litres.
    pub volume_l: States,
    /// Sum of the loose volumes of the parts, litres.
    pub loose_parts_l: Figure,
    /// Dry densities, kg/m3.
    pub bulk_density_kg_m3: States,
    /// Pore space, %.
    pub pore_space_pct: States,
    /// The coarse grains.
    pub skeleton: SkeletonOutcome,
    /// Money, pro rata on what is used; none if an addition has no price.
    pub cost: Option<Figure>,
    /// Two sentences: what this blend does and does not do.
    pub verdict: Vec<Remark>,
    /// What was assumed and what is outside its limits.
    pub notes: Vec<Remark>,
    /// The ground beside the blend.
    pub ground: Beside,
    /// The blend against the ground, draw by draw; none where there is no ground.
    pub changes: Option<Changes>,
    /// What was mixed.
    pub barrow: Barrow,
    /// The blend itself, typical values.
    pub blend: Blend,
    /// Every draw.
    pub drawn: Drawn,
}

/// What the blend changes, taken in each draw, so that what both share cancels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Changes {
    /// Settled pore space against the ground as it lies and dug with nothing added, percentage points.
    pub pore_space_pct: [Change; 2],
    /// Settled density against the same, kg/m3.
    pub bulk_density_kg_m3: [Change; 2],
    /// Organic matter against the ground, percentage points; none where the blend has none.
    pub organic_matter_pct: Option<Change>,
}

/// A texture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Texture {
    /// Sand, silt and clay, % of mineral fines.
    pub fractions_pct: [Figure; 3],
    /// The class they fall in.
    pub class: Class,
    /// Share of the draws in each class, in the order of [`Class::ALL`].
    pub class_odds: [f64; Class::ALL.len()],
}

/// One quantity in the three states of a blend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct States {
    /// Freshly turned.
    pub fresh: Figure,
    /// After a season of rain.
    pub settled: Figure,
    /// With its crumbs slaked.
    pub puddled: Figure,
}

/// The coarse grains of a blend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkeletonOutcome {
    /// Coarse share of the room, as a fraction.
    pub share: Figure,
    /// Share at which the grains touch, where the question makes sense.
    pub threshold: Option<Figure>,
    /// Whether they touch.
    pub touching: Option<bool>,
    /// Share of the draws in which they touch.
    pub touching_odds: Option<f64>,
    /// How much more of the largest coarse addition makes them touch, kg as sold.
    pub more_to_touch_kg: Option<Figure>,
}

/// The ground without additions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// Its sand, silt and clay, %; none where all of it is gravel.
    pub fractions_pct: Option<[f64; 3]>,
    /// Its class.
    pub class: Option<Class>,
    /// Its organic matter, % of dry fine earth.
    pub organic_matter_pct: Figure,
    /// As it lies: dry density, kg/m3.
    pub lying_density_kg_m3: Figure,
    /// As it lies: pore space, %.
    pub lying_pore_space_pct: Figure,
    /// Dug and nothing added, on the day: dry density, kg/m3.
    pub dug_density_kg_m3: Figure,
    /// Dug and nothing added, on the day: pore space, %.
    pub dug_pore_space_pct: Figure,
    /// Dug and nothing added, after a season: dry density, kg/m3.
    pub settled_density_kg_m3: Figure,
    /// Dug and nothing added, after a season: pore space, %.
    pub settled_pore_space_pct: Figure,
}

impl Outcome {
    /// Everything about a recipe.
    ///
    /// # Errors
    /// The first fault of the recipe, with the path of its field.
    pub fn of(recipe: &Recipe) -> Result<Outcome, RecipeError> {
        Outcome::drawn_from(recipe, &mut Strata::default())
    }

    /// The same from strata that are kept between recipes, which saves shuffling them anew.
    ///
    /// # Errors
    /// The first fault of the recipe, with the path of its field.
    pub fn drawn_from(recipe: &Recipe, strata: &mut Strata) -> Result<Outcome, RecipeError> {
        let barrow = Barrow::of(recipe)?;
        let blend = Blend::of(&barrow, &recipe.soil);
        let drawn = Drawn::of(recipe, &barrow, strata);
        let ground = Beside::of(&barrow, &drawn);
        let masses = &blend.masses;
        let volumes = &blend.volumes;
        let states = |of: [Measure; 3], value: &dyn Fn(f64) -> f64| States {
            fresh: drawn.figure(of[0], value(volumes.fresh_m3)),
            settled: drawn.figure(of[1], value(volumes.settled_m3)),
            puddled: drawn.figure(of[2], value(volumes.puddled_m3)),
        };
        let earth_kg = masses.dry_kg - masses.coarse_kg;
        let of_earth = |of: Measure, part: f64| {
            (earth_kg > 0.0).then(|| drawn.figure(of, (100.0 * part / earth_kg).min(100.0)))
        };
        let lies_on_top = barrow.lines.iter().any(|line| line.on_top);
        let skeleton = &blend.skeleton;
        let mut outcome = Outcome {
            texture: texture(masses, &drawn),
            organic_matter_pct: of_earth(Measure::OrganicMatter, masses.organic_kg),
            organic_matter_with_char_pct: (masses.char_kg > 0.0)
                .then(|| {
                    let with_char = masses.organic_kg + masses.char_kg;
                    of_earth(Measure::OrganicMatterWithChar, with_char)
                })
                .flatten(),
            dry_kg: drawn.figure(Measure::DryMass, masses.dry_kg),
            moist_kg: drawn.figure(Measure::MoistMass, masses.dry_kg + masses.water_kg),
            on_top_kg: lies_on_top.then(|| drawn.figure(Measure::OnTop, masses.on_top_kg)),
            volume_l: states(
                [
                    Measure::FreshVolume,
                    Measure::SettledVolume,
                    Measure::PuddledVolume,
                ],
                &|volume| volume * LITRES_PER_M3,
            ),
            loose_parts_l: drawn
                .figure(Measure::LooseParts, volumes.loose_parts_m3 * LITRES_PER_M3),
            bulk_density_kg_m3: states(
                [
                    Measure::FreshDensity,
                    Measure::SettledDensity,
                    Measure::PuddledDensity,
                ],
                &|volume| blend.density_kg_m3(volume),
            ),
            pore_space_pct: states(
                [
                    Measure::FreshPores,
                    Measure::SettledPores,
                    Measure::PuddledPores,
                ],
                &|volume| 100.0 * blend.pore_space(volume),
            ),
            skeleton: SkeletonOutcome {
                share: drawn.figure(Measure::Share, skeleton.share),
                threshold: skeleton
                    .threshold
                    .map(|threshold| drawn.figure(Measure::Threshold, threshold)),
                touching: skeleton.touching,
                touching_odds: skeleton.touching.and_then(|_| drawn.touching_odds()),
                more_to_touch_kg: skeleton
                    .more_to_touch_kg
                    .map(|more| drawn.figure(Measure::MoreToTouch, more)),
            },
            cost: cost(&barrow).map(|cost| drawn.figure(Measure::Cost, cost)),
            verdict: Vec::new(),
            notes: Vec::new(),
            changes: None,
            ground,
            barrow,
            blend,
            drawn,
        };
        outcome.changes = (outcome.barrow.ground_dry_kg > 0.0).then(|| outcome.changed());
        outcome.verdict = remarks::verdict(recipe, &outcome);
        outcome.notes = remarks::notes(recipe, &outcome);
        Ok(outcome)
    }

    /// The differences from the ground, draw by draw.
    fn changed(&self) -> Changes {
        let change = |of: Measure, figure: Figure, from: Measure, before: Figure| {
            let typical = figure.typical - before.typical;
            self.drawn.change(of, from, typical)
        };
        let ground = &self.ground;
        let pores = self.pore_space_pct.settled;
        let density = self.bulk_density_kg_m3.settled;
        Changes {
            pore_space_pct: [
                (Measure::LyingPores, ground.lying_pore_space_pct),
                (Measure::AlonePores, ground.settled_pore_space_pct),
            ]
            .map(|(from, before)| change(Measure::SettledPores, pores, from, before)),
            bulk_density_kg_m3: [
                (Measure::LyingDensity, ground.lying_density_kg_m3),
                (Measure::AloneDensity, ground.settled_density_kg_m3),
            ]
            .map(|(from, before)| change(Measure::SettledDensity, density, from, before)),
            organic_matter_pct: self.organic_matter_pct.map(|organic| {
                let (of, from) = (Measure::OrganicMatter, Measure::GroundOrganicMatter);
                change(of, organic, from, ground.organic_matter_pct)
            }),
        }
    }
}

fn cost(barrow: &Barrow) -> Option<f64> {
    barrow
        .lines
        .iter()
        .try_fold(0.0, |sum, line| Some(sum + line.cost?))
}

fn texture(masses: &Masses, drawn: &Drawn) -> Option<Texture> {
    let fractions_pct = fractions_pct(masses.fines_kg, masses.dry_kg)?;
    let [sand, silt, clay] = fractions_pct;
    Some(Texture {
        fractions_pct: [
            drawn.figure(Measure::Sand, sand),
            drawn.figure(Measure::Silt, silt),
            drawn.figure(Measure::Clay, clay),
        ],
        class: classify(fractions_pct),
        class_odds: drawn.class_odds(),
    })
}

/// Sand, silt and clay in percent of fines; none where they are too little of the dry mass.
fn fractions_pct(fines_kg: [f64; 3], dry_kg: f64) -> Option<[f64; 3]> {
    let sum: f64 = fines_kg.iter().sum();
    (sum >= LEAST_FINES * dry_kg && sum > 0.0).then(|| fines_kg.map(|part| 100.0 * part / sum))
}

impl Beside {
    fn of(barrow: &Barrow, drawn: &Drawn) -> Beside {
        let ground = &barrow.ground;
        let pores = |density: f64| 100.0 * (1.0 - density / ground.solid_density_kg_m3);
        let has_fines = ground.gravel < 1.0 && ground.organic < 1.0;
        let fractions = has_fines.then(|| ground.fractions.map(|share| 100.0 * share));
        let lying = ground.lying_density_kg_m3;
        let dug = ground.fresh_density_kg_m3();
        let settled = ground.settled_density_kg_m3();
        Beside {
            fractions_pct: fractions,
            class: fractions.map(classify),
            organic_matter_pct: drawn.figure(Measure::GroundOrganicMatter, 100.0 * ground.organic),
            lying_density_kg_m3: drawn.figure(Measure::LyingDensity, lying),
            lying_pore_space_pct: drawn.figure(Measure::LyingPores, pores(lying)),
            dug_density_kg_m3: drawn.figure(Measure::DugDensity, dug),
            dug_pore_space_pct: drawn.figure(Measure::DugPores, pores(dug)),
            settled_density_kg_m3: drawn.figure(Measure::AloneDensity, settled),
            settled_pore_space_pct: drawn.figure(Measure::AlonePores, pores(settled)),
        }
    }
}

/// Textures on the way from the ground to the blend, each addition growing in turn, %.
pub fn texture_path(barrow: &Barrow) -> Vec<[f64; 3]> {
    let ground = &barrow.ground;
    let mut fines = ground
        .fractions
        .map(|share| barrow.ground_dry_kg * (1.0 - ground.gravel) * (1.0 - ground.organic) * share);
    let mut path = Vec::new();
    path.extend(fractions_pct(fines, 0.0));
    for line in barrow.mixed() {
        let material = &line.material;
        let added = line.dry_kg * material.mineral() * (1.0 - material.coarse);
        for (sum, share) in fines.iter_mut().zip(material.fractions) {
            *sum += added * share;
        }
        path.extend(fractions_pct(fines, 0.0));
    }
    path
}
