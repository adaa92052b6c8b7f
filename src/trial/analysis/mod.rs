//! One measure in, everything out: what each treatment read, how it differs from the control, and
//! what may be said of it. Everything is at one level: 95 % for all comparisons together.

mod apart;
mod group;
mod judge;
mod read;
mod versus;

pub use super::limits::Limits;
pub use group::{Back, Group};
pub use judge::{Judged, More};
pub use versus::{Comparison, Method};

use super::compare::{Blocking, worth_of_blocks};
use super::fit::{Fit, NoFit, Point};
use super::permute::{Permutation, Question};
use super::power::Design;
use super::ranks::{RankTest, friedman, kruskal, mid_ranks};
use super::verdict::{Good, Matters};
use read::Read;

/// Degrees of freedom up to which a range is said to rest on few containers.
const FEW_DEGREES: usize = 5;

/// What is compared: logarithms where treatments multiply, such as masses, times and rates.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// As read.
    Raw,
    /// Natural logarithms.
    Log,
    /// log10(x + 1), for counts with zeros.
    LogOfOneMore,
    /// An order without sizes, such as vigour from 1 to 5.
    Score,
}

/// Whether a reading is a limit alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// It is the value.
    No,
    /// The value is above it, such as more than 480 minutes.
    Above,
    /// The value is below it.
    Below,
}

/// One container's reading; several readings of one container are averaged before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Which treatment.
    pub treatment: usize,
    /// Which block.
    pub block: Option<u32>,
    /// Which row of a square.
    pub row: Option<u32>,
    /// Which column of a square.
    pub column: Option<u32>,
    /// What was read; no number where the container was lost, and never 0 for that.
    pub value: f64,
    /// Whether it is a limit alone.
    pub limit: Limit,
}

/// What is measured, and how the containers stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// How containers stand.
    pub design: Design,
    /// How many treatments there are, with the control.
    pub treatments: usize,
    /// Which is the control.
    pub control: usize,
    /// What is compared.
    pub scale: Scale,
    /// The smallest difference that matters.
    pub matters: Matters,
    /// Which way is better.
    pub good: Good,
}

/// Why a measure is not analysed; readings by their place in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// No container was read.
    NoReadings,
    /// There is no such treatment, nor control.
    NoSuchTreatment(usize),
    /// The control is none of the treatments.
    NoSuchControl,
    /// It does not say its block, or its row and column.
    NoPlace(usize),
    /// It has no end.
    NotFinite(usize),
    /// So many treatments and blocks are no trial.
    TooLarge,
}

/// What must be said beside the figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Note {
    /// So many containers were lost.
    Lost(usize),
    /// So many containers are not measured yet.
    NotRead(usize),
    /// The difference that matters was said after the measure was read.
    SaidLate,
    /// So many readings are limits alone, so that nothing is averaged.
    Limits(usize),
    /// Some read nothing, and nothing has no logarithm: compared as read.
    ZeroHasNoLogarithm,
    /// Some read less than nothing: compared as read.
    NegativeHasNoLogarithm,
    /// Ratios are of one more than was counted.
    OneMore,
    /// Ratios take the control's mean as exact.
    ControlTakenAsExact,
    /// So many degrees of freedom: few containers.
    Few(usize),
    /// The blocks are not complete, so the limit is not exact.
    Approximate,
    /// The widest spread is so many times the narrowest, more than chance does.
    SpreadsDiffer(f64),
}

/// A line of the table of variance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Degrees of freedom.
    pub degrees: usize,
    /// Sum of squares.
    pub squares: f64,
    /// F and its chance; none without a spread.
    pub f: Option<[f64; 2]>,
}

/// The table of variance, a footnote: comparisons do not wait for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Table {
    /// Treatments.
    pub treatments: Line,
    /// Blocks, or rows of a square.
    pub blocks: Option<Line>,
    /// Columns of a square.
    pub columns: Option<Line>,
    /// Degrees of freedom that are left.
    pub error_degrees: usize,
    /// Squares that are left.
    pub error_squares: f64,
    /// The mean of all readings, on the scale that is compared.
    pub mean: f64,
}

