//! How organic matter that was added decays: two pools for each kind of material.

use crate::figure::{Figure, within};
use crate::material::Group;

/// Temperature of the rates, C.
pub const AT_C: f64 = 12.0;
/// Decay doubles with so many degrees (common practice: 10).
const DOUBLES_OVER_C: f64 = 10.0;
/// A pool that is gone within weeks; what a year leaves of it is below any digit.
const FASTEST: f64 = 50.0;

/// How much faster decay is than at 12 C; in lasting frost nothing decays, as of a soil's own.
pub fn warmth(mean_c: f64) -> f64 {
    if mean_c <= 0.0 {
        return 0.0;
    }
    libm::exp2((mean_c - AT_C) / DOUBLES_OVER_C)
}

/// Organic matter in two pools, rates at 12 C and moist.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pools {
    /// Share of the fast pool.
    pub fast_share: f64,
    /// Its loss a year, continuous.
    pub fast_per_year: f64,
    /// Loss of the rest a year, continuous.
    pub slow_per_year: f64,
}

impl Pools {
    /// Share that is left after so many years.
    pub fn left(&self, years: f64, warmth: f64) -> f64 {
        let of = |rate: f64| libm::exp(-rate * warmth * years);
        self.fast_share * of(self.fast_per_year) + (1.0 - self.fast_share) * of(self.slow_per_year)
    }

    /// Pools of which so much is left after a year at 12 C. The share of the fast pool gives way
    /// first; where it cannot, the rate does.
    pub fn of([fast_per_year, slow_per_year]: [f64; 2], kept_after_year_1: f64) -> Pools {
        let [fast, slow] = [fast_per_year, slow_per_year].map(|rate| libm::exp(-rate));
        let rate = || within(-libm::log(kept_after_year_1.max(1e-30)), 0.0, FASTEST);
        let fast_share = (slow - kept_after_year_1) / (slow - fast);
        if fast_share <= 0.0 {
            Pools {
                fast_share: 0.0,
                fast_per_year,
                slow_per_year: rate(),
            }
        } else if fast_share >= 1.0 {
            Pools {
                fast_share: 1.0,
                fast_per_year: rate(),
                slow_per_year,
            }
        } else {
            Pools {
                fast_share,
                fast_per_year,
                slow_per_year,
            }
        }
    }
}

/// Rates of char (Wang, Xiong & Kuzyakov 2016, GCB Bioenergy 8:512-523: 3 % with a mean residence
/// of 108 days, 97 % with one of 556 years).
pub const CHAR_RATES: [f64; 2] = [365.25 / 108.0, 1.0 / 556.0];

/// What is kept after a year, and the fast and slow rate that go with it, from the most to the
/// least; between two lines what lies between. The slow rate of composts is that of the insoluble
/// part of composted cattle manures (Hadas & Portnoy 1994, J. Environ. Qual. 23:1184: 4-5e-4 a day
/// at 30 C) brought to 12 C; all others are common practice.
type Ladder = &'static [[f64; 3]];
const COMPOST_MANURE: Ladder = &[[0.80, 1.5, 0.05], [0.69, 1.5, 0.06], [0.33, 5.0, 0.20]];
const PEAT_COIR: Ladder = &[[0.95, 1.0, 0.04], [0.92, 1.0, 0.06]];
const BARK_WOOD_STRAW: Ladder = &[[0.90, 1.0, 0.08], [0.76, 1.0, 0.15], [0.41, 2.0, 0.20]];
const MEAL: Ladder = &[[0.33, 5.0, 0.20]];

/// What is kept after a year where a material does not say (common practice).
fn usual_kept(group: Group) -> f64 {
    match group {
        Group::Char => 0.97,
        Group::PeatCoir => 0.90,
        Group::BarkWoodStraw => 0.78,
        Group::Meal | Group::Liquid => 0.28,
        _ => 0.75,
    }
}

/// The rates of a kind of material of which so much is kept.
fn rates(group: Group, kept: f64) -> [f64; 2] {
    let ladder = match group {
        Group::PeatCoir => PEAT_COIR,
        Group::BarkWoodStraw => BARK_WOOD_STRAW,
        Group::Meal | Group::Liquid => MEAL,
        _ => COMPOST_MANURE,
    };
    let [mut from, mut fast, mut slow] = ladder[0];
    for &[to, to_fast, to_slow] in &ladder[1..] {
        let way = within((from - kept) / (from - to), 0.0, 1.0);
        if way < 1.0 {
            return [fast + way * (to_fast - fast), slow + way * (to_slow - slow)];
        }
        [from, fast, slow] = [to, to_fast, to_slow];
    }
    [fast, slow]
}

/// The pools of a material's organic matter: at the low end of what is kept, typically, and at the
/// high end. None where it is humus, which decays as a soil's own.
pub fn pools(group: Group, kept_after_year_1_pct: Option<Figure>) -> Option<[Pools; 3]> {
    let is_humus = !group.is_organic() && group != Group::Liquid;
    if is_humus && kept_after_year_1_pct.is_none() {
        return None;
    }
    // What a char is said to keep is said of the char.
    let kept = kept_after_year_1_pct.filter(|_| group != Group::Char);
    let usual = if group == Group::Char {
        Group::CompostManure
    } else {
        group
    };
    let kept = kept.unwrap_or(Figure::exact(100.0 * usual_kept(usual)));
    Some(at_ends(rates(usual, kept.typical * 0.01), kept))
}

/// The pools of a material's char. Only a char says what it keeps.
pub fn char_pools(group: Group, kept_after_year_1_pct: Option<Figure>) -> [Pools; 3] {
    let kept = kept_after_year_1_pct.filter(|_| group == Group::Char);
    let kept = kept.unwrap_or(Figure::exact(100.0 * usual_kept(Group::Char)));
    at_ends(CHAR_RATES, kept)
}

fn at_ends(rates: [f64; 2], kept: Figure) -> [Pools; 3] {
    let ends = kept.ends();
    [ends.low, kept.typical, ends.high].map(|pct| Pools::of(rates, pct * 0.01))
}
