//! Means by least squares: a reading is the sum of a mean, a block (or row and column) and a
//! treatment. Containers may be missing and numbers unequal.

mod solve;

use super::power::{Design, MOST_TREATMENTS};
use solve::{Factor, Model, two_pass_mean};

/// Last digits of the greatest reading within which readings do not differ.
const SAME: f64 = 8.0 * f64::EPSILON;
/// Greater readings have no squares.
const GREATEST: f64 = 1e150;
/// A treatment's difference from the control is told where nothing that was left out could take its
/// place; what rounding leaves of that.
const TAKES_PLACE: f64 = 1e-6;

/// One reading with its place: `block` is the row of a square.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Which treatment.
    pub treatment: usize,
    /// Which block or row.
    pub block: usize,
    /// Which column of a square.
    pub column: usize,
    /// The reading, on the scale that it is fitted on.
    pub value: f64,
}

/// Why nothing was fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoFit {
    /// There are no readings.
    Empty,
    /// This reading is no number, or none that has a square.
    NotANumber(usize),
    /// This reading names a treatment beyond the last.
    NoSuchTreatment(usize),
    /// So many treatments and blocks are no trial.
    TooLarge,
}

/// What a factor explains beyond the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// Its degrees of freedom.
    pub degrees: usize,
    /// Its sum of squares.
    pub squares: f64,
}

impl Term {
    /// The mean square; none without degrees of freedom.
    pub fn mean_square(&self) -> Option<f64> {
        (self.degrees > 0).then(|| self.squares / self.degrees as f64)
    }

    /// F against what is left, and the chance of one as large; none where nothing is left.
    pub fn f(&self, error: &Term) -> Option<[f64; 2]> {
        let (own, left) = (self.mean_square()?, error.mean_square()?);
        if left <= 0.0 {
            return None;
        }
        let f = own / left;
        let degrees = [self.degrees as f64, error.degrees as f64];
        Some([f, super::chance::f_above(f, degrees)])
    }
}

/// A treatment less the control.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// By least squares.
    pub estimate: f64,
    /// Its variance over that of one container.
    pub variance: f64,
}

/// Why a treatment is not compared with the control.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dropped {
    /// It has no readings.
    Lost,
    /// The control has none.
    NoControl,
    /// It stands apart: no chain of shared blocks leads to the control.
    Apart,
}

/// A fitted measure.
#[derive(Clone, Debug)]
pub struct Fit {
    /// The plain mean of all readings.
    pub mean: f64,
    /// Around it.
    pub total_squares: f64,
    /// Treatments beyond blocks.
    pub treatments: Term,
    /// Blocks or rows beyond treatments and columns.
    pub blocks: Option<Term>,
    /// Columns beyond treatments and rows.
    pub columns: Option<Term>,
    /// What is left, by which the spread is told.
    pub error: Term,
    /// By treatment, less the control; that of the control is nothing.
    pub differences: Vec<Result<Difference, Dropped>>,
    /// What each reading lies off.
    pub residuals: Vec<f64>,
    /// Whether readings treated alike differ in no digit, so that there is no spread to judge by.
    pub is_exact: bool,
    effects: Effects,
}

/// What a container would read: the level of its block, and what column and treatment add.
#[derive(Clone, Debug)]
struct Effects {
    blocks: Vec<(usize, f64)>,
    columns: Vec<(usize, f64)>,
    treatments: Vec<(usize, f64)>,
}

