//! How two blends differ, draw by draw. Draw k of both has the same inputs, since each is drawn by
//! its name, so what they share cancels.

use crate::draws;
use crate::figure::Figure;
use crate::outcome::{Drawn, Measure, Outcome};
use crate::recipe::{Measurement, Recipe, Sample};
use crate::texture::classify;
use std::rc::Rc;

/// What is compared, in the order of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Compared {
    /// Sand, % of the fines.
    Sand,
    /// Silt, % of the fines.
    Silt,
    /// Clay, % of the fines.
    Clay,
    /// Organic matter, %.
    OrganicMatter,
    /// Pore space, settled, %.
    Pores,
    /// Air once drained, %.
    Air,
    /// Water that plants can take, %.
    PlantWater,
    /// Density, settled, kg/m3.
    Density,
    /// How fast it drains, mm/h; differences are ratios.
    Drainage,
    /// Reaction.
    Ph,
    /// Salt in the saturation extract, dS/m.
    Salt,
    /// Weight watered and drained, kg.
    Weight,
    /// Money.
    Cost,
}

impl Compared {
    /// All of them.
    pub const ALL: [Compared; 13] = [
        Compared::Sand,
        Compared::Silt,
        Compared::Clay,
        Compared::OrganicMatter,
        Compared::Pores,
        Compared::Air,
        Compared::PlantWater,
        Compared::Density,
        Compared::Drainage,
        Compared::Ph,
        Compared::Salt,
        Compared::Weight,
        Compared::Cost,
    ];

    /// Its measure in the draws of a blend.
    pub fn measure(self) -> Measure {
        match self {
            Compared::Sand => Measure::Sand,
            Compared::Silt => Measure::Silt,
            Compared::Clay => Measure::Clay,
            Compared::OrganicMatter => Measure::OrganicMatter,
            Compared::Pores => Measure::SettledPores,
            Compared::Air => Measure::Air,
            Compared::PlantWater => Measure::Available,
            Compared::Density => Measure::SettledDensity,
            Compared::Drainage => Measure::Drainage,
            Compared::Ph => Measure::Ph,
            Compared::Salt => Measure::EcPaste,
            Compared::Weight => Measure::WateredMass,
            Compared::Cost => Measure::Cost,
        }
    }

    /// Its figure of a blend.
    pub fn figure(self, outcome: &Outcome) -> Option<Figure> {
        let fraction = |at: usize| outcome.texture.map(|texture| texture.fractions_pct[at]);
        match self {
            Compared::Sand => fraction(0),
            Compared::Silt => fraction(1),
            Compared::Clay => fraction(2),
            Compared::OrganicMatter => outcome.organic_matter_pct,
            Compared::Pores => Some(outcome.pore_space_pct.settled),
            Compared::Air => Some(outcome.pores_pct.air),
            Compared::PlantWater => Some(outcome.pores_pct.available_water),
            Compared::Density => Some(outcome.bulk_density_kg_m3.settled),
            Compared::Drainage => Some(outcome.drainage_mm_h),
            Compared::Ph => outcome.chemical.ph,
            Compared::Salt => Some(outcome.chemical.ec_paste_ds_m),
            Compared::Weight => Some(outcome.watered_kg),
            Compared::Cost => outcome.cost,
        }
        .filter(|figure| figure.typical.is_finite())
    }

    /// Its figure of the ground as it lies; a ground has no weight of its own here, and no price.
    fn of_ground(self, outcome: &Outcome) -> Option<f64> {
        let ground = &outcome.ground;
        let fraction = |at: usize| ground.fractions_pct.map(|fractions| fractions[at]);
        match self {
            Compared::Sand => fraction(0),
            Compared::Silt => fraction(1),
            Compared::Clay => fraction(2),
            Compared::OrganicMatter => Some(ground.organic_matter_pct.typical),
            Compared::Pores => Some(ground.lying_pore_space_pct.typical),
            Compared::Air => Some(ground.lying_pores_pct.air.typical),
            Compared::PlantWater => Some(ground.lying_pores_pct.available_water.typical),
            Compared::Density => Some(ground.lying_density_kg_m3.typical),
            Compared::Drainage => Some(ground.drainage_mm_h[0].typical),
            Compared::Ph => Some(outcome.chemical.ground_ph.typical),
            Compared::Salt => Some(outcome.chemical.ground_ec_paste_ds_m.typical),
            Compared::Weight | Compared::Cost => None,
        }
    }

