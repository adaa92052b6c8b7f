//! What can be measured in a trial: unit, scale, which way is good, the difference that matters, how
//! far one reading errs, and what a reading can be.

use crate::source::Mark;

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
    /// percentage points of counts of so many sown, else in its unit.
    pub matters: Option<f64>,
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
            error: None,
            error_from: None,
            limits,
            decimals,
            whole: matches!(scale, Scale::Count),
            of_sown: false,
            taken: Taken::Last,
        }
    }

    const fn matters(self, matters: f64) -> Self {
        Measure {
            matters: Some(matters),
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

    /// Whether sub-samples are averaged by their logarithms: times, rates and conductivities, which
    /// spread by factors within one container too.
    pub fn averages_logs(&self) -> bool {
        self.scale == Scale::Log && matches!(self.id, "infiltration_min" | "ksat_cm_h")
    }
}

/// Mass on a kitchen scale, g (common practice).
const SCALE_G: Error = Error::By(1.0);

/// Those that have a name in tables. Differences that matter: 20 % of yield, 30 % of infiltration,
/// 0.1 g/cm3 and 0.5 of pH are common practice, the others a choice. Limits are a choice but for
/// those of scores, shares and pH.
pub const MEASURES: &[Measure<'static>] = &[
    Measure::of("emerged_count", "", Scale::Count, Good::More, (0.0, 10_000.0), 0)
        .matters(20.0)
        .of_sown(),
    Measure::of("plants_count", "", Scale::Count, Good::More, (0.0, 10_000.0), 0),
    // 1 dying, 2 clearly poor, 3 ordinary, 4 good, 5 outstanding; always the same scorer.
    Measure::of("vigour_1to5", "", Scale::Score, Good::More, (1.0, 5.0), 0)
        .matters(1.0),
    Measure::of("height_cm", "cm", Scale::Log, Good::More, (0.1, 1000.0), 1)
        .matters(20.0)
        .errs(Error::By(0.5), PRACTICE),
    Measure::of("top_fresh_g", "g", Scale::Log, Good::More, (0.0, 100_000.0), 0)
        .matters(20.0)
        .errs(SCALE_G, PRACTICE)
        .summed(),
    Measure::of("root_fresh_g", "g", Scale::Log, Good::More, (0.0, 100_000.0), 0)
        .matters(20.0)
        .errs(SCALE_G, PRACTICE)
        .summed(),
    Measure::of("marketable_g", "g", Scale::Log, Good::More, (0.0, 100_000.0), 0)
        .matters(20.0)
        .errs(SCALE_G, PRACTICE)
        .summed(),
    Measure::of("defect_count", "", Scale::Count, Good::Less, (0.0, 10_000.0), 0).summed(),
    Measure::of("container_kg", "kg", Scale::Raw, Good::Neither, (0.0, 2000.0), 2)
        .errs(Error::By(0.01), PRACTICE),
    Measure::of("water_l", "L", Scale::Raw, Good::Neither, (0.0, 10_000.0), 2)
        .errs(Error::By(0.05), PRACTICE)
        .summed(),
    // What is spilt and where the line is filled to: a larger share in small pots.
    Measure::of("drained_ml", "mL", Scale::Log, Good::More, (0.0, 1e6), 0)
        .matters(20.0)
        .errs(Error::By(10.0), PRACTICE),
    Measure::of("air_space", "mL/mL", Scale::Raw, Good::More, (0.0, 1.0), 3)
        .matters(0.02)
        .errs(Error::By(0.01), PRACTICE),
    Measure::of("total_porosity", "mL/mL", Scale::Raw, Good::More, (0.0, 1.0), 3)
        .matters(0.03)
        .errs(Error::By(0.025), PRACTICE),
    // Instruments alone err by 0.02; cans side by side in one bed differ by this.
    Measure::of("bulk_density_g_cm3", "g/cm3", Scale::Raw, Good::Less, (0.02, 2.7), 2)
        .matters(0.1)
        .errs(Error::By(0.06), PRACTICE),
    Measure::of("water_g_g", "g/g", Scale::Raw, Good::Neither, (0.0, 10.0), 3)
        .errs(Error::By(0.01), PRACTICE),
    Measure::of("infiltration_min", "min", Scale::Log, Good::Less, (0.01, 100_000.0), 1)
        .matters(30.0)
        .errs(Error::By(0.25), PRACTICE),
    Measure::of("ksat_cm_h", "cm/h", Scale::Log, Good::More, (1e-5, 100_000.0), 2)
        .matters(30.0),
    // Herrick's classes of crumbs in water.
    Measure::of("slake_0to6", "", Scale::Score, Good::More, (0.0, 6.0), 0).matters(1.0),
    // The milky halo of crumbs after two hours.
    Measure::of("halo_0to4", "", Scale::Score, Good::Less, (0.0, 4.0), 0).matters(1.0),
    Measure::of("flag_cm", "cm", Scale::Raw, Good::More, (0.0, 200.0), 0)
        .matters(5.0)
        .errs(Error::By(3.0), PRACTICE),
    Measure::of("surface_depth_cm", "cm", Scale::Raw, Good::Less, (0.0, 200.0), 1)
        .matters(2.0)
        .errs(Error::By(0.5), PRACTICE),
    Measure::of("ph", "", Scale::Raw, Good::Neither, (0.0, 14.0), 1)
        .matters(0.5)
        .errs(Error::By(0.5), PRACTICE),
    // The ways from 1:1 to the saturation extract lie apart by factors of 1.6 to 3.35.
    Measure::of("ec_ds_m", "dS/m", Scale::Log, Good::Neither, (0.001, 200.0), 2)
        .matters(50.0)
        .errs(
            Error::Share(0.3),
            From {
                source: "PLOS ONE 13(6):e0198290, 2018, table 2",
                mark: Mark::Verified,
            },
        ),
    Measure::of("light_hours", "h", Scale::Raw, Good::Neither, (0.0, 24.0), 1)
        .errs(Error::By(0.5), PRACTICE),
];

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
    /// The least difference that matters, as in [`Measure::matters`].
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

/// Spread of a count that chance alone makes, % of it: of so many seeds, each of which comes up with
/// a probability (binomial). None where nothing is sown or nothing can come up.
pub fn count_cv_pct(probability: f64, seeds: f64) -> Option<f64> {
    let possible = probability > 0.0 && probability <= 1.0 && seeds > 0.0 && seeds.is_finite();
    possible.then(|| 100.0 * libm::sqrt((1.0 - probability) / (probability * seeds)))
}

/// A spread between containers treated alike that can be planned with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UsualSpread {
    /// Of what.
    pub of: Spreads,
    /// Standard deviation over mean, %: least, usual, most.
    pub cv_pct: [f64; 3],
    /// Where it comes from.
    pub from: From,
}

