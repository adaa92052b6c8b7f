//! The user's own guess beside what happened.

use super::analysis::{Analysis, Judged};
use super::plan::{Guess, Trial, Way};
use super::seen::Seen;

/// What became of a guess.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// It went that way; or there was no difference that matters, as guessed.
    Right,
    /// It went the other way.
    OtherWay,
    /// There was no difference that matters, and one was guessed.
    Nothing,
    /// There was a difference that matters, and none was guessed.
    Something,
    /// The range leaves it open.
    Open,
    /// There is no range, so nothing is told.
    NoRange,
}

/// A guess beside what happened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guessed {
    /// Which treatment.
    pub treatment: usize,
    /// What was guessed.
    pub guess: Guess,
    /// Against the control, as it is drawn: see [`super::seen::Differences`]. None of scores.
    pub estimate: Option<f64>,
    /// And its range.
    pub range: Option<[f64; 2]>,
    /// Whether both are percent of the control.
    pub in_percent: bool,
    /// Decimals that they are told with, where they are not.
    pub decimals: usize,
    /// Middle scores of the treatment and the control, where there are no sizes.
    pub middles: Option<[f64; 2]>,
    /// What became of the way.
    pub held: Held,
    /// Whether the percentage that was guessed lies in the range; none where none was guessed, or
    /// there is no range of percentages.
    pub by_held: Option<bool>,
}

/// Every guess of a trial beside what happened. Guesses are of the measure that decides: of any
/// other there are none.
pub fn guessed(trial: &Trial, id: &str, seen: &Seen, analysis: &Analysis) -> Vec<Guessed> {
    if trial.primary.as_deref() != Some(id) || !seen.has_control {
        return Vec::new();
    }
    let differences = seen.differences(analysis);
    let median = |treatment: usize| analysis.groups.get(treatment)?.median;
    let rows = analysis.comparisons.iter();
    rows.filter_map(|row| {
        let guess = trial.treatments.get(row.treatment)?.guess?;
        let mut drawn = differences.rows.iter();
        let drawn = drawn.find(|(treatment, ..)| *treatment == row.treatment);
        // One container each has no range that means anything.
        let judged = row.verdict.as_ref().ok();
        let range = drawn.and_then(|(.., range)| *range);
        let range = range.filter(|_| judged.is_some());
        let held = match (judged, range) {
            (Some(judged), Some(range)) => {
                let band = judged.plain_band();
                held(guess.way, range, plain(band, judged))
            }
            _ => Held::NoRange,
        };
        Some(Guessed {
            treatment: row.treatment,
            guess,
            estimate: drawn.map(|(_, estimate, _)| *estimate),
            range,
            in_percent: differences.in_percent,
            decimals: differences.decimals,
            middles: match drawn {
                Some(_) => None,
                None => median(row.treatment)
                    .zip(median(seen.asked.control))
                    .map(|(own, control)| [own, control]),
            },
            held,
            by_held: by_held(&guess, row.ratio_range.filter(|_| judged.is_some())),
        })
    })
    .collect()
}

/// A band as differences are drawn.
fn plain(band: [f64; 2], judged: &Judged) -> [f64; 2] {
    if judged.is_ratio {
        band.map(|ratio| 100.0 * (ratio - 1.0))
    } else {
        band
    }
}

fn held(way: Way, [low, high]: [f64; 2], [worse, better]: [f64; 2]) -> Held {
    let within = low > worse && high < better;
    let beyond = low >= better || high <= worse;
    let (more, less) = (low > 0.0, high < 0.0);
    match way {
        Way::More if more => Held::Right,
        Way::Less if less => Held::Right,
        Way::More if less => Held::OtherWay,
        Way::Less if more => Held::OtherWay,
        Way::Same if within => Held::Right,
        Way::Same if beyond => Held::Something,
        Way::Same => Held::Open,
        Way::More | Way::Less if within => Held::Nothing,
        Way::More | Way::Less => Held::Open,
    }
}

/// Whether a guessed percentage lies within a range of ratios.
fn by_held(guess: &Guess, range: Option<[f64; 2]>) -> Option<bool> {
    let [low, high] = range?;
    let by = guess.by_pct.filter(|by| *by > 0.0)? / 100.0;
    let ratio = match guess.way {
        Way::More => 1.0 + by,
        Way::Less => 1.0 - by,
        Way::Same => return None,
    };
    Some(ratio >= low && ratio <= high)
}
