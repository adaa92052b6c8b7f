//! One recipe in, everything out.

#[cfg(not(feature = "page"))]
mod chemical;
mod container;
mod drawn;
mod inputs;
mod measured;
mod remark;
mod remarks;
mod rules;
#[cfg(not(feature = "page"))]
mod supplied;
#[cfg(not(feature = "page"))]
mod watered;

#[cfg(not(feature = "page"))]
pub use chemical::Chemical;
pub use container::{Container, pot};
pub use drawn::{Change, Drawn, Measure};
pub use inputs::Cause;
pub(crate) use inputs::PACKING_HALF_WIDTH;
pub use measured::{Disagreement, MeasuredOutcome};
pub use remark::{Remark, Standing};
pub(crate) use remarks::{DENSITY_RULE_LIMITS, FEW_FINES_PCT};
use rules::{NO_DENSITY_KG_M3, NO_ORGANIC_MATTER_PCT, NO_PORES_PCT};
pub(crate) use rules::{ONLY_JUST, TOLD_ODDS};
pub use rules::{RULES, Rule};
#[cfg(not(feature = "page"))]
pub(crate) use supplied::around;
#[cfg(not(feature = "page"))]
pub use supplied::{Layer, Supplied, Supply, at_once};
#[cfg(not(feature = "page"))]
pub use watered::{
    GRAVEL_CM, Home, Profile, TALLER, USED_UP, Use, Watered, days, drainage_odds, is_told_as_class,
    middle_half,
};

use crate::blend::{Barrow, Blend, Chemistry};
use crate::caution::{Becomes, Caution, cautions};
use crate::draws::Strata;
use crate::figure::Figure;
use crate::ground::GRAVEL_SOLID_KG_M3;
use crate::quantity::LITRES_PER_M3;
use crate::recipe::{Recipe, RecipeError};
use crate::texture::{Class, classify};
use crate::water::pot::wet_layer_cm;

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
    /// What fills the pores of the settled blend once it stopped draining.
    pub pores_pct: Pores,
    /// How fast water goes through the settled blend when it is full, mm/h.
    pub drainage_mm_h: Figure,
    /// Mass once watered and drained, kg.
    pub watered_kg: Figure,
    /// The blend in its container; none where there is none, or its height is not told.
    pub container: Option<Container>,
    /// Reaction, salts, exchange and nutrients, typical values.
    pub chemistry: Chemistry,
    /// The same with their ranges; the page's module draws none.
    #[cfg(not(feature = "page"))]
    pub chemical: Chemical,
    /// The coarse grains.
    pub skeleton: SkeletonOutcome,
    /// Money, pro rata on what is used; none if an addition has no price.
    pub cost: Option<Figure>,
    /// What this blend does and does not do.
    pub verdict: Vec<Remark>,
    /// What was assumed and what is outside its limits.
    pub notes: Vec<Remark>,
    /// What must be said before anyone begins, the gravest first.
    pub cautions: Vec<Caution>,
    /// The ground beside the blend.
    pub ground: Beside,
    /// The blend against the ground, draw by draw; none where there is no ground.
    pub changes: Option<Changes>,
    /// What measurements did to all of these; none where nothing was measured.
    pub measured: Option<MeasuredOutcome>,
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

/// What fills pores once they stopped draining, % of the volume; sums to the pore space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pores {
    /// Air.
    pub air: Figure,
    /// Water that plants can take.
    pub available_water: Figure,
    /// Water that plants leave.
    pub unavailable_water: Figure,
    /// Cells that no water enters.
    pub closed: Figure,
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
    /// As it lies, once it stopped draining: air and the two waters, %.
    pub lying_pores_pct: Pores,
    /// Dug and nothing added, after a season: air and available water, %.
    pub settled_air_pct: Figure,
    /// Dug and nothing added, after a season: available water, %.
    pub settled_available_water_pct: Figure,
    /// How fast water goes through it when it is full, as it lies and dug, mm/h.
    pub drainage_mm_h: [Figure; 2],
}