/// Of what a usual spread is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spreads {
    /// Mass of a crop, four plants or more in a container.
    ManyPlants,
    /// Mass of a crop, one plant in each.
    OnePlant,
    /// Mass of a leafy crop in pots under glass.
    UnderGlass,
    /// Conductivity of soil full of water.
    Conductivity,
    /// Time of a ring or a flooded container.
    RingTime,
    /// Density.
    Density,
}

/// Spreads to plan with where the user knows none.
pub const USUAL_SPREADS: [UsualSpread; 6] = [
    spread(Spreads::ManyPlants, [15.0, 20.0, 35.0], PRACTICE),
    spread(Spreads::OnePlant, [30.0, 35.0, 40.0], PRACTICE),
    spread(
        Spreads::UnderGlass,
        [11.1, 11.1, 11.1],
        From {
            source: "lettuce in four mixes, seven pots each, open data; computed here",
            mark: Mark::Verified,
        },
    ),
    spread(
        Spreads::Conductivity,
        [70.0, 70.0, 100.0],
        From {
            source: "Kargas et al. 2021, Geosciences 11:105: 76 cores of one loam, over 70",
            mark: Mark::Verified,
        },
    ),
    spread(Spreads::RingTime, [40.0, 60.0, 80.0], PRACTICE),
    spread(Spreads::Density, [5.0, 7.0, 10.0], PRACTICE),
];

const fn spread(of: Spreads, cv_pct: [f64; 3], from: From) -> UsualSpread {
    UsualSpread { of, cv_pct, from }
}

/// The spread to plan with for a measure, where something is known.
pub fn usual_spread(id: &str) -> Option<UsualSpread> {
    let of = match id {
        "top_fresh_g" | "root_fresh_g" | "marketable_g" | "height_cm" => Spreads::ManyPlants,
        "ksat_cm_h" => Spreads::Conductivity,
        "infiltration_min" => Spreads::RingTime,
        "bulk_density_g_cm3" => Spreads::Density,
        _ => return None,
    };
    USUAL_SPREADS.iter().copied().find(|known| known.of == of)
}
