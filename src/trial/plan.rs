//! What is compared: treatments and controls, doses, containers or strips, the crop; the user's own
//! guess. What comes of them is in [`super::doses`].

use super::date::Date;
use super::layout::{Design, Layout, LayoutFault, Site, Wanted};
use super::mattering::SaidMatters;
use super::measures::{Measure, OwnMeasure, find};
use super::power;
use super::records::{Lost, Record};
use crate::figure::Figure;
use crate::quantity::round_significant;
use crate::recipe::{Amount, Kept};

/// What a treatment does.
#[derive(Clone, Debug, PartialEq)]
pub enum Deed {
    /// Nothing: the ground as it was, not even broken up.
    Untouched,
    /// Broken up, sieved and filled like all others, and nothing added. It tells the addition from
    /// the digging.
    Dug,
    /// One addition.
    Addition {
        /// Id of a material of the catalogue or of the recipe.
        material: String,
    },
    /// The recipe as it is.
    Blend,
}

impl Deed {
    /// Words in the document, in this order.
    pub const SPELLINGS: [&'static str; 4] = ["untouched", "dug", "addition", "blend"];

    /// Its word in the document.
    pub fn spelling(&self) -> &'static str {
        let index = match self {
            Deed::Untouched => 0,
            Deed::Dug => 1,
            Deed::Addition { .. } => 2,
            Deed::Blend => 3,
        };
        Self::SPELLINGS[index]
    }

    /// Whether it is something to compare with.
    pub fn is_control(&self) -> bool {
        matches!(self, Deed::Untouched | Deed::Dug)
    }
}

/// Which way the user thinks the primary measure will go, against the control.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// More.
    More,
    /// No difference that matters.
    Same,
    /// Less.
    Less,
}

impl Way {
    /// All of them.
    pub const ALL: &'static [Way] = &[Way::More, Way::Same, Way::Less];

    /// Its word in the document.
    pub fn spelling(self) -> &'static str {
        match self {
            Way::More => "more",
            Way::Same => "same",
            Way::Less => "less",
        }
    }
}

/// The user's own guess.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// Which way.
    pub way: Way,
    /// By how much, % of the control.
    pub by_pct: Option<f64>,
}

/// Limits of a guess, %.
pub const GUESS_LIMITS_PCT: (f64, f64) = (0.0, 1000.0);

/// Something that the model knows of a treatment and that can be measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Predicted {
    /// Air once drained, of the volume; in a container by its height.
    AirSpace,
    /// Pore space, of the volume.
    PoreSpace,
    /// Dry density, g/cm3.
    Density,
    /// Water that plants can take, of the volume.
    PlantWater,
    /// How fast it drains when it is full, cm/h.
    Drainage,
    /// Time that 25 mm of water take then, min.
    Infiltration,
    /// pH.
    Ph,
    /// Conductivity at 1:5 by mass, dS/m.
    Salt,
    /// The container, watered and drained, kg.
    Weight,
}

impl Predicted {
    /// All of them.
    pub const ALL: &'static [Predicted] = &[
        Predicted::AirSpace,
        Predicted::PoreSpace,
        Predicted::Density,
        Predicted::PlantWater,
        Predicted::Drainage,
        Predicted::Infiltration,
        Predicted::Ph,
        Predicted::Salt,
        Predicted::Weight,
    ];

    /// Its word in the document: that of the measure it can be held against.
    pub fn spelling(self) -> &'static str {
        match self {
            Predicted::AirSpace => "air_space",
            Predicted::PoreSpace => "total_porosity",
            Predicted::Density => "bulk_density_g_cm3",
            Predicted::PlantWater => "plant_water",
            Predicted::Drainage => "ksat_cm_h",
            Predicted::Infiltration => "infiltration_min",
            Predicted::Ph => "ph",
            Predicted::Salt => "ec_ds_m",
            Predicted::Weight => "container_kg",
        }
    }

    /// What of it is measured; nothing measures plant water at home.
    pub fn measure(self) -> Option<Measure<'static>> {
        find(&[], self.spelling())
    }
}

