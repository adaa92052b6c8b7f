//! Where the sliders of the lectern end, and how far they go at a move.

use super::{Moved, Shown, Step};
use crate::ground::Trait;
use crate::quantity::Dimension;
use crate::recipe::Recipe;

/// Ends and moves of a slider.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// Least.
    pub least: f64,
    /// Most.
    pub most: f64,
    /// A move; nothing if no round move meets all numbers of the story.
    pub step: Option<f64>,
}

/// Ends of what the ground has (a choice: what gardens have, with room to spare).
const CLAY_ENDS_PCT: [f64; 2] = [0.0, 90.0];
const ORGANIC_ENDS_PCT: [f64; 2] = [0.0, 15.0];
const PH_ENDS: [f64; 2] = [4.0, 9.0];
/// Least end of a share, %.
const SHARE_END_PCT: f64 = 90.0;
/// Where a slider ends that has no number to go by.
const SOME: f64 = 10.0;
/// Fewest and most moves from end to end (a choice: a hand does not feel finer ones).
const MOVES: f64 = 80.0;
const MOVES_LIMIT: f64 = 2000.0;
/// How near a number is to a move's multiple to be one, as a share of the move.
const NEAR: f64 = 1e-6;

/// Ends of the slider: the same in all steps of a sequence, and all their numbers among its moves.
pub fn ends(moved: Moved, now: &Recipe, base: &Recipe, steps: &[Step]) -> Ends {
    let mut numbers: Vec<f64> = moved.number(now).into_iter().collect();
    let unit = moved.unit(now);
    for step in steps {
        if let Ok(recipe) = step.recipe(base)
            && moved.unit(&recipe) == unit
        {
            numbers.extend(moved.number(&recipe));
        }
    }
    let largest = numbers.iter().copied().fold(0.0, f64::max);
    let [least, most] = match moved {
        Moved::Ground(Trait::Clay) => CLAY_ENDS_PCT,
        Moved::Ground(Trait::Ph) => PH_ENDS,
        Moved::Ground(_) => ORGANIC_ENDS_PCT,
        Moved::Amount(_) => match unit.map(crate::quantity::Unit::dimension) {
            Some(Dimension::ShareOfVolume | Dimension::ShareOfMass) => {
                [0.0, largest.max(SHARE_END_PCT)]
            }
            _ if largest > 0.0 => [0.0, 2.0 * largest],
            _ => [0.0, SOME],
        },
    };
    // A ground beyond the usual ends moves them.
    let [least, most] = numbers.iter().fold([least, most], |[low, high], number| {
        [low.min(number.floor()), high.max(number.ceil())]
    });
    round(least, most, &numbers)
}

/// Ends with a round move that meets the least, the numbers and the most; the most grows to it.
fn round(least: f64, most: f64, numbers: &[f64]) -> Ends {
    let across = most - least;
    let met = |step: f64| {
        let mut all = numbers.iter().chain([&least]);
        all.all(|number| {
            let moves = number / step;
            (moves - moves.round()).abs() < NEAR
        })
    };
    let mut rounds = ROUND.iter().rev().copied();
    let step = rounds.find(|step| {
        let moves = across / step;
        (MOVES..=MOVES_LIMIT).contains(&moves) && met(*step)
    });
    let most = step.map_or(most, |step| (most / step - NEAR).ceil() * step);
    Ends {
        least,
        // Ten digits, so that a step of a tenth leaves no binary remainder.
        most: crate::words::round_significant(most, 10),
        step,
    }
}

/// Round moves.
const ROUND: [f64; 31] = [
    1e-4, 2e-4, 5e-4, 1e-3, 2e-3, 5e-3, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0,
    50.0, 100.0, 200.0, 500.0, 1e3, 2e3, 5e3, 1e4, 2e4, 5e4, 1e5, 2e5, 5e5, 1e6,
];

impl Shown {
    /// Ends of a guess of this figure; none where its unit is the reader's choice or it is a word.
    pub fn guess_ends(self) -> Option<Ends> {
        // Choices: beyond what a blend can have, but not so far that the middle says nothing.
        let (least, most, step) = match self {
            Shown::Pores | Shown::PotWater => (0.0, 100.0, 1.0),
            Shown::Air | Shown::PotAir => (0.0, 60.0, 1.0),
            Shown::PlantWater => (0.0, 40.0, 1.0),
            Shown::Organic => (0.0, 20.0, 0.1),
            Shown::Sodium => (0.0, 30.0, 1.0),
            Shown::Salt => (0.0, 8.0, 0.1),
            Shown::Ph => (3.0, 10.0, 0.1),
            Shown::Density | Shown::Drainage | Shown::WetLayer => return None,
        };
        let step = Some(step);
        Some(Ends { least, most, step })
    }

    /// Those that can be guessed.
    pub fn guessable() -> Vec<Shown> {
        let all = Shown::ALL.iter().copied();
        all.filter(|shown| shown.guess_ends().is_some()).collect()
    }
}
