//! What an outcome can say, as facts. The sentences are in `words`.

use super::measured::{Disagreement, path as measured_path};
use crate::caution::Severity;
use crate::figure::Figure;
#[cfg(not(feature = "page"))]
use crate::ground::Trait;
use crate::quantity::Unit;
use crate::recipe::{Measurement, Path, Sample};

/// How pore space stands to the ground's as it lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// More pores.
    More,
    /// As many, within the doubt.
    Same,
    /// Fewer pores.
    Less,
}

/// One thing said about a blend.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Remark {
    /// Verdict: no grains that could carry.
    NoCoarseGrains,
    /// Verdict: there is no clay for grains to float in.
    LightGround {
        /// Clay of the ground, %.
        clay_pct: f64,
    },
    /// Verdict: the grains float in the clay.
    Floating {
        /// Name of the largest coarse addition; none if it is only the ground's gravel.
        name: Option<String>,
        /// Coarse share of the room, %.
        share_pct: f64,
        /// Share at which grains touch, %.
        threshold_pct: f64,
        /// How much more makes them touch, kg as sold.
        more_kg: Option<f64>,
        /// The same with its ends.
        more: Option<Figure>,
        /// What that would cost, where there is a price, and its label.
        more_cost: Option<(f64, Option<String>)>,
        /// Loose parts of it to one of ground, when they touch.
        parts_to_touch: Option<f64>,
        /// Settled pore space of this blend, %.
        pores_pct: f64,
        /// The same blend without that addition, %.
        pores_without_pct: Option<f64>,
        /// Whether it would be better without it, by more than anyone would miss.
        harms: bool,
        /// Whether it takes more of them than anyone would buy.
        too_much: bool,
        /// Share of the draws in which they touch all the same.
        touching_odds: f64,
    },
    /// Verdict: the grains touch.
    Touching {
        /// Name of the largest coarse addition.
        name: Option<String>,
        /// Coarse share of the room, %.
        share_pct: f64,
        /// Share at which grains touch, %.
        threshold_pct: f64,
        /// Whether they only just touch.
        only_just: bool,
        /// Share of the draws in which they touch.
        touching_odds: f64,
    },
    /// Verdict: density and pore space at both ends of `crumb`.
    BothEnds {
        /// How the pore space stands with crumbs that hold, and puddled.
        standing: [Standing; 2],
        /// With crumbs that hold: kg/m3 and %.
        crumbly: (f64, f64),
        /// Puddled: kg/m3 and %.
        puddled: (f64, f64),
        /// The ground as it lies: kg/m3 and %.
        lying: (f64, f64),
    },
    /// Verdict: the settled blend beside the same ground dug with nothing added.
    BesideDigging {
        /// How its pore space stands to it.
        standing: Standing,
        /// The settled blend, %.
        pores_pct: f64,
        /// The ground dug, after a season, %.
        settled_pores_pct: f64,
    },
    /// Verdict: what the settled blend holds beside the ground dug with nothing added.
    Holds {
        /// How its water for plants stands to it.
        standing: Standing,
        /// Whether it is organic matter in heavy clay that bought air and no water.
        buys_air: bool,
        /// Air once drained, %: dug alone, and the blend.
        air_pct: [f64; 2],
        /// Water for plants, %: dug alone, and the blend.
        available_pct: [f64; 2],
    },
    /// Verdict: additions that change nothing that could be measured.
    Idle {
        /// Their names.
        names: Vec<String>,
        /// Their share of the dry mass, %.
        share_pct: f64,
        /// How much of it would show, kg as sold, of one; none if more than anyone would buy.
        needed_kg: Option<f64>,
        /// What that would cost, where there is a price, and its label.
        needed_cost: Option<(f64, Option<String>)>,
        /// Whether all are there for what they do to plants or by chemistry.
        is_chemical: bool,
        /// Whether none is, and the ground is a clay to be loosened.
        loosens_clay: bool,
        /// Whether trials did not bear out what is claimed for any of them.
        is_unproven: bool,
    },
    /// Verdict: an addition makes the bed tighter.
    Tightens {
        /// Its name.
        name: String,
        /// Settled pore space of this blend, %.
        pores_pct: f64,
        /// The same without it, %.
        without_pct: f64,
    },
    /// Verdict: what compost would do instead of grains that float.
    Instead {
        /// Its name.
        name: String,
        /// How much, litres as sold.
        litres: f64,
        /// The same in kg.
        kg: f64,
        /// What that would cost, where there is a price, and its label.
        cost: Option<(f64, Option<String>)>,
        /// Settled pore space of the ground with it alone, %.
        pores_pct: f64,
        /// Whether in so much clay it buys air and not water.
        buys_air: bool,
    },
    /// Verdict: density and pore space where there is no ground to compare with.
    BothEndsAlone {
        /// Settled: kg/m3 and %.
        crumbly: (f64, f64),
        /// Puddled: kg/m3 and %.
        puddled: (f64, f64),
    },
    /// Verdict: nothing is added.
    NothingAdded {
        /// The ground as it lies: kg/m3 and %.
        lying: (f64, f64),
        /// The ground dug, on the day, %.
        dug_pores_pct: f64,
        /// The ground dug, after a season, %.
        settled_pores_pct: f64,
    },
    /// Organic matter of the ground was not given.
    EstimatedOrganicMatter {
        /// Taken as, %.
        organic_matter_pct: f64,
    },
    /// Density of the ground was not given.
    EstimatedDensity {
        /// Taken as, kg/m3.
        density_kg_m3: f64,
        /// Whether texture or organic matter lie outside what the rule was fitted on.
        outside: bool,
    },
    /// Moisture of the ground was not given.
    EstimatedWater {
        /// Taken as, % of dry mass.
        water_per_dry_pct: f64,
    },
    /// Crumb was not given.
    EstimatedCrumb,
    /// Something of the ground's chemistry was not given.
    #[cfg(not(feature = "page"))]
    EstimatedChemistry {
        /// What.
        of: Trait,
        /// Taken as, in its own unit.
        value: f64,
    },
    /// Nothing is known of an own material's chemistry.
    #[cfg(not(feature = "page"))]
    EstimatedKind {
        /// Its name.
        name: String,
        /// Its place in the recipe.
        path: Path,
    },
    /// A reaction of an own powder or liquid, which says nothing of how much it moves a soil.
    #[cfg(not(feature = "page"))]
    ReactionAlone {
        /// Its name.
        name: String,
        /// Its place in the recipe.
        path: Path,
    },
    /// The cations' shares of the exchange are more than all of it.
    #[cfg(not(feature = "page"))]
    SharesOver {
        /// Their sum, %.
        sum_pct: f64,
    },
    /// Carbonate in a ground that is not basic.
    #[cfg(not(feature = "page"))]
    LimeInAcid,
    /// Reaction outside the range in which buffering is known to be about linear.
    #[cfg(not(feature = "page"))]
    ReactionOutside,
    /// A crop for which no table has numbers.
    #[cfg(not(feature = "page"))]
    UnknownCrop {
        /// As it was given.
        crop: String,
    },
    /// The group of an own material was not given.
    EstimatedGroup {
        /// Its name.
        name: String,
        /// Its place in the recipe.
        path: Path,
    },
    /// Grains of a soil brought in were not given.
    EstimatedFractions {
        /// Its name.
        name: String,
        /// Its place in the recipe.
        path: Path,
    },
    /// Traffic would be needed to press the dug ground back to how it lies.
    Pressed {
        /// As it lies, kg/m3.
        lying_kg_m3: f64,
        /// Settled after digging, kg/m3.
        settled_kg_m3: f64,
    },
    /// The ground lies denser than almost any soil of its kind.
    VeryDense {
        /// As it lies, kg/m3.
        lying_kg_m3: f64,
        /// What is usual, kg/m3.
        normal_kg_m3: f64,
    },
    /// Mineral fines are a small part of the blend, so texture says little.
    FewFines {
        /// Their share of the dry mass, %.
        share_pct: f64,
    },
    /// No mineral fines: no texture.
    NoTexture,
    /// The clay is too little to ask whether grains touch.
    NoSkeletonQuestion,
    /// The settled blend is more than the place holds.
    Overfull {
        /// Settled, litres for each place.
        settled_l: f64,
        /// Room, litres.
        room_l: f64,
        /// The room in the unit typed.
        unit: Unit,
    },
    /// The settled blend leaves the place part empty.
    Underfull {
        /// Settled, litres for each place.
        settled_l: f64,
        /// Room, litres.
        room_l: f64,
        /// The room in the unit typed.
        unit: Unit,
    },
    /// A measurement lies outside what was expected.
    Disagrees(Disagreement),
    /// Too few draws agree with what was measured, so it counts as less exact.
    FewAgree {
        /// Draws of equal weight that would tell as much.
        effective_draws: f64,
    },
    /// A measurement that nothing could be compared with.
    NotCompared(Sample, Measurement),
    /// Measured soils of this texture hold more water than the equation says; it was added.
    WaterAdded {
        /// So much at 33 kPa, percentage points of the volume.
        points: f64,
    },
    /// Clay or organic matter beyond what the water equations were fitted on.
    WaterOutside,
    /// A container of which the height is not told.
    NoHeight,
    /// Fields of a later release were kept unread.
    KeptFields,
}

