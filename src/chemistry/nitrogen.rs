//! Nitrogen of the first year: what each addition sets free, what wood locks up, what would offset
//! that, and what the ground itself gives.

use super::nutrients::freed_nitrogen;
use crate::figure::{Ends, within};
use crate::quantity::Unit;

/// Masses are held within these, kg (a choice: more than any garden).
const MASS_LIMITS_KG: (f64, f64) = (0.0, 1e9);
/// Carbon over nitrogen below which a mix does not rob plants; what is added is added up to it
/// (common practice: 25 to 30).
pub const TARGET_RATIO: f64 = 25.0;

/// Carbon and nitrogen of one addition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// Carbon, kg.
    pub carbon_kg: f64,
    /// Nitrogen, kg.
    pub nitrogen_kg: f64,
    /// Share of both that decays in the time looked at, 0 to 1.
    pub decayed: f64,
}

impl Stock {
    fn held(&self) -> [f64; 2] {
        let (low, high) = MASS_LIMITS_KG;
        [self.carbon_kg, self.nitrogen_kg].map(|kg| within(kg, low, high))
    }

    /// Nitrogen that it sets free, kg; below nothing it takes up as much.
    pub fn freed_kg(&self) -> f64 {
        let [carbon, nitrogen] = self.held();
        freed_nitrogen(carbon, nitrogen, within(self.decayed, 0.0, 1.0))
    }
}

/// What all of them set free together, kg; below nothing they lock up as much.
pub fn balance_kg(stocks: &[Stock]) -> f64 {
    stocks.iter().map(Stock::freed_kg).sum()
}

/// Nitrogen that offsets what is locked up in the time looked at, kg; nothing where some is freed.
pub fn to_offset_kg(stocks: &[Stock]) -> f64 {
    (-balance_kg(stocks)).max(0.0)
}

/// Nitrogen that brings all of them to [`TARGET_RATIO`], kg: more than is locked up in a year, for
/// as long as they decay.
pub fn to_target_kg(stocks: &[Stock]) -> f64 {
    let [carbon, nitrogen] = sums(stocks);
    (carbon / TARGET_RATIO - nitrogen).max(0.0)
}

fn sums(stocks: &[Stock]) -> [f64; 2] {
    let mut sums = [0.0; 2];
    for stock in stocks {
        for (sum, kg) in sums.iter_mut().zip(stock.held()) {
            *sum += kg;
        }
    }
    sums
}

/// Carbon over nitrogen of all together, never the mean of theirs; `None` without nitrogen.
pub fn carbon_to_nitrogen(stocks: &[Stock]) -> Option<f64> {
    let [carbon, nitrogen] = sums(stocks);
    (nitrogen > 0.0).then(|| carbon / nitrogen)
}

/// What gives its nitrogen over years.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Release {
    /// Manure that was not composted.
    FreshManure,
    /// Compost, and manure that was composted.
    Compost,
}

impl Release {
    /// Nitrogen set free in a year after it was given, the first being 1, % of all that it had
    /// (Colorado State University extension, GardenNotes, second-hand; after the last as in it).
    pub fn of_year_pct(self, year: u32) -> Ends {
        let years = match self {
            Release::FreshManure => [[30.0, 50.0], [15.0, 25.0], [7.0, 12.0], [3.0, 6.0]],
            Release::Compost => [[5.0, 25.0], [3.0, 12.0], [1.0, 6.0], [1.0, 6.0]],
        };
        let index = (year.max(1) - 1).min(3) as usize;
        let [low, high] = years[index];
        Ends { low, high }
    }
}

/// Nitrogen that a finished compost sets free in its first year by its carbon over nitrogen, % of
/// all that it has; below nothing it takes up (a table of Oregon State University, EM 9217, from
/// memory). `None` above 30, where it locks up what it finds, and for what is no ratio.
pub fn of_compost_pct(ratio: f64) -> Option<Ends> {
    let [low, high] = match ratio {
        ratio if (0.0..10.0).contains(&ratio) => [15.0, 25.0],
        ratio if (10.0..15.0).contains(&ratio) => [5.0, 15.0],
        ratio if (15.0..20.0).contains(&ratio) => [0.0, 5.0],
        ratio if (20.0..=30.0).contains(&ratio) => [-5.0, 0.0],
        _ => return None,
    };
    Some(Ends { low, high })
}

/// Nitrogen that a percent of organic matter gives in a year, pounds to an acre (common practice).
const NATIVE_LB_ACRE: [f64; 2] = [10.0, 20.0];

/// Nitrogen that the ground's own organic matter gives in a year, kg/m2, of that in %: a check on the
/// years, not used for a figure.
pub fn native_kg_m2(organic_matter_pct: f64) -> Ends {
    let pound_acre = Unit::Pound.factor() / Unit::Acre.factor();
    let pct = within(organic_matter_pct, 0.0, 100.0);
    let [low, high] = NATIVE_LB_ACRE.map(|pounds| pounds * pound_acre * pct);
    Ends { low, high }
}

/// Potassium of greensand that plants can take in its first year, % of its mass (from memory): next
/// to none of the 5 to 7 % of K2O in it dissolves.
pub const GREENSAND_POTASSIUM_PCT: Ends = Ends {
    low: 0.0,
    high: 0.1,
};