    /// Whether a difference of it is told as a ratio: conductivity is known by its power of ten.
    pub fn is_by_ratio(self) -> bool {
        self == Compared::Drainage
    }

    /// How much more one value is than another.
    fn apart(self, of: f64, from: f64) -> f64 {
        if self.is_by_ratio() {
            return if of == from { 1.0 } else { of / from };
        }
        // What is only rounding is no difference.
        let difference = of - from;
        if is_rounding(of, from) {
            0.0
        } else {
            difference
        }
    }
}

/// Whether two values differ by no more than rounding.
fn is_rounding(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-12 * (one.abs() + other.abs())
}

/// A blend with all its draws, and its ground alone where there is one.
#[derive(Clone, Debug)]
pub struct Side {
    /// The blend.
    pub outcome: Outcome,
    /// The ground with nothing added, whose fractions no blend's draws have.
    pub alone: Option<Rc<Outcome>>,
}

impl Side {
    /// The recipe of the ground with nothing added; none where there is no ground.
    pub fn ground_alone(recipe: &Recipe, outcome: &Outcome) -> Option<Recipe> {
        if outcome.barrow.ground_dry_kg <= 0.0 {
            return None;
        }
        let mut alone = recipe.clone();
        alone.additions.clear();
        alone.materials.clear();
        alone.place = None;
        alone.parts_of_soil = None;
        alone.title = None;
        alone.currency = None;
        // What stands beside the blend makes no other ground of it.
        [alone.lectern, alone.trial, alone.shelf, alone.errand] = [None, None, None, None];
        // What was measured of the blend says nothing here.
        for of in Measurement::ALL.iter().copied() {
            alone.set_measured(Sample::Blend, of, None);
        }
        Some(alone)
    }

    fn ground_column(&self, of: Compared) -> Option<&[f64]> {
        let alone = self.alone.as_ref()?;
        let measure = match of {
            Compared::Sand | Compared::Silt | Compared::Clay => {
                return Some(alone.drawn.column(of.measure()));
            }
            Compared::OrganicMatter => Measure::GroundOrganicMatter,
            Compared::Pores => Measure::LyingPores,
            Compared::Air => Measure::LyingAir,
            Compared::PlantWater => Measure::LyingAvailable,
            Compared::Density => Measure::LyingDensity,
            Compared::Drainage => Measure::LyingDrainage,
            Compared::Ph => Measure::GroundPh,
            Compared::Salt => Measure::GroundEcPaste,
            Compared::Weight | Compared::Cost => return None,
        };
        Some(self.outcome.drawn.column(measure))
    }
}

/// What a blend is compared with.
#[derive(Clone, Copy, Debug)]
pub enum Against<'a> {
    /// Its own ground as it lies.
    Ground,
    /// Another blend.
    Other(&'a Side),
}

/// How a blend differs from what it is compared with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// How much more it has; a ratio where [`Compared::is_by_ratio`].
    pub difference: Figure,
    /// Share of the draws in which it has more.
    pub more: f64,
    /// Share of the draws in which both are the same.
    pub same: f64,
    /// Share of the draws in which it has less.
    pub less: f64,
}

/// The typical difference alone, from what is told as typical of both.
pub fn typical_difference(of: Compared, side: &Outcome, against: Option<&Outcome>) -> Option<f64> {
    let from = match against {
        None if side.barrow.ground_dry_kg > 0.0 => of.of_ground(side)?,
        None => return None,
        Some(other) => of.figure(other)?.typical,
    };
    let apart = of.apart(of.figure(side)?.typical, from);
    apart.is_finite().then_some(apart)
}