/// Digits that are stored of what the model expects: more than its ranges bear, and a short link.
const DIGITS: usize = 4;

/// A treatment.
#[derive(Clone, Debug, PartialEq)]
pub struct Treatment {
    /// What is done.
    pub deed: Deed,
    /// What the user calls it.
    pub name: Option<String>,
    /// How much for each container, where it is not the trial's dose.
    pub dose: Option<Amount>,
    /// Containers of it in a block, where it is not one.
    pub copies: Option<usize>,
    /// The user's guess.
    pub guess: Option<Guess>,
    /// What the model expected when the plan was settled.
    pub predicted: Vec<(Predicted, Figure)>,
    /// Fields of a later release.
    pub kept: Kept,
}

impl Treatment {
    /// A treatment of which nothing else is said.
    pub fn new(deed: Deed) -> Treatment {
        Treatment {
            deed,
            name: None,
            dose: None,
            copies: None,
            guess: None,
            predicted: Vec::new(),
            kept: Kept::new(),
        }
    }

    /// One addition at the trial's dose.
    pub fn of(material: impl Into<String>) -> Treatment {
        let material = material.into();
        Treatment::new(Deed::Addition { material })
    }

    /// The same at a dose of its own. Two doses of a material are two treatments.
    #[must_use]
    pub fn at(self, dose: Amount) -> Treatment {
        Treatment {
            dose: Some(dose),
            ..self
        }
    }
}

/// What the soil stands in.
#[derive(Clone, Debug, PartialEq)]
pub enum Vessel {
    /// Containers, all alike.
    Container {
        /// Volume up to the line to which each is filled, as measured.
        volume: Amount,
        /// Height of the soil in it.
        height: Amount,
        /// What one weighs empty.
        empty: Option<Amount>,
        /// Fields of a later release.
        kept: Kept,
    },
    /// Strips of a bed, all alike.
    Strip {
        /// Area of one.
        area: Amount,
        /// How deep it is dug.
        depth: Amount,
        /// Fields of a later release.
        kept: Kept,
    },
}

/// A trial.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// What tells it from another on labels and in tables.
    pub id: String,
    /// What the user calls it.
    pub title: Option<String>,
    /// What is compared.
    pub treatments: Vec<Treatment>,
    /// In what.
    pub vessel: Vessel,
    /// How much of each addition goes into one container, as sold.
    pub dose: Option<Amount>,
    /// How containers are set out.
    pub design: Design,
    /// Blocks; completely random, how many of each.
    pub blocks: usize,
    /// The seed of the layout.
    pub seed: u64,
    /// How many stand side by side.
    pub columns: Option<usize>,
    /// What the light does there.
    pub site: Option<Site>,
    /// Whether labels hide what is in a container.
    pub blind: bool,
    /// The crop: an id of [`super::crops::CROPS`] or a name.
    pub crop: Option<String>,
    /// Its variety.
    pub variety: Option<String>,
    /// Seeds sown in each container.
    pub seeds: Option<u32>,
    /// Plants left after thinning.
    pub plants: Option<u32>,
    /// The one measure that decides.
    pub primary: Option<String>,
    /// The least difference that matters of that one, in the way of [`Measure::matters`](field@Measure::matters).
    pub matters: Option<f64>,
    /// And of others of which it was said; see [`Trial::set_matters`].
    pub said_matters: Vec<SaidMatters>,
    /// The spread between containers treated alike that is expected, %.
    pub expected_cv_pct: Option<f64>,
    /// Measures of the user's own.
    pub own_measures: Vec<OwnMeasure>,
    /// The day of sowing.
    pub start: Option<Date>,
    /// Days after it on which photographs are taken.
    pub photo_days: Vec<u32>,
    /// Containers that were lost.
    pub lost: Vec<Lost>,
    /// What was measured.
    pub records: Vec<Record>,
    /// What else is to be remembered.
    pub notes: Option<String>,
    /// Fields of a later release.
    pub kept: Kept,
}