impl Remark {
    /// Its id in an outcome document.
    pub fn id(&self) -> &'static str {
        match self {
            Remark::NoCoarseGrains => "no_coarse_grains",
            Remark::LightGround { .. } => "light_ground",
            Remark::Floating { .. } => "floating",
            Remark::Touching { .. } => "touching",
            Remark::BothEnds { .. } => "both_ends",
            Remark::BothEndsAlone { .. } => "both_ends_alone",
            Remark::BesideDigging { .. } => "beside_digging",
            Remark::Holds { .. } => "holds",
            Remark::Idle { .. } => "idle",
            Remark::Tightens { .. } => "tightens",
            Remark::Instead { .. } => "instead",
            Remark::NothingAdded { .. } => "nothing_added",
            Remark::EstimatedOrganicMatter { .. } => "estimated_organic_matter",
            Remark::EstimatedDensity { .. } => "estimated_density",
            Remark::EstimatedWater { .. } => "estimated_water",
            Remark::EstimatedCrumb => "estimated_crumb",
            #[cfg(not(feature = "page"))]
            Remark::EstimatedChemistry { .. } => "estimated_chemistry",
            #[cfg(not(feature = "page"))]
            Remark::EstimatedKind { .. } => "estimated_kind",
            #[cfg(not(feature = "page"))]
            Remark::ReactionAlone { .. } => "reaction_alone",
            #[cfg(not(feature = "page"))]
            Remark::SharesOver { .. } => "shares_over",
            #[cfg(not(feature = "page"))]
            Remark::LimeInAcid => "lime_in_acid",
            #[cfg(not(feature = "page"))]
            Remark::ReactionOutside => "reaction_outside",
            #[cfg(not(feature = "page"))]
            Remark::UnknownCrop { .. } => "unknown_crop",
            Remark::EstimatedGroup { .. } => "estimated_group",
            Remark::EstimatedFractions { .. } => "estimated_fractions",
            Remark::Pressed { .. } => "pressed",
            Remark::VeryDense { .. } => "very_dense",
            Remark::FewFines { .. } => "few_fines",
            Remark::NoTexture => "no_texture",
            Remark::NoSkeletonQuestion => "no_skeleton_question",
            Remark::Overfull { .. } => "overfull",
            Remark::Underfull { .. } => "underfull",
            Remark::Disagrees(_) => "measured_outside",
            Remark::FewAgree { .. } => "few_draws_agree",
            Remark::NotCompared(..) => "not_compared",
            Remark::WaterAdded { .. } => "water_added",
            Remark::WaterOutside => "water_outside",
            Remark::NoHeight => "no_height",
            Remark::KeptFields => "kept_fields",
        }
    }

    /// How much it matters.
    pub fn severity(&self) -> Severity {
        match self {
            Remark::Floating { .. } | Remark::VeryDense { .. } | Remark::Overfull { .. } => {
                Severity::Warn
            }
            Remark::BothEnds {
                standing: [Standing::Less, _],
                ..
            }
            | Remark::BesideDigging {
                standing: Standing::Less,
                ..
            }
            | Remark::Tightens { .. }
            | Remark::Disagrees(_)
            | Remark::FewAgree { .. } => Severity::Warn,
            _ => Severity::Note,
        }
    }

    /// The field of the recipe that it speaks of, if one.
    pub fn field(&self) -> Option<Path> {
        Some(match self {
            Remark::EstimatedOrganicMatter { .. } => "ground.organic_matter_pct".into(),
            Remark::EstimatedDensity { .. } | Remark::Pressed { .. } | Remark::VeryDense { .. } => {
                "ground.bulk_density_kg_m3".into()
            }
            Remark::EstimatedWater { .. } => "ground.water_per_dry_pct".into(),
            Remark::EstimatedCrumb => "ground.crumb".into(),
            #[cfg(not(feature = "page"))]
            Remark::EstimatedChemistry { of, .. } => Path::from("ground").field(of.name()),
            #[cfg(not(feature = "page"))]
            Remark::EstimatedKind { path, .. } => path.field("ph"),
            #[cfg(not(feature = "page"))]
            Remark::ReactionAlone { path, .. } => path.field("calcium_carbonate_equivalent_pct"),
            #[cfg(not(feature = "page"))]
            Remark::SharesOver { .. } => "ground.calcium_share_pct".into(),
            #[cfg(not(feature = "page"))]
            Remark::LimeInAcid => "ground.carbonate_pct".into(),
            #[cfg(not(feature = "page"))]
            Remark::UnknownCrop { .. } => "place.crop".into(),
            Remark::EstimatedGroup { path, .. } => path.field("group"),
            Remark::EstimatedFractions { path, .. } => path.field("sand_pct"),
            Remark::NoSkeletonQuestion => "ground.clay_pct".into(),
            Remark::Overfull { .. } | Remark::Underfull { .. } => "place.volume".into(),
            Remark::Disagrees(disagreement) => disagreement.path(),
            Remark::FewAgree { .. } => "measured".into(),
            Remark::NotCompared(sample, measurement) => measured_path(*sample, *measurement),
            Remark::NoHeight => "place.height".into(),
            _ => return None,
        })
    }
}
