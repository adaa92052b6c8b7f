//! One recipe in, everything out.

mod remark;
mod remarks;

pub use remark::{Remark, Severity, Standing};

use crate::blend::{Barrow, Blend, Masses};
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
    /// What was mixed.
    pub barrow: Barrow,
    /// The blend itself.
    pub blend: Blend,
}

/// A texture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Texture {
    /// Sand, silt and clay, % of mineral fines.
    pub fractions_pct: [Figure; 3],
    /// The class they fall in.
    pub class: Class,
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
    pub organic_matter_pct: f64,
    /// As it lies: dry density, kg/m3.
    pub lying_density_kg_m3: f64,
    /// As it lies: pore space, %.
    pub lying_pore_space_pct: f64,
    /// Dug and nothing added, on the day: dry density, kg/m3.
    pub dug_density_kg_m3: f64,
    /// Dug and nothing added, on the day: pore space, %.
    pub dug_pore_space_pct: f64,
    /// Dug and nothing added, after a season: dry density, kg/m3.
    pub settled_density_kg_m3: f64,
    /// Dug and nothing added, after a season: pore space, %.
    pub settled_pore_space_pct: f64,
}

impl Outcome {
    /// Everything about a recipe.
    ///
    /// # Errors
    /// The first fault of the recipe, with the path of its field.
    pub fn of(recipe: &Recipe) -> Result<Outcome, RecipeError> {
        let barrow = Barrow::of(recipe)?;
        let blend = Blend::of(&barrow, &recipe.soil);
        let ground = Beside::of(&barrow);
        let masses = &blend.masses;
        let volumes = &blend.volumes;
        let states = |of: &dyn Fn(f64) -> f64| States {
            fresh: Figure::exact(of(volumes.fresh_m3)),
            settled: Figure::exact(of(volumes.settled_m3)),
            puddled: Figure::exact(of(volumes.puddled_m3)),
        };
        let earth_kg = masses.dry_kg - masses.coarse_kg;
        let of_earth = |part: f64| {
            (earth_kg > 0.0).then(|| Figure::exact((100.0 * part / earth_kg).min(100.0)))
        };
        let on_top_kg = on_top(&barrow).next().is_some().then(|| {
            let sum: f64 = on_top(&barrow).map(|line| line.moist_kg).sum();
            Figure::exact(sum)
        });
        let skeleton = &blend.skeleton;
        let mut outcome = Outcome {
            texture: texture(masses),
            organic_matter_pct: of_earth(masses.organic_kg),
            organic_matter_with_char_pct: (masses.char_kg > 0.0)
                .then(|| of_earth(masses.organic_kg + masses.char_kg))
                .flatten(),
            dry_kg: Figure::exact(masses.dry_kg),
            moist_kg: Figure::exact(masses.dry_kg + masses.water_kg),
            on_top_kg,
            volume_l: states(&|volume| volume * LITRES_PER_M3),
            loose_parts_l: Figure::exact(volumes.loose_parts_m3 * LITRES_PER_M3),
            bulk_density_kg_m3: states(&|volume| blend.density_kg_m3(volume)),
            pore_space_pct: states(&|volume| 100.0 * blend.pore_space(volume)),
            skeleton: SkeletonOutcome {
                share: Figure::exact(skeleton.share),
                threshold: skeleton.threshold.map(Figure::exact),
                touching: skeleton.touching,
                more_to_touch_kg: skeleton.more_to_touch_kg.map(Figure::exact),
            },
            cost: cost(&barrow).map(Figure::exact),
            verdict: Vec::new(),
            notes: Vec::new(),
            ground,
            barrow,
            blend,
        };
        outcome.verdict = remarks::verdict(recipe, &outcome);
        outcome.notes = remarks::notes(recipe, &outcome);
        Ok(outcome)
    }
}

fn on_top(barrow: &Barrow) -> impl Iterator<Item = &crate::blend::Line> {
    barrow.lines.iter().filter(|line| line.on_top)
}

fn cost(barrow: &Barrow) -> Option<f64> {
    barrow
        .lines
        .iter()
        .try_fold(0.0, |sum, line| Some(sum + line.cost?))
}

fn texture(masses: &Masses) -> Option<Texture> {
    let fractions_pct = fractions_pct(masses.fines_kg, masses.dry_kg)?;
    Some(Texture {
        fractions_pct: fractions_pct.map(Figure::exact),
        class: classify(fractions_pct),
    })
}

/// Sand, silt and clay in percent of fines; none where they are too little of the dry mass.
fn fractions_pct(fines_kg: [f64; 3], dry_kg: f64) -> Option<[f64; 3]> {
    let sum: f64 = fines_kg.iter().sum();
    (sum >= LEAST_FINES * dry_kg && sum > 0.0).then(|| fines_kg.map(|part| 100.0 * part / sum))
}

impl Beside {
    fn of(barrow: &Barrow) -> Beside {
        let ground = &barrow.ground;
        let pores = |density: f64| 100.0 * (1.0 - density / ground.solid_density_kg_m3);
        let has_fines = ground.gravel < 1.0 && ground.organic < 1.0;
        let fractions = has_fines.then(|| ground.fractions.map(|share| 100.0 * share));
        Beside {
            fractions_pct: fractions,
            class: fractions.map(classify),
            organic_matter_pct: 100.0 * ground.organic,
            lying_density_kg_m3: ground.lying_density_kg_m3,
            lying_pore_space_pct: pores(ground.lying_density_kg_m3),
            dug_density_kg_m3: ground.fresh_density_kg_m3(),
            dug_pore_space_pct: pores(ground.fresh_density_kg_m3()),
            settled_density_kg_m3: ground.settled_density_kg_m3(),
            settled_pore_space_pct: pores(ground.settled_density_kg_m3()),
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