/// How far a trial has come, as far as foretelling goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Nothing is foretold and nothing measured.
    Planned,
    /// What the model expects is stored, and nothing is measured: guesses can still change.
    Foretold,
    /// Something is measured, and what was foretold stood before it.
    Measured,
    /// Something is measured, and nothing was foretold.
    MeasuredUnforetold,
}

/// Why something of a plan cannot be changed any more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Locked {
    /// There is a record.
    ByRecords {
        /// How many.
        records: usize,
    },
    /// There is no such treatment.
    NoTreatment {
        /// How many there are.
        treatments: usize,
    },
}

/// A trial hardly lasts so many days from its sowing (a choice: a year and a month).
pub const LONGEST_DAYS: i32 = 400;

/// What is odd about a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayAdvice {
    /// A record is of a day before the sowing.
    BeforeSowing {
        /// How many days.
        days: i32,
    },
    /// It is long after the sowing.
    LongAfter {
        /// How many days.
        days: i32,
    },
    /// It is still to come.
    ToCome,
    /// The day of sowing is after the first record.
    SownAfter {
        /// The day of the first record.
        first: Date,
    },
}

/// Days of photographs of a crop of so many days: sowing, every week, harvest (common practice).
pub fn usual_photo_days(harvest_days: f64) -> Vec<u32> {
    const WEEK: u32 = 7;
    // A year of weeks is more than any trial has.
    let last = if harvest_days > 0.0 {
        harvest_days.min(350.0) as u32
    } else {
        0
    };
    let mut days: Vec<u32> = (0..=last / WEEK).map(|week| week * WEEK).collect();
    if last % WEEK != 0 {
        days.push(last);
    }
    days
}

impl Trial {
    /// A trial of treatments in a vessel, with the usual rest.
    pub fn new(treatments: Vec<Treatment>, vessel: Vessel, seed: u64) -> Trial {
        Trial {
            id: "T1".to_owned(),
            title: None,
            treatments,
            vessel,
            dose: None,
            design: Design::Blocks,
            blocks: super::layout::USUAL_BLOCKS.0,
            seed,
            columns: None,
            site: None,
            blind: true,
            crop: None,
            variety: None,
            seeds: None,
            plants: None,
            primary: None,
            matters: None,
            said_matters: Vec::new(),
            expected_cv_pct: None,
            own_measures: Vec::new(),
            start: None,
            photo_days: Vec::new(),
            lost: Vec::new(),
            records: Vec::new(),
            notes: None,
            kept: Kept::new(),
        }
    }

    /// What its layout is drawn for.
    pub fn wanted(&self) -> Wanted {
        let copies = self.treatments.iter();
        Wanted {
            design: self.design,
            copies: copies
                .map(|treatment| treatment.copies.unwrap_or(1))
                .collect(),
            blocks: self.blocks,
            seed: self.seed,
            columns: self.columns,
        }
    }

    /// Its layout.
    ///
    /// # Errors
    /// It cannot be set out.
    pub fn layout(&self) -> Result<Layout, LayoutFault> {
        Layout::of(&self.wanted())
    }

    /// The control that additions are held against: what was dug and got nothing, else what was not
    /// touched.
    pub fn control(&self) -> Option<usize> {
        let of = |deed: &Deed| {
            let mut all = self.treatments.iter();
            all.position(|treatment| treatment.deed == *deed)
        };
        of(&Deed::Dug).or_else(|| of(&Deed::Untouched))
    }

    /// What it is to be judged by before it is sown: treatments against a control, with the fewest
    /// containers that one has. None where there is no control, or nothing beside it: then nothing is
    /// compared, so nothing can be found.
    pub fn power_plan(&self) -> Option<power::Plan> {
        let control = self.control()?;
        let wanted = self.wanted();
        let others = u32::try_from(wanted.copies.len().checked_sub(1)?).ok()?;
        let repeats = wanted.repeats();
        let each = u32::try_from(*repeats.iter().min()?).ok()?;
        let mut plan = power::Plan::even(self.design, others, each);
        if self.design == Design::Random {
            plan.control = u32::try_from(*repeats.get(control)?).ok()?;
        }
        (others > 0).then_some(plan)
    }

