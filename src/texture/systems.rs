//! Eight systems of texture classes under one roof: what each class asks, its region, and the size
//! at which each system parts silt from sand.
//!
//! Classes are judged by their conditions, not by their regions: so every texture has exactly one
//! class, edges included. An edge belongs to the side to which the source gives it; where the source
//! leaves that open, a lower end belongs to its class and an upper end to the next.

use crate::figure::within;
use crate::source::Mark;

/// Fractions may miss 100 % by this much, as rounded ones do.
pub const SUM_SLACK_PCT: f64 = 0.5;
/// What is left of binary fractions, %: 100 - 92.7 - 7.3 is a little less than nothing.
const ROUNDING_PCT: f64 = 1e-9;
/// The largest grain of the fine earth, um.
pub const FINE_EARTH_UM: f64 = 2000.0;
/// The largest grain of clay, um, in every one of the systems.
pub const CLAY_UM: f64 = 2.0;

/// A system of texture classes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// United States.
    Usda,
    /// Canada: those of the United States, and a heavy clay.
    Canada,
    /// England and Wales.
    Uk,
    /// Germany.
    Germany,
    /// The soil map of Europe.
    Europe,
    /// The soil map of the world.
    Fao,
    /// The international triangle, as used in Japan.
    International,
    /// Brazil's groups.
    Brazil,
}

impl System {
    /// All of them.
    pub const ALL: [System; 8] = [
        System::Usda,
        System::Canada,
        System::Uk,
        System::Germany,
        System::Europe,
        System::Fao,
        System::International,
        System::Brazil,
    ];

    /// Its id.
    pub fn id(self) -> &'static str {
        match self {
            System::Usda => "usda",
            System::Canada => "canada",
            System::Uk => "uk",
            System::Germany => "germany",
            System::Europe => "europe",
            System::Fao => "fao",
            System::International => "international",
            System::Brazil => "brazil",
        }
    }

    /// The system of an id, in letters of either case.
    ///
    /// ```
    /// use barrowmix::texture::System;
    ///
    /// assert_eq!(System::find("UK"), Some(System::Uk));
    /// assert_eq!(System::find("mars"), None);
    /// ```
    pub fn find(id: &str) -> Option<System> {
        System::ALL
            .into_iter()
            .find(|system| system.id().eq_ignore_ascii_case(id.trim()))
    }

    /// The largest grain of its silt, um, where its sand begins. Read in the sources of its classes;
    /// the international one is that of Atterberg.
    pub fn silt_um(self) -> f64 {
        match self {
            System::International => 20.0,
            System::Uk => 60.0,
            System::Germany => 63.0,
            _ => 50.0,
        }
    }

    /// Its classes, from coarse to fine.
    pub fn classes(self) -> &'static [SystemClass] {
        match self {
            System::Usda => USDA,
            System::Canada => CANADA,
            System::Uk => UK,
            System::Germany => GERMANY,
            System::Europe => EUROPE,
            System::Fao => FAO,
            System::International => INTERNATIONAL,
            System::Brazil => BRAZIL,
        }
    }

    /// How well its classes are known: read in the source, or remembered.
    pub fn mark(self) -> Mark {
        self.classes().first().map_or(Mark::Memory, |of| of.mark)
    }

    /// Where its classes come from.
    pub fn source(self) -> &'static str {
        self.classes().first().map_or("", |of| of.source)
    }
}

/// A class of a system.
#[derive(Debug)]
pub struct SystemClass {
    /// Its id: full words, the same for the same name in every system.
    pub id: &'static str,
    /// Its name in English.
    pub name: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// How well it is known.
    pub mark: Mark,
    /// Corners of its region as clay, silt, sand in percent, in order around.
    pub corners: &'static [[f64; 3]],
    /// What it asks: one of these ways, each with all of its conditions.
    pub ways: &'static [&'static [Ask]],
}

/// What a condition is about, in percent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Clay.
    Clay,
    /// Silt.
    Silt,
    /// Sand.
    Sand,
    /// Silt and one and a half times the clay.
    SiltAndHalfMoreClay,
    /// Silt and twice the clay.
    SiltAndTwiceClay,
}

/// A condition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ask {
    /// What it is about.
    pub of: Quantity,
    /// Not less than this.
    pub low: Option<End>,
    /// Not more than this.
    pub high: Option<End>,
}

/// An end of a condition.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct End {
    /// Whole percent.
    pub pct: u16,
    /// Whether the number itself still belongs.
    pub belongs: bool,
}

include!(concat!(env!("OUT_DIR"), "/systems.rs"));

