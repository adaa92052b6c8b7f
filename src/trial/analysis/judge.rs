//! What may be said of a comparison, and what more would tell.

use super::super::chance::lambda;
use super::super::power::{Design, USUAL_POWER, each_needed_by};
use super::super::verdict::{Band, Good, Matters, NoVerdict, Verdict, good_difference, good_ratio};
use super::{Analysis, Comparison, Limits, Measure, Scale};

/// A verdict with the numbers that it says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// The verdict.
    pub verdict: Verdict,
    /// The range in the good direction: ratios, or differences in the unit of the measure.
    pub range: [f64; 2],
    /// Whether they are ratios.
    pub is_ratio: bool,
    /// What matters, in the same terms: a share, or a difference.
    pub matters: f64,
    /// Between what nothing matters, in the good direction.
    pub band: Band,
    /// Which direction that is.
    pub good: Good,
    /// Where it cannot be told, what would.
    pub more: Option<More>,
}

impl Judged {
    /// Between what nothing matters, as more and less and not as better and worse: ratios, or
    /// differences.
    pub fn plain_band(&self) -> [f64; 2] {
        self.plain([self.band.worse, self.band.better])
    }

    /// A range in the good direction as it was measured.
    pub fn plain(&self, range: [f64; 2]) -> [f64; 2] {
        if self.is_ratio {
            good_ratio(range, self.good)
        } else {
            good_difference(range, self.good)
        }
    }
}

/// What would tell a difference that matters in four trials of five, with the spread that was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum More {
    /// So many more blocks, or containers of each.
    About(u32),
    /// The plan was large enough for that; chance or a small effect stands in the way.
    Enough,
    /// More than can be grown.
    Beyond,
}

/// The verdict of a comparison that has a range.
pub(super) fn judge(row: &Comparison, measure: &Measure) -> Result<Judged, NoVerdict> {
    let (range, band, matters, is_ratio) = match measure.matters {
        Matters::Difference(matters) => {
            let range = row.change_range.ok_or(NoVerdict::NoDegrees)?;
            let range = good_difference(range, measure.good);
            (range, Band::of_difference(matters), matters, false)
        }
        Matters::Share(matters) => {
            let range = row.ratio_range.ok_or(NoVerdict::ControlNotAboveZero)?;
            let range = good_ratio(range, measure.good);
            (range, Band::of_ratio(matters), matters, true)
        }
    };
    let band = band.ok_or(NoVerdict::NothingMatters)?;
    Ok(Judged {
        verdict: Verdict::of(range, band).ok_or(NoVerdict::NoDegrees)?,
        range,
        is_ratio,
        matters,
        band,
        good: measure.good,
        more: None,
    })
}

/// The control's level, in the unit of the measure.
pub(super) fn of_control(scale: Scale, level: Option<f64>) -> f64 {
    match (scale, level) {
        (_, None) => f64::NAN,
        (Scale::Log, Some(level)) => libm::exp(level),
        // Ratios are of one more.
        (Scale::LogOfOneMore, Some(level)) => libm::exp(level * std::f64::consts::LN_10),
        (Scale::Raw | Scale::Score, Some(level)) => level,
    }
}

/// Blocks, or containers of each, that are missing to tell what matters.
pub(super) fn more_needed(
    analysis: &Analysis,
    measure: &Measure,
    rows: &[Comparison],
    level: Option<f64>,
    counts: &[f64],
    limits: &mut Limits,
) -> Option<More> {
    let open = rows.iter().find_map(|row| match &row.verdict {
        Ok(judged) if judged.verdict == Verdict::CannotTell => Some(judged),
        _ => None,
    })?;
    let difference = match (analysis.scale, open.is_ratio) {
        (Scale::Raw, false) => open.matters,
        (Scale::Raw, true) => {
            let share = match measure.good {
                Good::More => open.matters,
                Good::Less => 1.0 - 1.0 / (1.0 + open.matters),
            };
            share * level?
        }
        (scale, is_ratio) => {
            let share = if is_ratio {
                open.matters
            } else {
                open.matters / of_control(scale, level)
            };
            let log = libm::log1p(share);
            match scale {
                Scale::LogOfOneMore => log / std::f64::consts::LN_10,
                Scale::Raw | Scale::Log | Scale::Score => log,
            }
        }
    };
    // More of a square is another square: told as blocks.
    let design = match measure.design {
        Design::Random => Design::Random,
        Design::Blocks | Design::Latin => Design::Blocks,
    };
    let treatments = rows.iter().filter(|row| row.range.is_some()).count() as u32;
    let most = counts.iter().fold(0.0_f64, |most, count| most.max(*count));
    let lambdas = vec![lambda(1.0, 1.0); treatments as usize];
    let limit = |nu: f64| {
        let (dunnett, limit) = limits.together(&lambdas, nu)?;
        Some((dunnett.clone(), limit))
    };
    let needed = difference / analysis.spread?;
    Some(
        match each_needed_by(design, treatments, needed, USUAL_POWER, limit) {
            None => More::Beyond,
            Some(each) => match each.checked_sub(most as u32).filter(|more| *more > 0) {
                Some(more) => More::About(more),
                None => More::Enough,
            },
        },
    )
}
