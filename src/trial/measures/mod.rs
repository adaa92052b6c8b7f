//! What can be measured in a trial: unit, scale, which way is good, the difference that matters, how
//! far one reading errs, and what a reading can be.

mod list;
mod spreads;

use crate::source::Mark;
pub use list::MEASURES;
pub use spreads::{Spreads, USUAL_SPREADS, UsualSpread, count_cv_pct, usual_spread};

/// The scale on which containers are compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// By logarithms: masses, times and rates, where additions act as factors.
    Log,
    /// As it is.
    Raw,
    /// Classes: medians and shuffles, no percentages.
    Score,
    /// Counts; of so many sown as percentages.
    Count,
}

impl Scale {
    /// All of them.
    pub const ALL: &'static [Scale] = &[Scale::Log, Scale::Raw, Scale::Score, Scale::Count];

    /// Its word in the document.
    pub fn spelling(self) -> &'static str {
        match self {
            Scale::Log => "log",
            Scale::Raw => "raw",
            Scale::Score => "score",
            Scale::Count => "count",
        }
    }
}

/// Which way is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Good {
    /// More is.
    More,
    /// Less is.
    Less,
    /// Neither.
    Neither,
}

impl Good {
    /// All of them.
    pub const ALL: &'static [Good] = &[Good::More, Good::Less, Good::Neither];

    /// Its word in the document.
    pub fn spelling(self) -> &'static str {
        match self {
            Good::More => "more",
            Good::Less => "less",
            Good::Neither => "neither",
        }
    }
}

/// What becomes of several readings of a container on different days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// The last counts.
    Last,
    /// They add up, as several pickings do.
    Sum,
}

/// How far one reading errs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Error {
    /// By so much, in the measure's unit.
    By(f64),
    /// By such a share of it.
    Share(f64),
}

impl Error {
    /// In the measure's unit, at a value.
    pub fn at(self, value: f64) -> f64 {
        match self {
            Error::By(error) => error,
            Error::Share(share) => share * value.abs(),
        }
    }
}

/// Where a number of a measure comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct From {
    /// Author and year, or how it is known.
    pub source: &'static str,
    /// How it was come by.
    pub mark: Mark,
}

/// A measure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure<'a> {
    /// Its name in tables.
    pub id: &'a str,
    /// Its unit; empty for counts, scores and pH.
    pub unit: &'a str,
    /// How containers are compared.
    pub scale: Scale,
    /// Which way is good.
    pub good: Good,
    /// The least difference that matters where nothing else is said: % on the scale of logarithms,
    /// percentage points of counts of so many sown, else in its unit. Counts of so many sown have
    /// none as long as nobody knows how many were.
    pub matters: Option<f64>,
    /// Where that difference comes from; none of what the user said.
    pub matters_from: Option<From>,
    /// Standard error of one reading with what a gardener has, where something is known of it.
    pub error: Option<Error>,
    /// Where that error comes from.
    pub error_from: Option<From>,
    /// Least and greatest value accepted.
    pub limits: (f64, f64),
    /// Decimals that are shown.
    pub decimals: usize,
    /// Whether only whole numbers are.
    pub whole: bool,
    /// Whether it counts what was sown.
    pub of_sown: bool,
    /// What several days come to.
    pub taken: Taken,
}

const PRACTICE: From = From {
    source: "common practice",
    mark: Mark::Practice,
};
/// What nobody else says, chosen here.
const CHOICE: From = From {
    source: "a choice",
    mark: Mark::Practice,
};

