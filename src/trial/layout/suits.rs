//! Which layout suits which site, and what is to be said of one.

use super::{Design, Site, Wanted};

/// What is to be said of a layout before anything is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayoutAdvice {
    /// One container each: no spread between containers is known, so nothing can be judged.
    OneEach,
    /// Few containers are left to tell the spread from.
    FewLeft {
        /// How many.
        freedom: usize,
        /// As many as there should be.
        wanted: usize,
    },
    /// A Latin square of three rows leaves two; it should not stand alone.
    LatinOfThree,
    /// A Latin square of more rows than one usually has.
    LargeSquare {
        /// The most.
        most: usize,
    },
    /// Light changes, and the layout takes no account of it, or takes account of what is not there.
    OtherDesign {
        /// What suits.
        better: Design,
    },
    /// Even light, but more containers than stand in even light anywhere.
    ManyForOnePlace {
        /// The most.
        most: usize,
    },
    /// More treatments than stand in a strip: fewer, or two trials with the control in both.
    LongStrip {
        /// How many stand in a strip.
        most: usize,
    },
    /// More blocks than usual, or fewer.
    Blocks {
        /// Fewest that are advised.
        least: usize,
        /// Most.
        most: usize,
    },
}

/// Containers that should be left to tell the spread from (common practice).
pub const FREEDOM_WANTED: usize = 10;
/// Containers that stand in even light (common practice).
pub const EVEN_CONTAINERS: usize = 12;
/// Rows of a Latin square (common practice: three leave two to tell the spread from).
pub const SQUARE_SIDES: (usize, usize) = (4, 6);
/// Blocks (common practice).
pub const USUAL_BLOCKS: (usize, usize) = (4, 6);
/// Containers in a strip of equal light (a choice: three metres of pails).
pub const STRIP_CONTAINERS: usize = 8;

/// The design for a site, with so many treatments and containers.
pub fn design_for(site: Site, treatments: usize, containers: usize) -> Design {
    let (least, most) = SQUARE_SIDES;
    match site {
        Site::Even if containers <= EVEN_CONTAINERS => Design::Random,
        Site::TwoWays if (least..=most).contains(&treatments) => Design::Latin,
        Site::Even | Site::OneWay | Site::TwoWays => Design::Blocks,
    }
}

/// What is to be said of a layout, the gravest first.
pub fn advice(wanted: &Wanted, site: Option<Site>) -> Vec<LayoutAdvice> {
    let mut out = Vec::new();
    let treatments = wanted.copies.len();
    let containers = wanted.containers();
    let freedom = wanted.error_freedom();
    if containers <= treatments {
        out.push(LayoutAdvice::OneEach);
    } else if wanted.design == Design::Latin && treatments == 3 {
        out.push(LayoutAdvice::LatinOfThree);
    } else if freedom < FREEDOM_WANTED {
        let wanted = FREEDOM_WANTED;
        out.push(LayoutAdvice::FewLeft { freedom, wanted });
    }
    if wanted.design == Design::Latin && treatments > SQUARE_SIDES.1 {
        let most = SQUARE_SIDES.1;
        out.push(LayoutAdvice::LargeSquare { most });
    }
    if let Some(site) = site {
        let better = design_for(site, treatments, containers);
        // Blocks are never wrong where light is even.
        let harmless = site == Site::Even && wanted.design == Design::Blocks;
        if better != wanted.design && !harmless {
            out.push(LayoutAdvice::OtherDesign { better });
        }
    } else if wanted.design == Design::Random && containers > EVEN_CONTAINERS {
        let most = EVEN_CONTAINERS;
        out.push(LayoutAdvice::ManyForOnePlace { most });
    }
    if wanted.design == Design::Blocks {
        let in_a_block = wanted
            .copies
            .iter()
            .fold(0, |sum, copies| copies.saturating_add(sum));
        if in_a_block > STRIP_CONTAINERS {
            let most = STRIP_CONTAINERS;
            out.push(LayoutAdvice::LongStrip { most });
        }
        let (least, most) = USUAL_BLOCKS;
        if wanted.blocks > 1 && !(least..=most).contains(&wanted.blocks) {
            out.push(LayoutAdvice::Blocks { least, most });
        }
    }
    out
}
