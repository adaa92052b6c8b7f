//! What is to be said of a plan.

use super::{Doses, Weighed};
use crate::material::Group;
use crate::trial::plan::{DayAdvice, Deed, Trial};

/// What is to be said of a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlanAdvice {
    /// Without an untouched control nobody sees what digging alone did.
    OfferUntouched,
    /// Without a dug control an addition cannot be told from the digging.
    OfferDug,
    /// The control is ground that was not dug: what it differs by is the digging and the addition.
    OnlyUntouched,
    /// Additions feed, too: a control with the same nutrients would tell soil from food.
    Feeds {
        /// The first treatment that does.
        treatment: usize,
    },
    /// Bought manure or compost may carry herbicide residue: try beans in it first.
    TryBeansFirst {
        /// The first treatment that may.
        treatment: usize,
    },
    /// Dry the samples of all at 60 C: gypsum loses the water of its crystals in an oven.
    GypsumDries {
        /// The first treatment with gypsum.
        treatment: usize,
    },
    /// A day of sowing or of a record is odd.
    Day(DayAdvice),
    /// Doses equal by volume differ by mass.
    MassDiffers {
        /// Largest over smallest.
        by: f64,
    },
    /// Doses equal by mass differ by volume.
    VolumeDiffers {
        /// Largest over smallest.
        by: f64,
    },
    /// Doses are equal by neither.
    NeitherEqual {
        /// Largest over smallest mass.
        by_mass: f64,
        /// Largest over smallest volume.
        by_volume: f64,
    },
}

impl Trial {
    /// What is to be said of the plan, from what it comes to.
    pub fn plan_advice(&self, doses: &Doses) -> Vec<PlanAdvice> {
        let mut out = Vec::new();
        let has = |deed: &Deed| self.treatments.iter().any(|of| of.deed == *deed);
        if !has(&Deed::Dug) {
            out.push(PlanAdvice::OfferDug);
        }
        if !has(&Deed::Dug) && has(&Deed::Untouched) {
            out.push(PlanAdvice::OnlyUntouched);
        }
        if !has(&Deed::Untouched) {
            out.push(PlanAdvice::OfferUntouched);
        }
        let first = |is: fn(&Weighed) -> bool| {
            let mut all = doses.each.iter();
            all.position(|one| one.added.iter().any(is))
        };
        let feeds = |of: &Weighed| matches!(of.group, Group::CompostManure | Group::Meal);
        if let Some(treatment) = first(feeds) {
            out.push(PlanAdvice::Feeds { treatment });
        }
        if let Some(treatment) = first(|of| of.group == Group::CompostManure) {
            out.push(PlanAdvice::TryBeansFirst { treatment });
        }
        if let Some(treatment) = first(|of| of.material == "gypsum") {
            out.push(PlanAdvice::GypsumDries { treatment });
        }
        if let Some(equality) = doses.equality {
            let (by_mass, by_volume) = (equality.by_mass, equality.by_volume);
            match (equality.equal_mass(), equality.equal_volume()) {
                (true, true) => {}
                (true, false) => out.push(PlanAdvice::VolumeDiffers { by: by_volume }),
                (false, true) => out.push(PlanAdvice::MassDiffers { by: by_mass }),
                (false, false) => out.push(PlanAdvice::NeitherEqual { by_mass, by_volume }),
            }
        }
        out.extend(self.odd_days().into_iter().map(PlanAdvice::Day));
        out
    }
}