impl Outcome {
    /// Everything about a recipe.
    ///
    /// # Errors
    /// The first fault of the recipe, with the path of its field.
    ///
    /// ```
    /// use barrowmix::outcome::Outcome;
    /// use barrowmix::recipe::Recipe;
    /// use barrowmix::words::{METRIC, remark_text};
    ///
    /// let recipe = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/recipes/sand-half.json"));
    /// let outcome = Outcome::of(&Recipe::from_json(recipe)?)?;
    /// let density = outcome.bulk_density_kg_m3.settled;
    /// let ends = density.ends();
    /// assert!(ends.low < density.typical && density.typical < ends.high);
    /// assert!(outcome.verdict.iter().all(|said| !remark_text(said, METRIC).is_empty()));
    /// # Ok::<(), barrowmix::recipe::RecipeError>(())
    /// ```
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
        measured::check(recipe, &barrow, &blend)?;
        let settled_l = blend.volumes.settled_m3 * LITRES_PER_M3;
        let pot = pot(recipe.place.as_ref(), settled_l);
        let (drawn, measured) = Drawn::of(recipe, &barrow, &blend, pot.as_ref(), strata);
        let figure = |of: Measure| drawn.figure(of);
        let skeleton = &blend.skeleton;
        let lies_on_top = barrow.lines.iter().any(|line| line.on_top);
        let texture = drawn.some(Measure::Sand).map(|sand_pct| {
            let fractions_pct = [sand_pct, figure(Measure::Silt), figure(Measure::Clay)];
            let [sand, silt, clay] = fractions_pct;
            Texture {
                fractions_pct,
                class: classify([sand.typical, silt.typical, clay.typical]),
                class_odds: drawn.class_odds(),
            }
        });
        let has_char = blend.masses.char_kg > 0.0;
        let becomes = Becomes {
            watered_kg: figure(Measure::WateredMass).typical,
            drainage_mm_h: [Measure::LyingDrainage, Measure::Drainage].map(|of| figure(of).typical),
            pot_air_pct: drawn.some(Measure::PotAir).map(|air| air.typical),
            settled_kg_m3: {
                let (masses, volumes) = (&blend.masses, &blend.volumes);
                let stones_m3 = masses.coarse_kg / GRAVEL_SOLID_KG_M3;
                (masses.dry_kg - masses.coarse_kg) / (volumes.settled_m3 - stones_m3)
            },
            class: texture.map(|texture| (texture.class, texture.fractions_pct[2].typical)),
            chemistry: Chemistry::typical(recipe, &barrow),
        };
        let mut outcome = Outcome {
            chemistry: becomes.chemistry,
            #[cfg(not(feature = "page"))]
            chemical: Chemical::of(&drawn),
            texture,
            organic_matter_pct: drawn.some(Measure::OrganicMatter),
            organic_matter_with_char_pct: drawn
                .some(Measure::OrganicMatterWithChar)
                .filter(|_| has_char),
            dry_kg: figure(Measure::DryMass),
            moist_kg: figure(Measure::MoistMass),
            on_top_kg: lies_on_top.then(|| figure(Measure::OnTop)),
            volume_l: States {
                fresh: figure(Measure::FreshVolume),
                settled: figure(Measure::SettledVolume),
                puddled: figure(Measure::PuddledVolume),
            },
            loose_parts_l: figure(Measure::LooseParts),
            bulk_density_kg_m3: States {
                fresh: figure(Measure::FreshDensity),
                settled: figure(Measure::SettledDensity),
                puddled: figure(Measure::PuddledDensity),
            },
            pore_space_pct: States {
                fresh: figure(Measure::FreshPores),
                settled: figure(Measure::SettledPores),
                puddled: figure(Measure::PuddledPores),
            },
            pores_pct: Pores {
                air: figure(Measure::Air),
                available_water: figure(Measure::Available),
                unavailable_water: figure(Measure::Unavailable),
                closed: figure(Measure::Closed),
            },
            drainage_mm_h: figure(Measure::Drainage),
            watered_kg: figure(Measure::WateredMass),
            container: pot.map(|pot| Container {
                pot,
                water_pct: figure(Measure::PotWater),
                air_pct: figure(Measure::PotAir),
                wet_layer_cm: wet_layer_cm(
                    pot.height_cm,
                    // Closed cells are no air for roots.
                    blend.water.fillable,
                    &blend.store(),
                ),
            }),
            skeleton: SkeletonOutcome {
                share: figure(Measure::Share),
                threshold: skeleton.threshold.map(|_| figure(Measure::Threshold)),
                touching: skeleton.touching,
                touching_odds: skeleton.touching.and_then(|_| drawn.touching_odds()),
                more_to_touch_kg: skeleton
                    .more_to_touch_kg
                    .map(|_| figure(Measure::MoreToTouch)),
            },
            cost: drawn.some(Measure::Cost),
            verdict: Vec::new(),
            notes: Vec::new(),
            cautions: cautions(recipe, &barrow, becomes),
            changes: (barrow.ground_dry_kg > 0.0).then(|| Changes::of(&drawn)),
            ground: Beside::of(&barrow, &drawn),
            measured,
            barrow,
            blend,
            drawn,
        };
        outcome.verdict = remarks::verdict(recipe, &outcome);
        outcome.notes = remarks::notes(recipe, &outcome);
        Ok(outcome)
    }
}

