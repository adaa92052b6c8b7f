//! Crumbs in rain water: whether clay holds together by itself, and what that says of its sodium
//! (modified Emerson test of the Soil Quality Knowledge Base, Western Australia; a laboratory method
//! of New South Wales reads it at 2 and 20 hours).

use super::Trait;
use crate::figure::Figure;

/// Most milkiness that is told apart: none, a haze, a halo, a strong one, all of the crumb.
pub const SCORE_MOST: u8 = 4;
/// What crumbs that go milky by themselves count more than crumbs that were worked wet.
const BY_ITSELF: u8 = 8;

/// How milky the water is after 2 and after 20 hours, each from 0 to 4.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Milkiness {
    /// After two hours.
    pub at_2h: u8,
    /// After twenty.
    pub at_20h: u8,
}

impl Milkiness {
    fn sum(self) -> Result<u8, DispersionFault> {
        for score in [self.at_2h, self.at_20h] {
            if score > SCORE_MOST {
                return Err(DispersionFault::Outside {
                    score,
                    most: SCORE_MOST,
                });
            }
        }
        Ok(self.at_2h + self.at_20h)
    }
}

/// What cannot be read as a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DispersionFault {
    /// A score beyond the scale.
    Outside {
        /// As given.
        score: u8,
        /// The most.
        most: u8,
    },
    /// Crumbs as they are stay clear, so they are to be worked wet and tried again.
    WorkWet,
}

/// What the index means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dispersion {
    /// It holds together, worked or not: 0 to 2.
    Stable,
    /// It goes milky only after it was worked wet: 3 to 8.
    OnlyWorked,
    /// It goes milky by itself: 9 to 12.
    ByItself,
    /// All of it does: 13 to 16.
    Severe,
}

/// Index from 0 to 16 of crumbs as they are, and of balls worked wet where those stay clear.
pub fn index(natural: Milkiness, worked: Option<Milkiness>) -> Result<u8, DispersionFault> {
    let natural = natural.sum()?;
    if natural > 0 {
        return Ok(natural + BY_ITSELF);
    }
    worked.ok_or(DispersionFault::WorkWet)?.sum()
}

impl Dispersion {
    /// Every one, from the firmest.
    pub const ALL: [Dispersion; 4] = [
        Dispersion::Stable,
        Dispersion::OnlyWorked,
        Dispersion::ByItself,
        Dispersion::Severe,
    ];

    /// By the index.
    pub fn of_index(index: u8) -> Dispersion {
        match index {
            0..=2 => Dispersion::Stable,
            3..=8 => Dispersion::OnlyWorked,
            9..=12 => Dispersion::ByItself,
            _ => Dispersion::Severe,
        }
    }

    /// Sodium of the capacity, %, that such crumbs may have (a choice: salt, magnesium and little
    /// humus disperse clay as well, so the ranges are wide).
    pub fn sodium_pct(self) -> Figure {
        match self {
            Dispersion::Stable => Figure::between(0.3, 1.0, 4.0),
            Dispersion::OnlyWorked => Figure::between(0.5, 2.0, 6.0),
            Dispersion::ByItself => Figure::between(5.0, 9.0, 15.0),
            Dispersion::Severe => Figure::between(10.0, 18.0, 35.0),
        }
    }

    /// What crumbs a ground's sodium was guessed from; none where it was not.
    pub fn of_sodium(sodium_pct: Figure) -> Option<Dispersion> {
        let mut all = Dispersion::ALL.into_iter();
        all.find(|of| of.sodium_pct() == sodium_pct)
    }

    /// The trait that it sets, where no laboratory has measured it.
    pub const TRAIT: Trait = Trait::SodiumShare;
}

/// What vinegar does on dry soil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fizz {
    /// Nothing.
    None,
    /// A few bubbles.
    Weak,
    /// Many bubbles.
    Strong,
}

impl Fizz {
    /// Every one.
    pub const ALL: [Fizz; 3] = [Fizz::None, Fizz::Weak, Fizz::Strong];

    /// How it is spelled in a form.
    pub fn id(self) -> &'static str {
        match self {
            Fizz::None => "none",
            Fizz::Weak => "weak",
            Fizz::Strong => "strong",
        }
    }

    /// Carbonate that fizzes so, % (a choice; dolomite fizzes less than its carbonate).
    pub fn carbonate_pct(self) -> Figure {
        match self {
            Fizz::None => Figure::between(0.0, 0.0, 0.3),
            Fizz::Weak => Figure::between(0.5, 1.0, 2.0),
            Fizz::Strong => Figure::between(2.0, 5.0, 15.0),
        }
    }
}