    /// Whether there is room for another treatment.
    pub fn has_room(&self) -> bool {
        self.treatments.len() < super::layout::TREATMENTS.1
    }

    /// What is odd about a day that something is recorded of; `today` where it is known, since there
    /// is no clock here.
    pub fn day_advice(&self, day: Date, today: Option<Date>) -> Option<DayAdvice> {
        if today.is_some_and(|today| day > today) {
            return Some(DayAdvice::ToCome);
        }
        let days = day.days_since(self.start?);
        match days {
            ..0 => Some(DayAdvice::BeforeSowing { days: -days }),
            _ if days > LONGEST_DAYS => Some(DayAdvice::LongAfter { days }),
            _ => None,
        }
    }

    /// What is odd about the days that it has: a sowing after the first record, a record long after.
    pub fn odd_days(&self) -> Vec<DayAdvice> {
        let last = self.records.iter().map(|record| record.date).max();
        let late = last.and_then(|last| self.day_advice(last, None));
        let late = late.filter(|odd| matches!(odd, DayAdvice::LongAfter { .. }));
        let sown = self.start.and_then(|start| self.start_advice(start));
        sown.into_iter().chain(late).collect()
    }

    /// What is odd about a day of sowing, where there are records already.
    pub fn start_advice(&self, start: Date) -> Option<DayAdvice> {
        let first = self.records.iter().map(|record| record.date).min()?;
        (start > first).then_some(DayAdvice::SownAfter { first })
    }

    /// A measure by its name.
    pub fn measure(&self, id: &str) -> Option<Measure<'_>> {
        find(&self.own_measures, id)
    }

    /// The measure that decides, with the difference that matters as it was told.
    pub fn primary_measure(&self) -> Option<Measure<'_>> {
        self.measure_here(self.primary.as_deref()?)
    }

    /// Days on which photographs are taken, where the day of sowing is known.
    pub fn photo_dates(&self) -> Vec<Date> {
        let days = self.photo_days.iter();
        let date = |day: &u32| self.start?.later(i32::try_from(*day).ok()?);
        days.filter_map(date).collect()
    }

    /// How far it has come.
    pub fn stage(&self) -> Stage {
        let mut all = self.treatments.iter();
        let foretold = all.any(|treatment| !treatment.predicted.is_empty());
        match (foretold, self.records.is_empty()) {
            (false, true) => Stage::Planned,
            (true, true) => Stage::Foretold,
            (true, false) => Stage::Measured,
            (false, false) => Stage::MeasuredUnforetold,
        }
    }

    /// Whether treatments, doses, layout and guesses may still change: as long as nothing is
    /// measured.
    ///
    /// # Errors
    /// Something is.
    pub fn may_change(&self) -> Result<(), Locked> {
        match self.records.len() {
            0 => Ok(()),
            records => Err(Locked::ByRecords { records }),
        }
    }

    /// Sets or clears the user's guess of a treatment.
    ///
    /// # Errors
    /// Something is measured already, or there is no such treatment.
    pub fn set_guess(&mut self, treatment: usize, guess: Option<Guess>) -> Result<(), Locked> {
        self.may_change()?;
        let treatments = self.treatments.len();
        let of = self.treatments.get_mut(treatment);
        of.ok_or(Locked::NoTreatment { treatments })?.guess = guess;
        Ok(())
    }

    /// Stores what the model expects of every treatment, before anything is measured.
    ///
    /// # Errors
    /// Something is measured already, or the lists are not one for each treatment.
    pub fn foretell(&mut self, predicted: Vec<Vec<(Predicted, Figure)>>) -> Result<(), Locked> {
        self.may_change()?;
        let treatments = self.treatments.len();
        if predicted.len() != treatments {
            return Err(Locked::NoTreatment { treatments });
        }
        let rounded = |(of, figure): (Predicted, Figure)| {
            (of, figure.map(|value| round_significant(value, DIGITS)))
        };
        for (treatment, predicted) in self.treatments.iter_mut().zip(predicted) {
            treatment.predicted = predicted.into_iter().map(rounded).collect();
        }
        Ok(())
    }
}