/// What a measure shows.
#[derive(Clone, Debug)]
pub struct Analysis {
    /// The scale that is compared, which may not be the one that was asked for.
    pub scale: Scale,
    /// Readings that there are.
    pub readings: usize,
    /// By treatment.
    pub groups: Vec<Group>,
    /// The table of variance; none of scores and limits.
    pub table: Option<Table>,
    /// The spread between containers treated alike, on the scale that is compared.
    pub spread: Option<f64>,
    /// The same as a share of the mean.
    pub cv: Option<f64>,
    /// The limit of |t| for all comparisons together.
    pub critical: Option<f64>,
    /// Of all treatments but the control.
    pub comparisons: Vec<Comparison>,
    /// What complete blocks were worth.
    pub blocking: Option<Blocking>,
    /// The test by ranks.
    pub ranks: Option<RankTest>,
    /// What must be said beside.
    pub notes: Vec<Note>,
}

impl Analysis {
    /// Analyses the readings of a measure. Limits are kept from one measure to the next.
    pub fn of(
        measure: &Measure,
        readings: &[Reading],
        limits: &mut Limits,
    ) -> Result<Analysis, Refused> {
        let read = Read::of(measure, readings)?;
        let mut notes = Vec::new();
        if read.lost > 0 {
            notes.push(Note::Lost(read.lost));
        }
        if read.limits > 0 {
            notes.push(Note::Limits(read.limits));
        }
        notes.extend(read.fallen_back);
        let ranks = match measure.design {
            Design::Random => kruskal(&read.points),
            Design::Blocks => friedman(&read.points),
            Design::Latin => None,
        };
        let mut analysis = Analysis {
            scale: read.scale,
            readings: read.points.len(),
            groups: Vec::new(),
            table: None,
            spread: None,
            cv: None,
            critical: None,
            comparisons: Vec::new(),
            blocking: None,
            ranks,
            notes,
        };
        let has_sizes = read.limits == 0 && read.scale != Scale::Score;
        let fit = match has_sizes {
            true => Some(fitted(measure, &read.points)?),
            false => None,
        };
        if let Some(fit) = &fit {
            analysis.tell(fit);
            if read.scale == Scale::LogOfOneMore {
                analysis.notes.push(Note::OneMore);
            }
        }
        analysis.groups = group::groups(measure, &read, fit.as_ref(), limits);
        versus::compare(&mut analysis, measure, &read, fit.as_ref(), limits);
        Ok(analysis)
    }

    fn tell(&mut self, fit: &Fit) {
        let line = |term: super::fit::Term| Line {
            degrees: term.degrees,
            squares: term.squares,
            f: if fit.is_exact {
                None
            } else {
                term.f(&fit.error)
            },
        };
        self.table = Some(Table {
            treatments: line(fit.treatments),
            blocks: fit.blocks.map(line),
            columns: fit.columns.map(line),
            error_degrees: fit.error.degrees,
            error_squares: fit.error.squares,
            mean: fit.mean,
        });
        self.blocking = worth_of_blocks(fit);
        if fit.is_exact || fit.error.degrees == 0 {
            return;
        }
        self.spread = fit.spread();
        self.cv = self.spread.and_then(|spread| match self.scale {
            Scale::Log => Some(super::power::share_spread(spread)),
            Scale::Raw if fit.mean > 0.0 => Some(spread / fit.mean),
            _ => None,
        });
        if fit.error.degrees <= FEW_DEGREES {
            self.notes.push(Note::Few(fit.error.degrees));
        }
    }
}

/// Shuffles of a measure, on the scale that it is compared on; by ranks where some readings are
/// limits alone. None where containers stand in a square, nothing can change places, or no treatment
/// has more than one container: there chance is not told.
pub fn permutation(
    measure: &Measure,
    readings: &[Reading],
    question: Question,
    seed: u64,
) -> Option<Permutation> {
    let mut points = Read::of(measure, readings).ok()?.points;
    let mut counts = vec![0_usize; measure.treatments];
    for point in &points {
        counts[point.treatment] += 1;
    }
    if counts.iter().all(|count| *count <= 1) {
        return None;
    }
    if points.iter().any(|point| point.value.is_infinite()) {
        let values: Vec<f64> = points.iter().map(|point| point.value).collect();
        for (point, rank) in points.iter_mut().zip(mid_ranks(&values)) {
            point.value = rank;
        }
    }
    Permutation::of(measure.design, &points, measure.control, question, seed)
}

fn fitted(measure: &Measure, points: &[Point]) -> Result<Fit, Refused> {
    let fit = Fit::of(measure.design, points, measure.treatments, measure.control);
    fit.map_err(|no| match no {
        NoFit::Empty => Refused::NoReadings,
        NoFit::NotANumber(at) => Refused::NotFinite(at),
        NoFit::NoSuchTreatment(at) => Refused::NoSuchTreatment(at),
        NoFit::TooLarge => Refused::TooLarge,
    })
}