/// Why fractions have no class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TextureFault {
    /// One of them is not a number: its place among sand, silt, clay.
    NotANumber {
        /// 0 for sand, 1 for silt, 2 for clay.
        at: usize,
    },
    /// One of them is less than 0 or more than 100 %.
    OutOfRange {
        /// 0 for sand, 1 for silt, 2 for clay.
        at: usize,
        /// What was given, %.
        pct: f64,
    },
    /// They do not sum to 100 within [`SUM_SLACK_PCT`].
    Sum {
        /// What they sum to, %.
        pct: f64,
    },
}

/// Sand, silt and clay that sum to 100: what rounding left is shared in proportion.
///
/// ```
/// use barrowmix::texture::{TextureFault, checked};
///
/// assert_eq!(checked([40.0, 40.0, 20.0]), Ok([40.0, 40.0, 20.0]));
/// assert_eq!(checked([40.0, 40.0, 21.0]), Err(TextureFault::Sum { pct: 101.0 }));
/// assert_eq!(checked([f64::NAN, 40.0, 20.0]), Err(TextureFault::NotANumber { at: 0 }));
/// ```
pub fn checked(fractions_pct: [f64; 3]) -> Result<[f64; 3], TextureFault> {
    for (at, pct) in fractions_pct.into_iter().enumerate() {
        if pct.is_nan() {
            return Err(TextureFault::NotANumber { at });
        }
        if !(-ROUNDING_PCT..=100.0 + ROUNDING_PCT).contains(&pct) {
            return Err(TextureFault::OutOfRange { at, pct });
        }
    }
    let fractions_pct = fractions_pct.map(|pct| within(pct, 0.0, 100.0));
    let sum: f64 = fractions_pct.iter().sum();
    // A thousandth is what classes are judged to.
    if (sum - 100.0).abs() > SUM_SLACK_PCT + 0.0005 {
        return Err(TextureFault::Sum { pct: sum });
    }
    if (sum - 100.0).abs() < ROUNDING_PCT {
        return Ok(fractions_pct);
    }
    Ok(fractions_pct.map(|pct| pct * (100.0 / sum)))
}

/// The class of sand, silt and clay, %, in a system, by that system's own limits of size (see
/// [`convert`](fn@super::convert)). Values are judged to a thousandth, so that binary fractions do not
/// move an edge.
///
/// ```
/// use barrowmix::texture::{System, classify_in};
///
/// let class = classify_in([20.0, 20.0, 60.0], System::Canada).expect("it sums to 100");
/// assert_eq!(class.id, "clay"); // its heavy clay begins above 60
/// let class = classify_in([28.1, 41.9, 30.0], System::Germany).expect("it sums to 100");
/// assert_eq!(class.id, "slightly_clayey_loam");
/// assert!(classify_in([28.1, 41.9, 35.0], System::Germany).is_err());
/// ```
pub fn classify_in(
    fractions_pct: [f64; 3],
    system: System,
) -> Result<&'static SystemClass, TextureFault> {
    let [_, silt, clay] = checked(fractions_pct)?;
    let place = Place::of(silt, clay);
    let classes = system.classes();
    let found = classes.iter().find(|class| class.has(&place));
    // The build proves that one class asks for every place.
    Ok(found.unwrap_or(&classes[classes.len() - 1]))
}

/// A texture in half thousandths of a percent, so that conditions are whole numbers.
struct Place {
    silt: i64,
    clay: i64,
}

impl Place {
    fn of(silt_pct: f64, clay_pct: f64) -> Place {
        let thousandths = |pct: f64| (pct * 1000.0).round() as i64;
        let clay = thousandths(clay_pct);
        // Both may have been rounded up.
        let silt = thousandths(silt_pct).min(100_000 - clay);
        Place {
            silt: 2 * silt,
            clay: 2 * clay,
        }
    }

    fn value(&self, of: Quantity) -> i64 {
        match of {
            Quantity::Clay => self.clay,
            Quantity::Silt => self.silt,
            Quantity::Sand => 200_000 - self.silt - self.clay,
            Quantity::SiltAndHalfMoreClay => self.silt + self.clay + self.clay / 2,
            Quantity::SiltAndTwiceClay => self.silt + 2 * self.clay,
        }
    }
}

impl Ask {
    fn is_met(&self, place: &Place) -> bool {
        let value = place.value(self.of);
        let at = |end: End| 2000 * i64::from(end.pct);
        let above = |end: End| value > at(end) || (end.belongs && value == at(end));
        let below = |end: End| value < at(end) || (end.belongs && value == at(end));
        self.low.is_none_or(above) && self.high.is_none_or(below)
    }
}

impl SystemClass {
    fn has(&self, place: &Place) -> bool {
        let asks = |way: &&[Ask]| way.iter().all(|ask| ask.is_met(place));
        self.ways.iter().any(asks)
    }
}