/// How a figure differs, with its odds; none where one of both has no such figure.
pub fn compare(of: Compared, side: &Side, against: Against<'_>) -> Option<Difference> {
    let (from, other) = match against {
        Against::Ground => (side.ground_column(of)?, None),
        Against::Other(other) => (other.outcome.drawn.column(of.measure()), Some(other)),
    };
    let typical = typical_difference(of, &side.outcome, other.map(|other| &other.outcome))?;
    let weights = other.map_or_else(
        || side.outcome.drawn.weights().to_vec(),
        |other| joint(side, other),
    );
    let column = side.outcome.drawn.column(of.measure());
    let (mut more, mut same, mut less) = (0.0, 0.0, 0.0);
    let mut apart = Vec::with_capacity(column.len());
    for (draw, (to, from)) in column.iter().zip(from).enumerate() {
        let difference = of.apart(*to, *from);
        apart.push(difference);
        if !difference.is_finite() {
            continue;
        }
        let weight = weights.get(draw).copied().unwrap_or(1.0);
        if is_rounding(*to, *from) {
            same += weight;
        } else if to > from {
            more += weight;
        } else {
            less += weight;
        }
    }
    let counted = more + same + less;
    if counted <= 0.0 {
        return None;
    }
    let ends = if weights.is_empty() {
        draws::ends(&apart).map(|ends| [ends.low, ends.high])
    } else {
        draws::weighted(&apart, &weights).map(|[low, _, high]| [low, high])
    };
    let [low, high] = ends.unwrap_or([typical; 2]);
    Some(Difference {
        difference: Figure::between(low.min(typical), typical, high.max(typical)),
        more: more / counted,
        same: same / counted,
        less: less / counted,
    })
}

/// Share of the draws in which a blend has the texture class of what it is compared with.
pub fn same_class(side: &Side, against: Against<'_>) -> Option<f64> {
    let fractions = |drawn: &'_ Drawn| {
        [Measure::Sand, Measure::Silt, Measure::Clay].map(|of| drawn.column(of).to_vec())
    };
    let (other, weights) = match against {
        Against::Ground => (
            &**side.alone.as_ref()?,
            side.outcome.drawn.weights().to_vec(),
        ),
        Against::Other(other) => (&other.outcome, joint(side, other)),
    };
    let [one, other] = [&side.outcome.drawn, &other.drawn].map(fractions);
    let (mut counted, mut same) = (0.0, 0.0);
    for draw in 0..one[0].len() {
        let [here, there] = [&one, &other].map(|all| [all[0][draw], all[1][draw], all[2][draw]]);
        if here[0].is_finite() && there[0].is_finite() {
            let weight = weights.get(draw).copied().unwrap_or(1.0);
            counted += weight;
            if classify(here) == classify(there) {
                same += weight;
            }
        }
    }
    (counted > 0.0).then(|| same / counted)
}

/// What each draw counts where two blends are compared; nothing where all count the same.
///
/// A measurement says how likely a draw is, whichever blend it was made of, so the weights of both
/// multiply. What both know by the same measurement of the same ground counts once: the product is
/// divided by the weights of that ground alone, and no draw counts more than in either blend.
pub fn joint(one: &Side, other: &Side) -> Vec<f64> {
    let [first, second] = [one, other].map(|side| side.outcome.drawn.weights());
    if first.is_empty() || first == second {
        return second.to_vec();
    }
    if second.is_empty() {
        return first.to_vec();
    }
    let alone = |side: &Side| {
        let alone = side.alone.as_ref();
        alone.map_or(Vec::new(), |alone| alone.drawn.weights().to_vec())
    };
    let shared = Some(alone(one)).filter(|shared| *shared == alone(other));
    let shared = shared.unwrap_or_default();
    let mut joint = Vec::with_capacity(first.len());
    for (draw, (one, other)) in first.iter().zip(second).enumerate() {
        let known = shared.get(draw).copied().unwrap_or(1.0);
        let both = if known > 0.0 {
            one * other / known
        } else {
            0.0
        };
        joint.push(both.min(*one).min(*other));
    }
    // Measurements that no draw can have both say nothing together.
    if joint.iter().sum::<f64>() > 0.0 {
        joint
    } else {
        Vec::new()
    }
}