impl<'a> Measure<'a> {
    const fn of(
        id: &'a str,
        unit: &'a str,
        scale: Scale,
        good: Good,
        limits: (f64, f64),
        decimals: usize,
    ) -> Measure<'a> {
        Measure {
            id,
            unit,
            scale,
            good,
            matters: None,
            matters_from: None,
            error: None,
            error_from: None,
            limits,
            decimals,
            whole: matches!(scale, Scale::Count),
            of_sown: false,
            taken: Taken::Last,
        }
    }

    const fn matters(self, matters: f64, from: From) -> Self {
        Measure {
            matters: Some(matters),
            matters_from: Some(from),
            ..self
        }
    }

    const fn errs(self, error: Error, from: From) -> Self {
        Measure {
            error: Some(error),
            error_from: Some(from),
            ..self
        }
    }

    const fn of_sown(self) -> Self {
        Measure {
            of_sown: true,
            ..self
        }
    }

    const fn summed(self) -> Self {
        Measure {
            taken: Taken::Sum,
            ..self
        }
    }

    /// Whether a difference that matters is asked of it: scores have an order and no sizes.
    pub fn asks_matters(&self) -> bool {
        self.scale != Scale::Score
    }

    /// Whether sub-samples are averaged by their logarithms: times, rates and conductivities, which
    /// spread by factors within one container too.
    pub fn averages_logs(&self) -> bool {
        self.scale == Scale::Log && matches!(self.id, "infiltration_min" | "ksat_cm_h")
    }
}

/// Ways to read pH and how far each errs (common practice): a meter calibrated that day, strips, a
/// kit of dyes as good as they are, a kit as bad as they are. A prong without liquid tells nothing.
pub const PH_WAYS: [(&str, f64); 4] = [
    ("meter", 0.2),
    ("strip", 0.4),
    ("dye_kit", 0.5),
    ("poor_dye_kit", 1.0),
];

/// The least difference that two single readings can support, of a standard error: 1.96 times that
/// of a difference.
pub fn least_difference(error: f64) -> f64 {
    1.96 * std::f64::consts::SQRT_2 * error
}

/// Fewest letters a measure's name in tables may have, and most.
pub const ID_LETTERS: (usize, usize) = (1, 40);

/// A measure of the user's own.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnMeasure {
    /// Its name in tables: letters, digits and `_`.
    pub id: String,
    /// What it is called.
    pub name: Option<String>,
    /// Its unit.
    pub unit: String,
    /// How containers are compared.
    pub scale: Scale,
    /// Which way is good.
    pub good: Good,
    /// The least difference that matters, as in [`Measure::matters`](field@Measure::matters).
    pub matters: Option<f64>,
    /// Standard error of one reading, in its unit.
    pub error: Option<f64>,
    /// Least and greatest value accepted.
    pub limits: (f64, f64),
    /// Decimals that are shown.
    pub decimals: usize,
    /// Fields of a later release.
    pub kept: crate::recipe::Kept,
}

/// What the values of an own measure may be where it does not say.
pub const OWN_LIMITS: (f64, f64) = (-1e9, 1e9);

impl OwnMeasure {
    /// As any measure.
    pub fn measure(&self) -> Measure<'_> {
        let (low, high) = self.limits;
        // A logarithm needs something.
        let low = if self.scale == Scale::Log || self.scale == Scale::Count {
            low.max(0.0)
        } else {
            low
        };
        let mut measure = Measure::of(
            &self.id,
            &self.unit,
            self.scale,
            self.good,
            (low, high),
            self.decimals,
        );
        measure.matters = self.matters;
        measure.error = self.error.map(Error::By);
        measure
    }
}

/// Whether a text can be the name of a measure.
pub fn is_id(text: &str) -> bool {
    let (least, most) = ID_LETTERS;
    (least..=most).contains(&text.len())
        && text
            .bytes()
            .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_')
}

/// The measure of a name: the user's own first.
pub fn find<'a>(own: &'a [OwnMeasure], id: &str) -> Option<Measure<'a>> {
    let mine = own.iter().find(|measure| measure.id == id);
    mine.map(OwnMeasure::measure).or_else(|| {
        let mut all = MEASURES.iter().copied();
        all.find(|measure| measure.id == id)
    })
}