impl Fit {
    /// Fits readings of so many treatments; `control` is what the others are compared with.
    pub fn of(
        design: Design,
        points: &[Point],
        treatments: usize,
        control: usize,
    ) -> Result<Fit, NoFit> {
        check(points, treatments)?;
        let factor = |take: fn(&Point) -> usize| Factor::of(points.iter().map(take).collect());
        let treatment = factor(|point| point.treatment);
        let block = match design {
            Design::Random => factor(|_| 0),
            Design::Blocks | Design::Latin => factor(|point| point.block),
        };
        let column = (design == Design::Latin).then(|| factor(|point| point.column));

        let mean = two_pass_mean(points.iter().map(|point| point.value));
        let centred: Vec<f64> = points.iter().map(|point| point.value - mean).collect();
        let total_squares = centred.iter().map(|value| value * value).sum();

        // Columns of a square first, so that treatments are told beyond them.
        let base = treatment.level_of(control);
        let mut model = Model::new(&block, &centred);
        if let Some(column) = &column {
            model.add(column, 0);
        }
        let first = model.count();
        model.add(&treatment, base.unwrap_or(0));
        let solved = model.solve().ok_or(NoFit::TooLarge)?;
        let rank = block.levels() + solved.kept.len();
        let error = Term {
            degrees: points.len().saturating_sub(rank),
            squares: solved.rest,
        };

        // A factor is worth what the fit loses without it.
        let worth = |absorbed: &Factor, also: Option<&Factor>| {
            let mut model = Model::new(absorbed, &centred);
            if let Some(also) = also {
                model.add(also, 0);
            }
            let without = model.solve()?;
            Some(Term {
                degrees: rank.saturating_sub(absorbed.levels() + without.kept.len()),
                squares: (without.rest - error.squares).max(0.0),
            })
        };
        let blocks = (design != Design::Random)
            .then(|| worth(&treatment, column.as_ref()))
            .flatten();
        let columns = column
            .as_ref()
            .and_then(|_| worth(&treatment, Some(&block)));

        let own = |at: usize| solved.coefficients.get(at).copied().unwrap_or(0.0);
        let numbers = |of: &Factor, base: usize, first: usize| -> Vec<(usize, f64)> {
            let value = |level: usize| match level.cmp(&base) {
                std::cmp::Ordering::Less => own(first + level),
                std::cmp::Ordering::Equal => 0.0,
                std::cmp::Ordering::Greater => own(first + level - 1),
            };
            let labels = of.labels.iter().enumerate();
            labels
                .map(|(level, label)| (*label, value(level)))
                .collect()
        };
        let treatment_effects = numbers(&treatment, base.unwrap_or(0), first);
        let column_effects = column.as_ref().map(|of| numbers(of, 0, 0));
        let mut effects = Effects {
            blocks: Vec::new(),
            columns: column_effects.unwrap_or_else(|| vec![(0, 0.0)]),
            treatments: treatment_effects,
        };
        let mut sums = vec![(0.0, 0.0); block.levels()];
        let mut rests = Vec::with_capacity(points.len());
        for (at, point) in points.iter().enumerate() {
            let column = if column.is_some() { point.column } else { 0 };
            let added = found(&effects.columns, column).unwrap_or(0.0)
                + found(&effects.treatments, point.treatment).unwrap_or(0.0);
            let rest = centred[at] - added;
            rests.push(rest);
            let (sum, count) = &mut sums[block.of[at]];
            *sum += rest;
            *count += 1.0;
        }
        let levels: Vec<f64> = sums.iter().map(|(sum, count)| sum / count).collect();
        let residuals = rests.iter().enumerate();
        let residuals = residuals.map(|(at, rest)| rest - levels[block.of[at]]);
        let residuals: Vec<f64> = residuals.collect();
        let levels = block.labels.iter().zip(&levels);
        effects.blocks = levels
            .map(|(label, level)| (*label, mean + level))
            .collect();

        let differences = (0..treatments)
            .map(|number| {
                let Some(level) = treatment.level_of(number) else {
                    return Err(Dropped::Lost);
                };
                let base = base.ok_or(Dropped::NoControl)?;
                if level == base {
                    return Ok(Difference {
                        estimate: 0.0,
                        variance: 0.0,
                    });
                }
                let at = first + if level < base { level } else { level - 1 };
                let variance = solved.variances.get(at).copied().flatten();
                let variance = variance.ok_or(Dropped::Apart)?;
                Ok(Difference {
                    estimate: own(at),
                    variance,
                })
            })
            .collect();

        let greatest = points.iter().map(|point| point.value.abs());
        let same = SAME * greatest.fold(0.0, f64::max);
        Ok(Fit {
            mean,
            total_squares,
            treatments: Term {
                degrees: solved.kept.iter().filter(|at| **at >= first).count(),
                squares: solved.squares_from(first),
            },
            blocks,
            columns,
            error,
            differences,
            residuals,
            is_exact: error.squares <= points.len() as f64 * same * same,
            effects,
        })
    }

    /// The spread between containers treated alike; none where nothing tells it.
    pub fn spread(&self) -> Option<f64> {
        self.error.mean_square().map(f64::sqrt)
    }

    /// What a treatment would read in the mean of all blocks and columns; where all stand once, its
    /// plain mean.
    pub fn adjusted_mean(&self, treatment: usize) -> Option<f64> {
        let mean =
            |of: &[(usize, f64)]| of.iter().map(|(_, value)| value).sum::<f64>() / of.len() as f64;
        let own = found(&self.effects.treatments, treatment)?;
        Some(mean(&self.effects.blocks) + mean(&self.effects.columns) + own)
    }

    /// What a container in this place would read, such as one that was lost. Where blocks or
    /// columns do not stand, any number of them does.
    pub fn predicted(&self, treatment: usize, block: usize, column: usize) -> Option<f64> {
        let place = |of: &[(usize, f64)], label| {
            let label = if of.len() == 1 { of[0].0 } else { label };
            found(of, label)
        };
        Some(
            place(&self.effects.blocks, block)?
                + place(&self.effects.columns, column)?
                + found(&self.effects.treatments, treatment)?,
        )
    }
}

fn found(of: &[(usize, f64)], label: usize) -> Option<f64> {
    let at = of.binary_search_by_key(&label, |(known, _)| *known).ok()?;
    of.get(at).map(|(_, value)| *value)
}

fn check(points: &[Point], treatments: usize) -> Result<(), NoFit> {
    if points.is_empty() {
        return Err(NoFit::Empty);
    }
    if treatments > MOST_TREATMENTS {
        return Err(NoFit::TooLarge);
    }
    for (at, point) in points.iter().enumerate() {
        if point.value.is_nan() || point.value.abs() >= GREATEST {
            return Err(NoFit::NotANumber(at));
        }
        if point.treatment >= treatments {
            return Err(NoFit::NoSuchTreatment(at));
        }
    }
    Ok(())
}
