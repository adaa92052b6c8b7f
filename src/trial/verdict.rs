//! A range and the difference that matters in, a verdict out.

/// The smallest difference that matters, said before anything is sown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Matters {
    /// As a share of the control, such as 0.2.
    Share(f64),
    /// In the unit of the measure, such as 0.1 g/cm3.
    Difference(f64),
}

/// What is usually taken to matter of a yield, as a share (common practice).
pub const YIELD_MATTERS: f64 = 0.2;
/// Of an infiltration.
pub const INFILTRATION_MATTERS: f64 = 0.3;
/// Of a bulk density, g/cm3.
pub const DENSITY_MATTERS_G_CM3: f64 = 0.1;
/// Of a pH.
pub const PH_MATTERS: f64 = 0.5;

/// Which way is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Good {
    /// More, such as a harvest.
    More,
    /// Less, such as the minutes that water takes.
    Less,
}

/// What a range says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Helped, by at least what matters.
    HelpedAtLeast,
    /// Helped, but by less than what matters.
    HelpedLess,
    /// Helped; how much is uncertain.
    HelpedUncertain,
    /// No difference that matters, either way.
    NoDifference,
    /// Harmed, by at least about what matters.
    HarmedAtLeast,
    /// Harmed, but by less than what matters.
    HarmedLess,
    /// Harmed; how much is uncertain.
    HarmedUncertain,
    /// Cannot tell.
    CannotTell,
}

/// Why there is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoVerdict {
    /// One container of the treatment or of the control.
    OneContainer,
    /// Nothing tells the spread between containers.
    NoDegrees,
    /// Containers treated alike differ in no digit.
    NoSpread,
    /// No container of the treatment is left.
    Lost,
    /// No container of the control is left.
    NoControl,
    /// It shares no block with the control.
    Apart,
    /// Scores have an order, and no sizes.
    Score,
    /// Some readings are limits alone.
    Limits,
    /// Every container read nothing.
    AllNothing,
    /// No container of the treatment is read yet.
    NotRead,
    /// No container of the control is read yet.
    ControlNotRead,
    /// Nobody said how many seeds were sown in each container.
    NotSown,
    /// Shares of a control that is not above nothing.
    ControlNotAboveZero,
    /// The difference that matters is not above nothing.
    NothingMatters,
}

/// Limits of what matters around no difference.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// A loss that matters.
    pub worse: f64,
    /// No difference.
    pub nothing: f64,
    /// A gain that matters.
    pub better: f64,
}

impl Band {
    /// Of ratios to the control; a loss is the gain undone. None if it is not above nothing.
    pub fn of_ratio(share: f64) -> Option<Band> {
        (share > 0.0 && share < f64::INFINITY).then(|| Band {
            worse: 1.0 / (1.0 + share),
            nothing: 1.0,
            better: 1.0 + share,
        })
    }

    /// Of differences from the control.
    pub fn of_difference(difference: f64) -> Option<Band> {
        (difference > 0.0 && difference < f64::INFINITY).then_some(Band {
            worse: -difference,
            nothing: 0.0,
            better: difference,
        })
    }
}

impl Verdict {
    /// Of a range in the good direction. "No difference" needs the whole range inside of what
    /// matters: that nothing was found never says it. None of what is no range.
    pub fn of([low, high]: [f64; 2], band: Band) -> Option<Verdict> {
        if low.is_nan() || high.is_nan() || low > high {
            return None;
        }
        Some(if low > band.nothing {
            if low >= band.better {
                Verdict::HelpedAtLeast
            } else if high < band.better {
                Verdict::HelpedLess
            } else {
                Verdict::HelpedUncertain
            }
        } else if high < band.nothing {
            if high < band.worse {
                Verdict::HarmedAtLeast
            } else if low > band.worse {
                Verdict::HarmedLess
            } else {
                Verdict::HarmedUncertain
            }
        } else if low > band.worse && high < band.better {
            Verdict::NoDifference
        } else {
            Verdict::CannotTell
        })
    }

    /// A name for files and programs.
    pub fn code(self) -> &'static str {
        match self {
            Verdict::HelpedAtLeast => "helped_at_least_d",
            Verdict::HelpedLess => "helped_less_than_d",
            Verdict::HelpedUncertain => "helped_amount_uncertain",
            Verdict::NoDifference => "no_difference_that_matters",
            Verdict::HarmedAtLeast => "harmed_at_least_d",
            Verdict::HarmedLess => "harmed_less_than_d",
            Verdict::HarmedUncertain => "harmed_amount_uncertain",
            Verdict::CannotTell => "cannot_tell",
        }
    }

    /// Whether it says that the treatment did something.
    pub fn tells_an_effect(self) -> bool {
        !matches!(self, Verdict::NoDifference | Verdict::CannotTell)
    }
}

/// A range of ratios in the good direction: turned over where less is better.
pub fn good_ratio([low, high]: [f64; 2], good: Good) -> [f64; 2] {
    /// What is left of a ratio that would be turned over at or below nothing.
    fn over(ratio: f64) -> f64 {
        if ratio > 0.0 {
            1.0 / ratio
        } else {
            f64::INFINITY
        }
    }
    match good {
        Good::More => [low, high],
        Good::Less => [over(high), over(low)],
    }
}

/// A range of differences in the good direction.
pub fn good_difference([low, high]: [f64; 2], good: Good) -> [f64; 2] {
    match good {
        Good::More => [low, high],
        Good::Less => [-high, -low],
    }
}