impl Changes {
    /// The differences from the ground, draw by draw.
    fn of(drawn: &Drawn) -> Changes {
        let against = |of: Measure, [lying, dug]: [Measure; 2], least: f64| {
            [drawn.change(of, lying, least), drawn.change(of, dug, least)]
        };
        Changes {
            pore_space_pct: against(
                Measure::SettledPores,
                [Measure::LyingPores, Measure::AlonePores],
                NO_PORES_PCT,
            ),
            bulk_density_kg_m3: against(
                Measure::SettledDensity,
                [Measure::LyingDensity, Measure::AloneDensity],
                NO_DENSITY_KG_M3,
            ),
            organic_matter_pct: drawn.some(Measure::OrganicMatter).map(|_| {
                let (of, from) = (Measure::OrganicMatter, Measure::GroundOrganicMatter);
                drawn.change(of, from, NO_ORGANIC_MATTER_PCT)
            }),
        }
    }
}

/// Sand, silt and clay in percent of fines; none where they are too little of the dry mass.
fn fractions_pct(fines_kg: [f64; 3], dry_kg: f64) -> Option<[f64; 3]> {
    let sum: f64 = fines_kg.iter().sum();
    (sum >= crate::blend::LEAST_FINES * dry_kg && sum > 0.0)
        .then(|| fines_kg.map(|part| 100.0 * part / sum))
}

impl Beside {
    fn of(barrow: &Barrow, drawn: &Drawn) -> Beside {
        let ground = &barrow.ground;
        let figure = |of: Measure| drawn.figure(of);
        Beside {
            fractions_pct: ground.fractions_pct(),
            class: ground.class(),
            organic_matter_pct: figure(Measure::GroundOrganicMatter),
            lying_density_kg_m3: figure(Measure::LyingDensity),
            lying_pore_space_pct: figure(Measure::LyingPores),
            dug_density_kg_m3: figure(Measure::DugDensity),
            dug_pore_space_pct: figure(Measure::DugPores),
            settled_density_kg_m3: figure(Measure::AloneDensity),
            settled_pore_space_pct: figure(Measure::AlonePores),
            lying_pores_pct: Pores {
                air: figure(Measure::LyingAir),
                available_water: figure(Measure::LyingAvailable),
                unavailable_water: figure(Measure::LyingUnavailable),
                closed: Figure::exact(0.0),
            },
            settled_air_pct: figure(Measure::AloneAir),
            settled_available_water_pct: figure(Measure::AloneAvailable),
            drainage_mm_h: [
                figure(Measure::LyingDrainage),
                figure(Measure::AloneDrainage),
            ],
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
