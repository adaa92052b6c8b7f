//! Test crops: how long they take, what they bear, how many stand in a container. Where each number
//! comes from stands beside it.

use super::measures::From;
use crate::chemistry::crop::{self, Response};
use crate::source::Mark;
use std::f64::consts::PI;

/// A number or range with where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Told {
    /// Least, usual, most; all the same where one number is told.
    pub value: [f64; 3],
    /// From where.
    pub from: From,
}

/// How a crop answers something bad.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sensitivity {
    /// It bears it.
    Tolerant,
    /// Somewhat.
    Moderate,
    /// It suffers early.
    Sensitive,
    /// It shows it before anything else does.
    Very,
}

/// What a crop is best for in a trial.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BestFor {
    /// A whole crop soon, and how loose the soil is.
    QuickAnswer,
    /// A long trial and the shape of roots.
    LongTrial,
    /// Food, salt and water.
    FoodSaltWater,
    /// An alarm for herbicide residue and salt.
    ResidueAlarm,
    /// The grass beside a bean that tells residue from salt; even top growth.
    GrassCheck,
}

/// A test crop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TestCrop {
    /// Its id.
    pub id: &'static str,
    /// Days to emerge in soil of [`EMERGE_C`]; none where it does not.
    pub emerge_days: [Option<f64>; 4],
    /// Where those come from.
    pub emerge_from: From,
    /// Soil temperature for germination, Celsius: least, best, most.
    pub germinates_c: Told,
    /// Above this few seedlings are sound, Celsius, where the most that is printed misleads.
    pub sound_to_c: Option<f64>,
    /// Days from sowing to harvest.
    pub harvest_days: Told,
    /// Sowing depth, cm.
    pub depth_cm: Told,
    /// Final spacing, cm.
    pub spacing_cm: Told,
    /// Plants that are left of what fits, as a share: fine-leaved crops are thinned to half, so that
    /// each can be weighed (common practice).
    pub kept_share: f64,
    /// Direct sun it needs at the least, hours a day.
    pub sun_hours: Told,
    /// Its name in the table of salt, where it has numbers there.
    pub salt: Option<&'static str>,
    /// To packed soil.
    pub compaction: Sensitivity,
    /// To herbicides of the kind of auxin that pass through hay and manure.
    pub residue: Sensitivity,
    /// What it is best for.
    pub best_for: BestFor,
}

/// Soil temperatures of [`TestCrop::emerge_days`], Celsius (50, 59, 68 and 77 F).
pub const EMERGE_C: [f64; 4] = [10.0, 15.0, 20.0, 25.0];
/// Below this soil temperature lettuce or oat, not bean, Celsius (common practice).
pub const COOL_C: f64 = 13.0;
/// The crop where none is chosen.
pub const USUAL: &str = "radish";
/// At least so many plants in a container; two or more spread evenly (Santos and others, Bragantia,
/// verified in its abstract).
pub const PLANTS_WANTED: (u32, u32) = (2, 4);

const EMERGENCE: From = From {
    source: "Harrington & Minges 1954, as printed by Oregon State extension and in Knott's Handbook for Vegetable Growers; seed 1/2 inch deep",
    mark: Mark::Verified,
};
const WARMTH: From = From {
    source: "Harrington, Oregon State extension table",
    mark: Mark::Verified,
};
const PLANTING: From = From {
    source: "extension planting sheet",
    mark: Mark::Verified,
};
const GARDEN_PAGE: From = From {
    source: "a page on gardening, no trial",
    mark: Mark::Verified,
};
const SEED_TABLE: From = From {
    source: "a seed seller's table of spacings",
    mark: Mark::Verified,
};
const PRACTICE: From = From {
    source: "common practice",
    mark: Mark::Practice,
};
const MEMORY: From = From {
    source: "common tables of field crops",
    mark: Mark::Memory,
};

const fn told(low: f64, usual: f64, high: f64, from: From) -> Told {
    Told {
        value: [low, usual, high],
        from,
    }
}

/// The crops that a trial can use.
pub const CROPS: [TestCrop; 5] = [
    TestCrop {
        id: "radish",
        emerge_days: [Some(11.0), Some(6.0), Some(4.0), Some(4.0)],
        emerge_from: EMERGENCE,
        germinates_c: told(4.0, 29.0, 35.0, WARMTH),
        sound_to_c: None,
        harvest_days: told(21.0, 28.0, 35.0, GARDEN_PAGE),
        depth_cm: told(1.0, 1.0, 1.0, PRACTICE),
        spacing_cm: told(5.0, 5.0, 5.0, SEED_TABLE),
        kept_share: 0.5,
        sun_hours: told(4.0, 4.5, 5.0, GARDEN_PAGE),
        salt: Some("radish"),
        compaction: Sensitivity::Sensitive,
        residue: Sensitivity::Moderate,
        best_for: BestFor::QuickAnswer,
    },
    TestCrop {
        id: "beet",
        emerge_days: [Some(17.0), Some(10.0), Some(6.0), Some(5.0)],
        emerge_from: EMERGENCE,
        germinates_c: told(4.0, 29.0, 35.0, WARMTH),
        sound_to_c: None,
        harvest_days: told(50.0, 65.0, 80.0, PLANTING),
        depth_cm: told(1.5, 1.5, 1.5, PRACTICE),
        spacing_cm: told(10.0, 10.0, 15.0, SEED_TABLE),
        kept_share: 1.0,
        sun_hours: told(4.0, 4.5, 5.0, GARDEN_PAGE),
        salt: Some("beet"),
        compaction: Sensitivity::Sensitive,
        residue: Sensitivity::Moderate,
        best_for: BestFor::LongTrial,
    },
    TestCrop {
        id: "lettuce",
        emerge_days: [Some(7.0), Some(4.0), Some(3.0), Some(2.0)],
        emerge_from: EMERGENCE,
        germinates_c: told(2.0, 24.0, 35.0, WARMTH),
        // The same table has 12 % sound seedlings at 30 C and none at 35.
        sound_to_c: Some(27.0),
        harvest_days: told(45.0, 52.0, 60.0, PRACTICE),
        depth_cm: told(0.3, 0.4, 0.5, PRACTICE),
        spacing_cm: told(15.0, 20.0, 20.0, SEED_TABLE),
        kept_share: 1.0,
        sun_hours: told(3.0, 3.5, 4.0, GARDEN_PAGE),
        salt: Some("lettuce"),
        compaction: Sensitivity::Moderate,
        residue: Sensitivity::Sensitive,
        best_for: BestFor::FoodSaltWater,
    },
    TestCrop {
        id: "bean",
        emerge_days: [None, Some(16.0), Some(11.0), Some(8.0)],
        emerge_from: EMERGENCE,
        germinates_c: told(16.0, 27.0, 35.0, WARMTH),
        sound_to_c: None,
        harvest_days: told(45.0, 55.0, 65.0, PLANTING),
        depth_cm: told(3.0, 3.5, 4.0, PRACTICE),
        spacing_cm: told(5.0, 12.0, 12.0, SEED_TABLE),
        kept_share: 1.0,
        sun_hours: told(4.0, 4.5, 5.0, GARDEN_PAGE),
        salt: Some("bean"),
        compaction: Sensitivity::Moderate,
        residue: Sensitivity::Very,
        best_for: BestFor::ResidueAlarm,
    },
    TestCrop {
        id: "oat",
        emerge_days: [Some(12.0), Some(8.0), Some(6.0), Some(5.0)],
        emerge_from: PRACTICE,
        germinates_c: told(3.0, 22.5, 30.0, MEMORY),
        sound_to_c: None,
        // As top growth; grain takes 90 to 110.
        harvest_days: told(28.0, 35.0, 42.0, PRACTICE),
        depth_cm: told(3.0, 3.0, 3.0, PRACTICE),
        spacing_cm: told(4.0, 4.0, 4.0, PRACTICE),
        kept_share: 0.53,
        sun_hours: told(5.0, 5.5, 6.0, PRACTICE),
        salt: None,
        compaction: Sensitivity::Tolerant,
        residue: Sensitivity::Tolerant,
        best_for: BestFor::GrassCheck,
    },
];

impl TestCrop {
    /// The crop of an id.
    pub fn find(id: &str) -> Option<&'static TestCrop> {
        CROPS.iter().find(|crop| crop.id == id)
    }

    /// What salt does to it, where it is known.
    pub fn response(&self) -> Option<Response> {
        let name = self.salt?;
        let mut all = crop::crops();
        all.find(|known| known.id == name)?.response
    }

    /// Plants at its final spacing on an area, cm2: one for each square of it. At least one, where
    /// there is an area.
    pub fn fits(&self, area_cm2: f64) -> u32 {
        let spacing = self.spacing_cm.value[1];
        let plants = area_cm2 / (spacing * spacing);
        if plants.is_nan() || plants <= 0.0 {
            return 0;
        }
        // Tens of thousands are a field.
        (plants.min(100_000.0) as u32).max(1)
    }

    /// Plants to leave in a container of an area, cm2.
    pub fn plants(&self, area_cm2: f64) -> u32 {
        let fits = self.fits(area_cm2);
        ((f64::from(fits) * self.kept_share) as u32).max(fits.min(1))
    }

    /// Days to emerge at a soil temperature, Celsius, straight between those tried; none outside
    /// them and where it does not come up.
    pub fn emerges_after_days(&self, celsius: f64) -> Option<f64> {
        let at = EMERGE_C
            .windows(2)
            .position(|pair| celsius >= pair[0] && celsius <= pair[1])?;
        let [cool, warm] = [self.emerge_days[at]?, self.emerge_days[at + 1]?];
        let part = (celsius - EMERGE_C[at]) / (EMERGE_C[at + 1] - EMERGE_C[at]);
        Some(cool + (warm - cool) * part)
    }
}

/// Area of a round container of a width, cm2.
pub fn round_area_cm2(width_cm: f64) -> f64 {
    PI / 4.0 * width_cm * width_cm
}
